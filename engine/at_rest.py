"""The garbage collector at rest while a building is laid out.

What is made then is kept, and hardly any of it lies in circles: looking through all of it again and again
finds nothing, and takes a quarter of the time of a thousand walls.
"""

from __future__ import annotations

import gc
from collections.abc import Iterator
from contextlib import contextmanager


@contextmanager
def collector_at_rest() -> Iterator[None]:
    """Within, nothing is looked for that could be freed; afterwards it is as it was."""
    worked = gc.isenabled()
    gc.disable()
    try:
        yield
    finally:
        if worked:
            gc.enable()
