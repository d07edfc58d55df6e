"""Reading a request's body: declared as JSON, bounded while it streams in."""

from __future__ import annotations

from typing import Final

import anyio
from starlette.requests import Request

from soleplate.api.refusals import TooLarge, TooSlow, WrongMediaType
from soleplate.engine.reading import LARGEST

ACCEPTED: Final = "accepted is Content-Type: application/json, in UTF-8 and not compressed"

PATIENCE_S: Final = 30.0
"""For a body to come in."""


async def read_body(request: Request, *, largest: int = LARGEST, patience_s: float = PATIENCE_S) -> bytes:
    """The body of a request; no more than `largest` bytes of it are ever held.

    Raises:
        WrongMediaType: it is not declared as plain JSON in UTF-8.
        TooLarge: it is longer than `largest`.
        TooSlow: it takes longer than `patience_s` to come in.
    """
    _require_json(request)
    declared = request.headers.get("content-length", "")
    if declared.isdecimal() and int(declared[:20]) > largest:
        raise TooLarge(f"{declared[:20]} bytes; accepted is at most {largest}")
    body = bytearray()
    with anyio.move_on_after(patience_s):
        async for chunk in request.stream():
            body += chunk
            if len(body) > largest:
                raise TooLarge(f"over {largest} bytes; accepted is at most that")
        return bytes(body)
    raise TooSlow(f"not all of it came within {patience_s:g} s", {"Connection": "close"})


def _require_json(request: Request) -> None:
    media_type, _, parameters = request.headers.get("content-type", "").partition(";")
    charset = parameters.strip().lower().replace('"', "")
    if media_type.strip().lower() != "application/json" or charset not in ("", "charset=utf-8"):
        raise WrongMediaType(f"the body is declared as {media_type.strip()[:60]!r}; {ACCEPTED}")
    if request.headers.get("content-encoding", "identity").lower() != "identity":
        raise WrongMediaType(f"the body is compressed; {ACCEPTED}")
