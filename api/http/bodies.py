"""Reading a request's body: of the media type declared, bounded while it streams in."""

from __future__ import annotations

from collections.abc import Callable
from typing import Final

import anyio
from starlette.requests import Request

from soleplate.api.http.refusals import TooLarge, TooSlow, WrongMediaType
from soleplate.engine.building_file import LARGEST

JSON: Final = "application/json"

PATIENCE_S: Final = 30.0
"""For a body to come in."""


async def read_body(request: Request, *, largest: int = LARGEST, patience_s: float = PATIENCE_S) -> bytes:
    """The body of a request; no more than `largest` bytes of it are ever held.

    Raises:
        WrongMediaType: it is not declared as plain JSON in UTF-8.
        TooLarge, TooSlow: as `receive`.
    """
    require_type(request, JSON)
    body = bytearray()
    await receive(request, body.extend, largest=largest, patience_s=patience_s)
    return bytes(body)


async def receive(
    request: Request, take: Callable[[bytes], object], *, largest: int, patience_s: float
) -> None:
    """Take the body of a request as it comes in.

    Raises:
        TooLarge: it is longer than `largest` bytes.
        TooSlow: it takes longer than `patience_s` to come in.
    """
    declared = request.headers.get("content-length", "")
    if declared.isdecimal() and int(declared[:20]) > largest:
        raise TooLarge(f"{declared[:20]} bytes; accepted is at most {largest}")
    length = 0
    with anyio.move_on_after(patience_s):
        async for chunk in request.stream():
            length += len(chunk)
            if length > largest:
                raise TooLarge(f"over {largest} bytes; accepted is at most that")
            take(chunk)
        return
    raise TooSlow(f"not all of it came within {patience_s:g} s", {"Connection": "close"})


def require_type(request: Request, accepted: str) -> None:
    """Let a body pass that is declared to be of a media type, in UTF-8 and not compressed.

    Raises:
        WrongMediaType: it is not.
    """
    wanted = f"accepted is Content-Type: {accepted}, in UTF-8 and not compressed"
    media_type, _, parameters = request.headers.get("content-type", "").partition(";")
    charset = parameters.strip().lower().replace('"', "")
    if media_type.strip().lower() != accepted or charset not in ("", "charset=utf-8"):
        declared = request.headers.get("content-type", "nothing")[:80]
        raise WrongMediaType(f"the body is declared as {declared!r}; {wanted}")
    if request.headers.get("content-encoding", "identity").lower() != "identity":
        raise WrongMediaType(f"the body is compressed; {wanted}")
