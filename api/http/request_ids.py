"""The id of a call, by which its answer, its problem and the log can be told to belong together."""

from __future__ import annotations

import re
import secrets
from typing import Final

from starlette.datastructures import Headers
from starlette.types import Scope

HEADER: Final = "X-Request-ID"

_SANE: Final = re.compile(r"[A-Za-z0-9][A-Za-z0-9._-]{0,63}")
_KEY: Final = "soleplate.request_id"


def name_call(scope: Scope) -> str:
    """Give a call its id: the caller's own, where it is one that a log can hold, else a new one."""
    given = Headers(scope=scope).get(HEADER, "")
    scope[_KEY] = given if _SANE.fullmatch(given) else secrets.token_hex(8)
    return id_of(scope)


def id_of(scope: Scope) -> str:
    """The id that a call was given; none outside of a server's own calls."""
    return str(scope.get(_KEY, ""))
