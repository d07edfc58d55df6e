"""Rafters cut at roof windows: each is a prism in its side, cut off square to the slope."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from soleplate.engine.building_file import Reach, UnbuildableError
from soleplate.engine.roofs.setting_out import SlopeTask
from soleplate.engine.rules import FramedOpening, FramedSlope, Wall
from soleplate.engine.shapes import TOUCH, UPRIGHT, Member, Point, clip, rectangle


@dataclass(frozen=True, slots=True)
class RafterCut:
    """A rafter, or what is left of one: as it is `seen` in the lying wall, and the `rafter` in its side."""

    seen: Member
    rafter: Member
    is_whole: bool


def cut_at_windows(
    wall: Wall, slope: FramedSlope, framings: Sequence[FramedOpening], task: SlopeTask
) -> list[RafterCut]:
    """All rafters, left to right: whole ones, those beside windows, and what is left where a window lies.

    One of which only a part would be in the way of a window's framing is left out: a timber stands there.

    Raises:
        UnbuildableError: a window's framing leaves the outermost rafters.
    """
    first, last = (min(m.depth[0] for m in slope.rafters), max(m.depth[1] for m in slope.rafters))
    cut: list[RafterCut] = []
    for index, framing in enumerate(framings):
        if framing.left < first - TOUCH or framing.right > last + TOUCH:
            raise UnbuildableError.at(
                f"{task.pointer(index)}/at",
                "its framing reaches from {framing}; accepted is {room}, between the outermost rafters' outer"
                " faces",
                framing=Reach(framing.left, framing.right, ".0f"),
                room=Reach(first, last, ".0f"),
            )
        cut += [
            _cut(wall, slope, _nearest(slope, m.left), m.left, m.bottom, m.top)
            for m in framing.members
            if m.is_upright
        ]
    for rafter in slope.rafters:
        left, right = rafter.depth
        near = [f for f in framings if left < f.right - TOUCH and f.left < right - TOUCH]
        if not near:
            cut.append(_cut(wall, slope, rafter, left, wall.sole_thickness, _top(wall)))
            continue
        for index, framing in enumerate(framings):
            if framing in near and _is_outermost(left, right, first, last) and not _taken(framing, left):
                raise UnbuildableError.at(
                    f"{task.pointer(index)}/at",
                    "its framing ({framing}) meets the outermost rafter at {place}; accepted is a place"
                    " clear of"
                    " it, or one where a timber takes its very place",
                    framing=Reach(framing.left, framing.right, ".0f"),
                    place=Reach(left, right, ".0f"),
                )
        cut += _left_over(wall, slope, rafter, near)
    return sorted(cut, key=lambda each: (each.seen.left, each.seen.bottom))


def _nearest(slope: FramedSlope, left: float) -> Member:
    """The rafter nearest to a place: all are alike unless walls were measured out of parallel."""
    return min(slope.rafters, key=lambda rafter: abs(rafter.depth[0] - left))


def _is_outermost(left: float, right: float, first: float, last: float) -> bool:
    return abs(left - first) < TOUCH or abs(right - last) < TOUCH


def _taken(framing: FramedOpening, left: float) -> bool:
    """Whether a timber of a framing stands exactly at a place."""
    return any(m.is_upright and abs(m.left - left) < TOUCH for m in framing.members)


def _left_over(
    wall: Wall, slope: FramedSlope, rafter: Member, framings: Sequence[FramedOpening]
) -> Iterator[RafterCut]:
    """What is left below and above windows of a rafter that they are in the way of."""
    left, right = rafter.depth
    if len(framings) != 1:
        return
    (framing,) = framings
    below, above = framing.under, framing.over
    if below is not None and below.left <= left + TOUCH and right <= below.right + TOUCH:
        yield _cut(wall, slope, rafter, left, wall.sole_thickness, below.level)
    if above is not None and above.left <= left + TOUCH and right <= above.right + TOUCH:
        yield _cut(wall, slope, rafter, left, above.level, _top(wall))


def _top(wall: Wall) -> float:
    return wall.underside.at(0.0)


def _cut(
    wall: Wall, slope: FramedSlope, pattern: Member, left: float, bottom: float, top: float
) -> RafterCut:
    """A rafter at `left`, from `bottom` to `top` of the lying wall: cut square where that is not its end."""
    right = left + wall.breadth
    outline = pattern.outline
    low, high = bottom > wall.sole_thickness + TOUCH, top < _top(wall) - TOUCH
    side, lying = slope.view("side"), slope.view("slope")

    def at(v: float, w: float) -> Point:
        place = lying.point(left, v + slope.foot, w)
        u, z = (
            sum((p - o) * a for p, o, a in zip(place, side.origin, axis, strict=True))
            for axis in (side.right, side.up)
        )
        return u, z

    for v, keeps_above in ((bottom, True), (top, False)):
        if low if keeps_above else high:
            (u, z), (u1, z1) = at(v, 0.0), at(v, 1.0)
            inside = at(v + (1.0 if keeps_above else -1.0), 0.0)
            start, end = (u, z), (u1, z1)
            turn = (end[0] - start[0]) * (inside[1] - start[1]) - (end[1] - start[1]) * (inside[0] - start[0])
            outline = clip(outline, start, end) if turn > 0 else clip(outline, end, start)
    seen = Member(
        pattern.role, pattern.section, rectangle(left, right, bottom, top), (0.0, wall.depth), UPRIGHT,
        view="slope", made_by=pattern.made_by,
    )  # fmt: skip
    rafter = replace(pattern, outline=outline, depth=(left, right))
    return RafterCut(seen, rafter, not (low or high))
