"""Corners: which of two surfaces runs past, and whether they end at corner boards."""

from __future__ import annotations

from collections.abc import Mapping

from soleplate.engine.building_file import WallEnd
from soleplate.engine.rules import CladdingRule, Facing

Claddings = Mapping[tuple[str, Facing], CladdingRule]
"""The rules of all faces that have one."""


def neighbour_at(end: WallEnd, claddings: Claddings, facing: Facing) -> CladdingRule | None:
    """The rule of what a face meets at an end, if any: a partition meets its host's lining."""
    side: Facing = "inside" if end.kind == "tee" else facing
    other = claddings.get((end.neighbour or "", side))
    return other if other is not None and other.build_out > 0.0 else None


def covers_corner(end: WallEnd, rule: CladdingRule, other: CladdingRule | None) -> bool:
    """Whether a wall's cladding runs past at an outer corner and covers the end of its neighbour's."""
    return (end.kind == "through") == (_decider(end, rule, other).runs_past != "walls-between")


def has_corner_board(end: WallEnd, rule: CladdingRule, other: CladdingRule | None) -> bool:
    """Whether there are corner boards at an end; `other` is the rule of what the surface meets there."""
    is_corner = end.kind in ("through", "butts") and not end.reentrant and rule.build_out > 0.0
    return is_corner and _decider(end, rule, other).runs_past == "corner-boards"


def _decider(end: WallEnd, rule: CladdingRule, other: CladdingRule | None) -> CladdingRule:
    """The rule that decides at a corner: that of the wall that runs through, if it is clad."""
    return rule if end.kind == "through" or other is None else other
