"""How much one call may take."""

from __future__ import annotations

from typing import Final

MOST_OPEN: Final = 500
"""Connections at a time; a process may commonly have 1,024 files and connections open together."""

MOST_HEAD: Final = 65_536
"""Bytes of a request's line and headers."""

MOST_HEADERS: Final = 200
"""In one request; browsers and proxies send some dozens."""

HEAD_S: Final = 10.0
"""Seconds in which a head must have come in, whole, or a new connection be used."""

STALLED_S: Final = 30.0
"""Seconds without reading after which a caller is given up who does not take his answer."""

QUICK_S: Final = 3.0
"""Seconds after which a job is not quick."""

SLOW_S: Final = 60.0
"""Seconds of processor time after which a job is given up; the longest plan and the largest building take
less."""

WAITING_S: Final = 150.0
"""Seconds after which a job is given up that did not get that much of the processor, on a busy machine or
because it waits. What a plugin waits for it is told of long before."""

GRACE_S: Final = 15
"""Seconds that calls under way have to end when the server is stopped, unless it is told otherwise."""

MOST_PIECES: Final = 10_000
"""In one building; at a millisecond each, all that a call should take."""

MOST_PIECES_QUICK: Final = 500
"""In a building that is laid out while others wait; a small timber building has some hundreds."""

MOST_PIECES_VARIED: Final = 500
"""In a building that is laid out dozens of times over, each time a little different."""

MOST_PIECES_COMPARED: Final = 2_000
"""In each of two buildings whose pieces are paired, which takes the product of their counts."""

MOST_PLANNING_S: Final = 10.0
"""Seconds that one saw plan may take, whatever was asked for."""

MOST_VARIANT_S: Final = 0.25
"""Seconds that the plan of one variant may take; there are dozens of them."""
