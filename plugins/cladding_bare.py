"""A face left as it is, where the building's defaults would clad or line it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any, ClassVar, Literal

from soleplate.engine.rules import Clad, CladdingRule, Course, Surface, hookimpl


class Bare(CladdingRule):
    """Nothing on this face, whatever `defaults` say: a wall against another building, or left open inside."""

    lays_nothing: ClassVar[bool] = True
    examples: ClassVar[Sequence[Mapping[str, Any]]] = ({"rule": "bare"},)

    rule: Literal["bare"] = "bare"

    @property
    def build_out(self) -> float:
        """None, mm."""
        return 0.0

    def lay(self, face: Surface, courses: Sequence[Course]) -> Clad:
        """Return nothing."""
        del face, courses
        return Clad(())


@hookimpl
def register_rules() -> list[type[CladdingRule]]:
    """Offer the rule of this module."""
    return [Bare]
