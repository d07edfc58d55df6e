"""Answers that stay the same while the server runs: sent once, compressed, and then only confirmed."""

from __future__ import annotations

import hashlib
from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import cached_property

from starlette.datastructures import Headers
from starlette.requests import Request
from starlette.responses import Response

from soleplate.api.http.compressing import BEST, gzipped
from soleplate.api.http.negotiation import takes_gzip


@dataclass(frozen=True)
class Fixed:
    """Content with its media type, headers of its own, and how hard it is compressed."""

    content: bytes
    media_type: str
    more: Mapping[str, str] = field(default_factory=dict)
    level: int = BEST

    def answer(self, request: Request) -> Response:
        """The content; 304 without it where the caller has it already."""
        tag = f'"{self._digest}"'
        headers = {"ETag": tag, "Vary": "Accept-Encoding", **self.more}
        if is_known(request.headers, tag):
            return Response(status_code=304, headers=headers)
        if not takes_gzip(request.headers) or self._gzipped is None:
            return Response(self.content, headers=headers, media_type=self.media_type)
        # A weak tag: the bytes sent are others, and what they mean is the same.
        coded = headers | {"ETag": f"W/{tag}", "Content-Encoding": "gzip"}
        return Response(self._gzipped, headers=coded, media_type=self.media_type)

    @cached_property
    def _digest(self) -> str:
        return hashlib.sha256(self.content).hexdigest()[:32]

    @cached_property
    def _gzipped(self) -> bytes | None:
        return gzipped(self.content, self.media_type, self.level)


def is_known(headers: Headers, tag: str) -> bool:
    """Whether `If-None-Match` names the tag (RFC 9110, 13.1.2: compared weakly), or any."""
    given = [part.strip().removeprefix("W/") for part in headers.get("if-none-match", "").split(",")]
    return tag in given or given == ["*"]
