"""What absolute addresses in an answer begin with: where its caller finds the server."""

from __future__ import annotations

from typing import Final

from starlette.types import Scope

_KEY: Final = "soleplate.base"


def put_base(scope: Scope, base: str) -> None:
    """Say where the caller finds the server, such as `https://plans.example`; empty where nobody knows."""
    scope[_KEY] = base


def base_of(scope: Scope) -> str:
    """What was said; empty outside of a server's own calls."""
    return str(scope.get(_KEY, ""))
