"""An opening that is left as it is framed."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any, ClassVar, Literal

from soleplate.engine.rules import FinishedOpening, FinishRule, OpeningToFinish, Span


class AsFramed(FinishRule):
    """Nothing: for one opening of a wall whose others are finished, such as a row of panes."""

    examples: ClassVar[Sequence[Mapping[str, Any]]] = ({"rule": "as-framed"},)

    rule: Literal["as-framed"] = "as-framed"

    def finish_opening(self, opening: OpeningToFinish) -> FinishedOpening:
        """Return that the whole hole is clear."""
        hole = opening.hole
        return FinishedOpening(Span(hole.left, hole.right, opening.foot, hole.top))
