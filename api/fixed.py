"""Answers that stay the same while the server runs: sent once, compressed, and then only confirmed."""

from __future__ import annotations

import gzip
import hashlib
from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import cached_property
from typing import Final

from starlette.datastructures import Headers
from starlette.requests import Request
from starlette.responses import Response

WORTH_COMPRESSING: Final = 500
"""Bytes; below that the headers weigh more."""

CODED: Final = ("image/png", "image/jpeg", "font/woff2", "application/pdf", "application/zip")
"""Media types that are compressed already."""


@dataclass(frozen=True)
class Fixed:
    """Content with its media type, and headers of its own."""

    content: bytes
    media_type: str
    more: Mapping[str, str] = field(default_factory=dict)

    def answer(self, request: Request) -> Response:
        """The content; 304 without it where the caller has it already."""
        tag = f'"{self._digest}"'
        headers = {"ETag": tag, "Vary": "Accept-Encoding", **self.more}
        if is_known(request.headers, tag):
            return Response(status_code=304, headers=headers)
        if self._gzipped is None or not _takes_gzip(request.headers):
            return Response(self.content, headers=headers, media_type=self.media_type)
        # A weak tag: the bytes sent are others, and what they mean is the same.
        coded = headers | {"ETag": f"W/{tag}", "Content-Encoding": "gzip"}
        return Response(self._gzipped, headers=coded, media_type=self.media_type)

    @cached_property
    def _digest(self) -> str:
        return hashlib.sha256(self.content).hexdigest()[:32]

    @cached_property
    def _gzipped(self) -> bytes | None:
        if len(self.content) < WORTH_COMPRESSING or self.media_type in CODED:
            return None
        return gzip.compress(self.content, mtime=0)


def is_known(headers: Headers, tag: str) -> bool:
    """Whether `If-None-Match` names the tag (RFC 9110, 13.1.2: compared weakly), or any."""
    given = [part.strip().removeprefix("W/") for part in headers.get("if-none-match", "").split(",")]
    return tag in given or given == ["*"]


def _takes_gzip(headers: Headers) -> bool:
    for part in headers.get("accept-encoding", "").split(","):
        coding, _, weight = part.strip().partition(";")
        if coding.strip().lower() in ("gzip", "*"):
            return weight.replace(" ", "") not in ("q=0", "q=0.0", "q=0.00", "q=0.000")
    return False
