"""Content negotiation: whether a caller takes the one form in which something is made, and takes it coded."""

from __future__ import annotations

from typing import Final

from starlette.datastructures import Headers

from soleplate.api.http.refusals import NotAcceptable

SVG: Final = "image/svg+xml"


def require_accepted(headers: Headers, offered: str) -> None:
    """Let a call pass that takes a media type; without an `Accept` header it takes any.

    Raises:
        NotAcceptable: it does not.
    """
    given = headers.get("accept", "").strip()
    if given and _weight(given, offered) <= 0:
        raise NotAcceptable(f"this is made as {offered} alone; accepted is a call that takes that")


def prefers(headers: Headers, first: str, second: str) -> bool:
    """Whether a call would rather have the first of two media types; of what it takes alike, the second."""
    given = headers.get("accept", "").strip()
    return bool(given) and _weight(given, first) > _weight(given, second)


def takes_gzip(headers: Headers) -> bool:
    """Whether a call asks for compressed answers, gzip's own weight before that of all (RFC 9110, 12.5.3)."""
    found = {}
    for part in headers.get("accept-encoding", "").split(","):
        coding, *parameters = (piece.strip().lower() for piece in part.split(";"))
        found[coding] = _quality(parameters)
    return found.get("gzip", found.get("*", 0.0)) > 0


def _weight(header: str, offered: str) -> float:
    """The weight of a media type, by the range that names it most exactly (RFC 9110, 12.5.1)."""
    ranges = ("*/*", f"{offered.split('/')[0]}/*", offered)
    found = {}
    for part in header.split(","):
        media_range, *parameters = (piece.strip().lower() for piece in part.split(";"))
        if media_range in ranges:
            found[ranges.index(media_range)] = _quality(parameters)
    return found[max(found)] if found else 0.0


def _quality(parameters: list[str]) -> float:
    for parameter in parameters:
        name, _, value = parameter.partition("=")
        if name.strip() == "q":
            try:
                return float(value)
            except ValueError:
                return 0.0
    return 1.0
