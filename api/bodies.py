"""Reading a request's body: declared as JSON, bounded while it streams in."""

from __future__ import annotations

from typing import Final

from starlette.requests import Request

from soleplate.api.problems import TooLarge, WrongMediaType
from soleplate.engine.reading import LARGEST

ACCEPTED: Final = "accepted is Content-Type: application/json, in UTF-8 and not compressed"


async def read_body(request: Request, *, largest: int = LARGEST) -> bytes:
    """The body of a request; no more than `largest` bytes of it are ever held.

    Raises:
        WrongMediaType: it is not declared as plain JSON in UTF-8.
        TooLarge: it is longer than `largest`.
    """
    _require_json(request)
    declared = request.headers.get("content-length", "")
    if declared.isdecimal() and int(declared[:20]) > largest:
        raise TooLarge(f"{declared[:20]} bytes; accepted is at most {largest}")
    body = bytearray()
    async for chunk in request.stream():
        body += chunk
        if len(body) > largest:
            raise TooLarge(f"over {largest} bytes; accepted is at most that")
    return bytes(body)


def _require_json(request: Request) -> None:
    media_type, _, parameters = request.headers.get("content-type", "").partition(";")
    charset = parameters.strip().lower().replace('"', "")
    if media_type.strip().lower() != "application/json" or charset not in ("", "charset=utf-8"):
        raise WrongMediaType(f"the body is declared as {media_type.strip()[:60]!r}; {ACCEPTED}")
    if request.headers.get("content-encoding", "identity").lower() != "identity":
        raise WrongMediaType(f"the body is compressed; {ACCEPTED}")
