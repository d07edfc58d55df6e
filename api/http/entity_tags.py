"""Entity tags (RFC 9110, 8.8.3) of kept designs: the number of the revision, strong."""

from __future__ import annotations

import re
from typing import Final

from starlette.datastructures import Headers

from soleplate.api.http.refusals import BadParameter, NoIfMatch

TAG_PATTERN: Final = r'^(\*|"[1-9][0-9]{0,8}")$'

_LIST: Final = re.compile(r'\s*(W/)?"([^"]*)"\s*(,\s*(W/)?"[^"]*"\s*)*')
_ONE: Final = re.compile(r'(W/)?"([^"]*)"')
_NUMBER: Final = re.compile(r"[1-9][0-9]{0,8}")


def tag_of(revision: int) -> str:
    """The tag of a revision."""
    return f'"{revision}"'


def revisions_seen(headers: Headers) -> frozenset[int] | None:
    """The revisions that `If-Match` names; None where it takes any.

    A weak tag never matches (RFC 9110, 13.1.1), nor does one that is of no revision.

    Raises:
        NoIfMatch: it is missing.
        BadParameter: it is no list of tags.
    """
    given = headers.get("if-match")
    if given is None:
        raise NoIfMatch('the header If-Match is missing; accepted is the ETag of the design, such as "3"')
    if given.strip() == "*":
        return None
    if not _LIST.fullmatch(given):
        raise BadParameter('If-Match: accepted is * or entity tags with their quotes, such as "3"')
    strong = [tag for weak, tag in _ONE.findall(given) if not weak]
    return frozenset(int(tag) for tag in strong if _NUMBER.fullmatch(tag))
