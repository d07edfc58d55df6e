"""The access log: a line for each call, for a person or for a program, and nothing of what was sent."""

from __future__ import annotations

import json
import sys
from collections.abc import Callable
from dataclasses import asdict, dataclass
from datetime import UTC, datetime
from typing import Final, Literal, TextIO

Form = Literal["off", "text", "json"]


@dataclass(frozen=True, slots=True)
class LoggedCall:
    """One call that is over; `status` is 0 where nobody waited for the answer."""

    request_id: str
    client: str
    method: str
    path: str
    status: int
    sent: int
    """Bytes of the answer's body."""
    took_ms: float


def access_log(
    form: Form,
    *,
    out: TextIO | None = None,
    now: Callable[[], datetime] = lambda: datetime.now(UTC),
) -> Callable[[LoggedCall], None] | None:
    """What writes a line for each call to `out`, stderr unless given; nothing where the log is off."""
    if form == "off":
        return None
    line: Final = _as_json if form == "json" else _as_text

    def write(access: LoggedCall) -> None:
        stream = out or sys.stderr
        stream.write(f"{line(now().isoformat(timespec='milliseconds'), access)}\n")
        stream.flush()

    return write


def _as_json(at: str, access: LoggedCall) -> str:
    return json.dumps({"at": at, **asdict(access)})


def _as_text(at: str, access: LoggedCall) -> str:
    # A path can hold anything once it is decoded, line ends and what a terminal obeys included.
    path = access.path.encode("unicode_escape").decode("ascii")
    return (
        f"{at} {access.client or '-'} {access.method} {path} {access.status}"
        f" {access.sent} B {access.took_ms} ms {access.request_id}"
    )
