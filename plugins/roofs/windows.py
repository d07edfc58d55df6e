"""Roof windows: where each is in its slope, clear of the slope's ends and of the others."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING

from soleplate.engine.rules import TOUCH, CannotFrame, Hatch, Hole, Reach, RoofShape, SlopeShape
from soleplate.plugins.roofs.members import RoofWindow
from soleplate.plugins.roofs.pitched import Pitched

if TYPE_CHECKING:
    from soleplate.plugins.roofs.rafters import Rafters


def windows_on(rule: Rafters, shape: RoofShape, slope: SlopeShape) -> tuple[RoofWindow, ...]:
    """Those of one slope: of the first one those that do not say."""
    first = shape.slopes[0].wall
    return tuple(window for window in rule.openings if (window.slope or first) == slope.wall)


def hatches(
    rule: Rafters, shape: RoofShape, slope: SlopeShape, rafter: Pitched, places: Sequence[float], foot: float
) -> Iterator[Hatch]:
    """The windows of a slope in its lying wall, each clear of the slope's ends and of the others.

    `places` are the left faces of its rafters, in order.
    """
    breadth = rule.section.breadth
    start, end = rafter.inner
    first, last = places[0] + breadth, places[-1]
    done: list[Hole] = []
    eaves = [each.wall for each in shape.slopes]
    for index, window in enumerate(rule.openings):
        if window.slope is not None and window.slope not in eaves:
            raise CannotFrame(
                f"there is no slope over wall {window.slope}; accepted are {', '.join(eaves)}"
            ).at("openings", index)
        if window not in windows_on(rule, shape, slope):
            continue
        if window.name in [hole.name for hole in done]:
            raise CannotFrame(
                f"two openings are called {window.name!r}; accepted is its own name for each"
            ).at("openings", index)
        left, right = window.at.edges(window.width, slope.length)
        if left < first - TOUCH or right > last + TOUCH:
            raise CannotFrame(
                "it lies {place} along the eaves; accepted is {room}, between the outermost rafters",
                place=Reach(left, right, ".0f"),
                room=Reach(first, last),
            ).at("openings", index, "at")
        if window.up < start + breadth - TOUCH or window.up + window.height > end - breadth + TOUCH:
            raise CannotFrame(
                "it lies {place} up the slope; accepted is {room}, so that there is room for a"
                " trimmer at both"
                " ends",
                place=Reach(window.up, window.up + window.height, ".0f"),
                room=Reach(max(start + breadth, 0.0), end - breadth),
            ).at("openings", index)
        hole = Hole(window.name, "gap", left, right, window.up - foot, window.up + window.height - foot)
        for other in done:
            if hole.left < other.right and other.left < hole.right:
                raise CannotFrame(
                    "it lies over or under {other} ({taken}); accepted are openings beside each other",
                    other=other.name,
                    taken=Reach(other.left, other.right, ".0f"),
                ).at("openings", index)
        done.append(hole)
        yield Hatch(hole, window.framing, index)
