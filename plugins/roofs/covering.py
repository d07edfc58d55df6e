"""What covers a slope, counted, and the battens that it is fixed to."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING

from soleplate.engine.rules import ALONG, TOUCH, CoveringCount, CoveringPart, Member, SlopeShape, rectangle
from soleplate.plugins.roofs.members import RollCovering, RoofWindow

if TYPE_CHECKING:
    from soleplate.plugins.roofs.rafters import Rafters

Rect = tuple[float, float, float, float]
"""Left, right, bottom and top in the plane of a slope, mm."""


def covering_of(rule: Rafters, rect: Rect) -> CoveringCount | None:
    """The sheets side by side, or the strips one above the other, that cover a slope."""
    covering = rule.covering
    if covering is None:
        return None
    left, right, on, top = rect
    bottom = on - covering.overhang
    if isinstance(covering, RollCovering):
        step, over = covering.width - covering.lap, top - bottom
        parts = [
            CoveringPart(left, right, bottom + near, bottom + far)
            for near, far in _laid(over, covering.width, step)
        ]
    else:
        step, over = covering.cover, right - left
        laid = _laid(over, covering.width, step)
        if covering.start == "right":
            laid = [(over - far, over - near) for near, far in laid]
        parts = [CoveringPart(left + near, left + far, bottom, top) for near, far in laid]
    return CoveringCount(
        kind=covering.kind,
        width=covering.width,
        length=top - bottom if covering.kind == "sheet" else right - left,
        lap=covering.width - step,
        parts=tuple(parts),
        overhang=covering.overhang,
        rows=_rows(rule, rect),
    )


def _laid(over: float, width: float, step: float) -> list[tuple[float, float]]:
    """From where to where each lies that it takes to get over so much; the last ends there."""
    return [
        (number * step, min(number * step + width, over)) for number in range(_laps(over, width, step))
    ]  # fmt: skip


def _laps(over: float, width: float, cover: float) -> int:
    """How many of a width it takes to get over so much, each after the first adding its cover."""
    return 1 + math.ceil(max(over - width, 0.0) / cover - 1e-9)


def _rows(rule: Rafters, rect: Rect) -> tuple[float, ...]:
    """The middles of the battens up the slope, in equal gaps."""
    battens = rule.battens
    if battens is None:
        return ()
    first, last = rect[2] + battens.section.depth / 2, rect[3] - battens.section.depth / 2
    gaps = max(math.ceil((last - first) / battens.largest_gauge - 1e-9), 1)
    return tuple(first + (last - first) * k / gaps for k in range(gaps + 1))


def battens_on(
    rule: Rafters, rect: Rect, slope: SlopeShape, windows: Sequence[RoofWindow]
) -> Iterator[Member]:
    """The battens of a slope on its deck or rafters, in parts beside its windows."""
    battens = rule.battens
    if battens is None:
        return
    thick, wide = battens.section
    over = -(rule.deck.build_out if rule.deck is not None else 0.0)
    for row in _rows(rule, rect):
        low, high = row - wide / 2, row + wide / 2
        cuts = sorted(
            w.at.edges(w.width, slope.length) for w in windows if low < w.up + w.height and w.up < high
        )
        reach = rect[0]
        for left, right in [*cuts, (rect[1], rect[1])]:
            if left - reach > TOUCH:
                yield Member(
                    "batten",
                    battens.section,
                    rectangle(reach, left, low, high),
                    (over - thick, over),
                    ALONG,
                    material=battens.material,
                    view="slope",
                )
            reach = max(reach, right)
