"""Where what covers walls ends under rafters, rungs, fascias and barge boards."""

from __future__ import annotations

from collections.abc import Iterator

from soleplate.engine.rules import CladdingEnd, Hanging
from soleplate.plugins.roofs.laying import Laying
from soleplate.plugins.roofs.members import Ladder
from soleplate.plugins.roofs.pitched import Pitched


def cladding_ends(laying: Laying) -> Iterator[CladdingEnd]:
    """For each face of each wall under the roof, where what lies on it ends."""
    rule, shape = laying.rule, laying.shape
    for slope, rafter in zip(shape.slopes, laying.rafters, strict=True):
        low = slope.plates[0]
        hung = rafter.top(rafter.start - laying.fascia)
        under = (
            *_fascia(laying, low.top - hung, rule.eaves.low),
            *_round_corner(laying, rafter.heel, rafter.tan),
        )
        yield CladdingEnd(low.wall, "outside", rafter.heel, rafter.tan, under)
        for high in slope.plates[1:]:
            below = rafter.heel - high.depth * rafter.tan
            under = _fascia(laying, high.top - rafter.top(rafter.end), rafter.end - shape.width)
            under = (*under, *_round_corner(laying, below, 0.0))
            yield CladdingEnd(high.wall, "outside", below, 0.0, under)
            yield CladdingEnd(high.wall, "inside", rafter.heel, rafter.tan)
    rafter = laying.rafters[0]
    below = rafter.heel if rule.raked_plates == "as set out" else 0.0
    under = _gable(laying, rafter, below)
    for wall in shape.along:
        if wall.partition:
            yield CladdingEnd(wall.name, "outside", 0.0)
            yield CladdingEnd(wall.name, "inside", 0.0)
        else:
            yield CladdingEnd(wall.name, "outside", below, 0.0, under)
            yield CladdingEnd(wall.name, "inside", below)
    for name in shape.across:
        yield CladdingEnd(name, "outside", 0.0, rafter.tan)
        yield CladdingEnd(name, "inside", 0.0, rafter.tan)


def _fascia(laying: Laying, top: float, clear: float) -> tuple[Hanging, ...]:
    """A fascia before the wall under it, its top `top` mm below the wall's."""
    fascia = laying.rule.fascia
    return () if fascia is None else (Hanging(clear, top + fascia.section.depth),)


def _round_corner(laying: Laying, below: float, falls: float) -> tuple[Hanging, ...]:
    """A barge board that what lies on an eaves wall would meet where it reaches round the corner."""
    barge, rule = laying.rule.barge, laying.rule
    if barge is None:
        return ()
    deeper = (barge.section.depth - rule.section.depth) / laying.rafters[0].cos
    return (Hanging(laying.overhang, below + deeper, falls),)


def _gable(laying: Laying, rafter: Pitched, below: float) -> tuple[Hanging, ...]:
    """What hangs before walls that run with the slope: the barge board, and at their ends the fascias."""
    rule, found = laying.rule, []
    if rule.barge is not None:
        found.append(
            Hanging(laying.overhang, below + (rule.barge.section.depth - rule.section.depth) / rafter.cos)
        )
    if rule.fascia is not None and isinstance(rule.verge, Ladder):
        thick, depth = rule.fascia.section
        nearest = (
            min(-rafter.start, rafter.end - laying.shape.width) if len(laying.rafters) == 1 else -rafter.start
        )
        found.append(Hanging(nearest, below + depth - rafter.plumb + thick * rafter.tan))
    return tuple(found)
