"""Answers compressed for callers that take them so (RFC 9110, 8.4.1.3), where that makes them smaller."""

from __future__ import annotations

import gzip
from collections.abc import Mapping
from typing import Final

import anyio.to_thread
from starlette.requests import Request
from starlette.responses import Response

from soleplate.api.http.negotiation import takes_gzip

WORTH_COMPRESSING: Final = 500
"""Bytes; below that the headers weigh more."""

CODED: Final = ("image/png", "image/jpeg", "font/woff2", "application/pdf", "application/zip")
"""Media types that are compressed already."""

ONCE: Final = 1
"""Level for what is sent once: up to two fifths larger than at the best, in a tenth of the time."""

BEST: Final = 9
"""Level for what is sent over and over."""

LARGE: Final = 200_000
"""Bytes that are compressed in a thread, for they take some milliseconds."""


def gzipped(content: bytes, media_type: str, level: int) -> bytes | None:
    """Content compressed, the same bytes each time; `None` where that gains nothing."""
    if len(content) < WORTH_COMPRESSING or media_type in CODED:
        return None
    coded = gzip.compress(content, level, mtime=0)
    return coded if len(coded) < len(content) else None


async def fresh(
    request: Request, content: bytes, media_type: str, headers: Mapping[str, str] | None = None
) -> Response:
    """Content that was made for one call. It has no entity tag, which would be of one coding alone."""
    own = {"Vary": "Accept-Encoding", **(headers or {})}
    coded = None
    if takes_gzip(request.headers):
        if len(content) < LARGE:
            coded = gzipped(content, media_type, ONCE)
        else:
            coded = await anyio.to_thread.run_sync(gzipped, content, media_type, ONCE)
    if coded is None:
        return Response(content, headers=own, media_type=media_type)
    return Response(coded, headers=own | {"Content-Encoding": "gzip"}, media_type=media_type)
