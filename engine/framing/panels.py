"""Walls in panels: broken where it is asked for, or so that no panel is over its limits."""

from __future__ import annotations

import itertools
import math
from collections.abc import Callable, Sequence
from typing import Final

from soleplate.engine.building_file import (
    LEAST_PANEL,
    Figure,
    Mm,
    Panels,
    Reach,
    UnbuildableError,
    at_least,
    said,
)
from soleplate.engine.framing.break_choice import Fits, choose_breaks, reach
from soleplate.engine.framing.break_places import BreakPlace, break_places
from soleplate.engine.framing.breaking import broken
from soleplate.engine.framing.infill import Infill
from soleplate.engine.framing.panel_weights import PanelWeights
from soleplate.engine.framing.setting_out import WallTask
from soleplate.engine.rules import FramedOpening, Wall
from soleplate.engine.shapes import Member

EXACTLY: Final = 1e-6
"""mm. What floating point may be off by."""

AS_READ: Final = 1.0
"""mm. A break that is asked for this near to a place lies there: what is read off a drawing is rounded."""

GRAMS: Final = 0.05
"""kg. What a panel may be heavier once the weight of each of its pieces is put out in whole grams."""


def in_panels(
    wall: Wall,
    infill: Infill,
    framings: Sequence[FramedOpening],
    divided: Sequence[Member],
    task: WallTask,
) -> tuple[Infill, tuple[float, ...]]:
    """What stands in a wall with the end studs of its panels, and the breaks between them, mm from the left.

    Args:
        wall: with its plates.
        infill: of the wall in one piece.
        framings: of its openings.
        divided: its plates that breaks divide, each whole.
        task: of the wall.

    Raises:
        UnbuildableError: it cannot be broken as the building file asks.
    """
    panels, pointer = task.panels
    if panels is None:
        return infill, ()
    places = break_places(wall, infill.uprights, framings)
    if panels.at is not None:
        breaks = _as_asked(wall, panels.at, places, framings, f"{pointer}/at")
    else:
        _refuse_shorter_than_a_bay(wall, infill, panels, pointer)
        weights = PanelWeights(wall, infill, divided, task.timber)
        breaks = _within_limits(wall, panels, places, framings, weights, pointer)
    return broken(wall, infill, breaks), breaks


def _as_asked(
    wall: Wall,
    at: Sequence[float],
    places: Sequence[BreakPlace],
    framings: Sequence[FramedOpening],
    pointer: str,
) -> tuple[float, ...]:
    """The breaks where they are asked for.

    Raises:
        UnbuildableError: the wall cannot be broken at one of them.
    """
    breaks: list[float] = []
    for index, x in enumerate(at):
        here = f"{pointer}/{index}"
        if not places:
            raise UnbuildableError.at(
                here, "wall {name} has no place for a break; accepted is a wall in one piece", name=wall.name
            )
        if not 0.0 < x < wall.length:
            raise UnbuildableError.at(
                here,
                "{x} is not within wall {name}; accepted is {room}",
                x=Mm(x),
                name=wall.name,
                room=Reach(places[0].left, places[-1].right, ".0f"),
            )
        near = min((min(max(x, place.left), place.right) for place in places), key=lambda y: abs(y - x))
        if abs(near - x) > AS_READ:
            raise _no_place(wall, x, places, framings, here)
        if breaks and near - breaks[-1] < LEAST_PANEL - EXACTLY:
            raise UnbuildableError.at(
                here,
                "the panel from {stretch} would be {length} long; accepted is at least {least}",
                stretch=Reach(breaks[-1], near, ".0f"),
                length=Mm(near - breaks[-1], ".0f"),
                least=at_least(LEAST_PANEL),
            )
        breaks.append(near)
    return tuple(breaks)


def _no_place(
    wall: Wall, x: float, places: Sequence[BreakPlace], framings: Sequence[FramedOpening], pointer: str
) -> UnbuildableError:
    """That a wall cannot be broken at x, why, and where it can be on either side of it."""
    before = (
        [Mm(max(place.right for place in places if place.right < x), ".0f")] if places[0].right < x else []
    )
    after = [Mm(min(place.left for place in places if place.left > x), ".0f")] if places[-1].left > x else []
    near = [*before, *after]
    accepted: Figure = said("{first} or {last}", first=near[0], last=near[1]) if len(near) > 1 else near[0]
    for hole, framing in zip(wall.holes, framings, strict=True):
        if framing.left < x < framing.right:
            return UnbuildableError.at(
                pointer,
                "a break of wall {name} at {x} is within the framing of {opening} ({framing});"
                " accepted is {accepted}",
                name=wall.name,
                x=Mm(x),
                opening=hole.name,
                framing=Reach(framing.left, framing.right, ".0f"),
                accepted=accepted,
            )
    return UnbuildableError.at(
        pointer,
        "at {x} wall {name} has no room for the end studs of two panels, or is too near its end;"
        " accepted is {accepted}",
        x=Mm(x),
        name=wall.name,
        accepted=accepted,
    )


def _refuse_shorter_than_a_bay(wall: Wall, infill: Infill, panels: Panels, pointer: str) -> None:
    """Refuse panels shorter than the widest bay of the stud rule, with half a stud at both its sides."""
    bays = (
        right - left
        for run in infill.runs
        if run.studs
        for left, right in itertools.pairwise((run.left - wall.breadth, *run.studs, run.right))
    )
    bay = min(max(bays, default=0.0), wall.length)
    if panels.largest_length is not None and panels.largest_length < bay - EXACTLY:
        raise UnbuildableError.at(
            f"{pointer}/largest_length",
            "panels of {longest} are shorter than a bay of wall {name} with its studs; accepted is at least"
            " {bay}, or studs closer together",
            longest=Mm(panels.largest_length),
            name=wall.name,
            bay=at_least(bay, ".0f"),
        )


def _within_limits(
    wall: Wall,
    panels: Panels,
    places: Sequence[BreakPlace],
    framings: Sequence[FramedOpening],
    weights: PanelWeights,
    pointer: str,
) -> tuple[float, ...]:
    """The fewest breaks that keep all panels within their limits, the panels as even as may be.

    Raises:
        UnbuildableError: no breaks do.
    """
    longest, heaviest = panels.largest_length or math.inf, panels.largest_weight or math.inf

    def fitting(longest: float, heaviest: float) -> Fits:
        def fits(left: float, right: float) -> bool:
            if right - left > longest + EXACTLY:
                return False
            return math.isinf(heaviest) or weights.between(left, right) <= heaviest - GRAMS

        return fits

    def chosen(longest: float, heaviest: float) -> tuple[float, ...] | None:
        return choose_breaks(places, wall.length, fitting(longest, heaviest))

    breaks = chosen(longest, heaviest)
    if breaks is not None:
        return breaks
    if chosen(longest, math.inf) is None:
        long_enough = _least(longest, wall.length, lambda most: chosen(most, math.inf) is not None)
        raise UnbuildableError.at(
            f"{pointer}/largest_length",
            "wall {name} has no place for a break from {stretch}{opening}, which panels of {longest} would"
            " need; accepted is at least {least}",
            name=wall.name,
            **_unbroken(wall, places, framings, fitting(longest, math.inf)),
            longest=Mm(longest),
            least=at_least(long_enough),
        )
    light_enough = _least(heaviest, weights.whole + GRAMS, lambda most: chosen(longest, most) is not None)
    raise UnbuildableError.at(
        f"{pointer}/largest_weight",
        "wall {name} has no place for a break from {stretch}{opening}, which panels of {heaviest:g} kg would"
        " need; accepted is at least {least:g} kg",
        name=wall.name,
        **_unbroken(wall, places, framings, fitting(longest, heaviest)),
        heaviest=heaviest,
        least=light_enough,
    )


def _least(limit: float, most: float, can_be: Callable[[float], bool]) -> float:
    """The least limit, in whole steps, that can be; `most` can."""
    low, high = math.floor(limit), math.ceil(most)
    while high - low > 1:
        middle = (low + high) // 2
        low, high = (low, middle) if can_be(middle) else (middle, high)
    return float(high)


def _unbroken(
    wall: Wall, places: Sequence[BreakPlace], framings: Sequence[FramedOpening], fits: Fits
) -> dict[str, Figure]:
    """From the last place that panels within limits reach to the next, and the opening that is there."""
    start = reach(places, fits)
    end = min((place.left for place in places if place.left > start + EXACTLY), default=wall.length)
    inside = [
        f" ({hole.name})"
        for hole, framing in zip(wall.holes, framings, strict=True)
        if framing.left < end - EXACTLY and start + EXACTLY < framing.right
    ]
    return {"stretch": Reach(start, end, ".0f"), "opening": inside[0] if inside else ""}
