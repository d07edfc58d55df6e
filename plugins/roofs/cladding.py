"""Where what covers walls ends under rafters, rungs, fascias and barge boards."""

from __future__ import annotations

from collections.abc import Iterator

from soleplate.engine.rules import CladdingEnd
from soleplate.plugins.roofs.laying import Laying
from soleplate.plugins.roofs.members import Ladder
from soleplate.plugins.roofs.pitched import Pitched


def cladding_ends(laying: Laying) -> Iterator[CladdingEnd]:
    """For each face of each wall under the roof, where what lies on it ends."""
    rule, shape = laying.rule, laying.shape
    clear: float | None
    for slope, rafter in zip(shape.slopes, laying.rafters, strict=True):
        low = slope.plates[0]
        clear, under = _fascia(laying, low.top, rafter, -rafter.start, low=True)
        yield CladdingEnd(low.wall, "outside", rafter.heel, rafter.tan, clear, under)
        for high in slope.plates[1:]:
            clear, under = _fascia(laying, high.top, rafter, rafter.end - shape.width, low=False)
            yield CladdingEnd(
                high.wall, "outside", rafter.heel - high.depth * rafter.tan, 0.0, clear, under
            )
            yield CladdingEnd(high.wall, "inside", rafter.heel, rafter.tan)
    rafter = laying.rafters[0]
    below = rafter.heel if rule.raked_plates == "as set out" else 0.0
    clear, under = None, 0.0
    if rule.barge is not None:
        clear = rule.verge.overhang if isinstance(rule.verge, Ladder) else 0.0
        under = below + (rule.barge.section.depth - rule.section.depth) / rafter.cos
    for wall in shape.along:
        if wall.partition:
            yield CladdingEnd(wall.name, "outside", 0.0)
            yield CladdingEnd(wall.name, "inside", 0.0)
        else:
            yield CladdingEnd(wall.name, "outside", below, 0.0, clear, under)
            yield CladdingEnd(wall.name, "inside", below)
    for name in shape.across:
        yield CladdingEnd(name, "outside", 0.0, rafter.tan)
        yield CladdingEnd(name, "inside", 0.0, rafter.tan)


def _fascia(
    laying: Laying, top: float, rafter: Pitched, clear: float, *, low: bool
) -> tuple[float | None, float]:
    """From what stand-off on a fascia hangs before cladding, and how far below a plate's top it hangs."""
    fascia = laying.rule.fascia
    if fascia is None:
        return None, 0.0
    thick, depth = fascia.section
    at = rafter.top(rafter.start - thick) if low else rafter.top(rafter.end)
    return clear, top - (at - depth)
