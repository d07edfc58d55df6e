"""Running marks, bays and spacers: what is read off the tape when a wall is nailed together."""

from __future__ import annotations

import math
from bisect import bisect_right
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import Final, get_args

from soleplate.engine.building_file import (
    Deviation,
    ReadOnlyDict,
    ToleranceClass,
    Units,
    format_length,
    round_for_tape,
    tolerance,
    worst_and_likely,
)
from soleplate.engine.framing import FilledRun
from soleplate.engine.layout import BayOut, Drift, Mark, Piece, PlateLength, Spacer
from soleplate.engine.rules import Hole, Wall
from soleplate.engine.shapes import TOUCH, Member, Role, rounded

Numbered = Sequence[tuple[Member, Piece]]
FramedHole = tuple[Hole, str, tuple[Member, ...]]
"""An opening, the rule that framed it, and its timbers."""
NO_PANELS: Final[Mapping[str, int]] = {}
NARROWEST: Final = 1.0
"""mm. A narrower gap between uprights is a joint, not a bay."""


@dataclass(frozen=True, slots=True)
class MarkedPlate:
    """A plate with its running marks, along it from one datum, so that rounding never adds up.

    The datum is the wall's left end, or along a raked plate the left end of its lower edge. `uprights` and
    `lengths` are places along it, mm, each with the mark of a piece: near faces, and left ends of the lengths
    that it lies in, of which there are several where a door cuts it out or it is jointed. What lies `over` an
    opening is marked alike where it carries uprights.
    """

    name: str
    uprights: tuple[tuple[float, str], ...]
    lengths: tuple[tuple[float, str], ...]
    over: str | None = None

    def marks(self, units: Units) -> tuple[Mark, ...]:
        """Of the whole plate."""
        return _marks(self.uprights, units)

    def by_length(
        self, marks: tuple[Mark, ...], units: Units, panels: Mapping[str, int] = NO_PANELS
    ) -> Iterator[PlateLength]:
        """Each length with the marks of those whose near faces are on it, from its own left end.

        `marks` are those of the whole plate, which a single length from its datum on has too; `panels` tells
        of what panel a piece is, by its mark, where it is of one.
        """
        lengths: Sequence[tuple[float, str | None]] = self.lengths or ((0.0, None),)
        starts = [start for start, _ in lengths]
        here = [bisect_right(starts, at + TOUCH) - 1 for at, _ in self.uprights]
        for index, (start, mark) in enumerate(lengths):
            on = [
                (at - start, upright)
                for (at, upright), length in zip(self.uprights, here, strict=True)
                if max(length, 0) == index
            ]
            yield PlateLength(
                plate=self.name,
                over=self.over,
                mark=mark,
                start=rounded(start),
                display=format_length(start, units),
                alone=len(lengths) == 1,
                panel=panels.get(mark or ""),
                marks=marks if starts == [0.0] else _marks(on, units),
            )


def marked_plates(wall: Wall, numbered: Numbered) -> Iterator[MarkedPlate]:
    """The sole plate and what lies on the uprights, a plate for each straight stretch of it."""
    standing = [(member, piece) for member, piece in numbered if _stands(member, wall.roles[member.role])]
    on_sole = [
        (member.left, piece.mark)
        for member, piece in standing
        if abs(member.bottom - wall.sole_thickness) < TOUCH
    ]
    soles = [
        (member.left, piece.mark)
        for member, piece in numbered
        if not member.is_upright
        and abs(member.bottom) < TOUCH
        and abs(member.top - wall.sole_thickness) < TOUCH
    ]
    yield MarkedPlate("sole plate", tuple(sorted(on_sole)), tuple(sorted(soles)))
    under_top = [
        (member, piece.mark)
        for member, piece in standing
        if _reaches(member, wall.underside.at((member.left + member.right) / 2))
    ]
    stretches = wall.underside.segments()
    for index, ((x0, z0), (x1, z1)) in enumerate(stretches):
        slope = math.atan2(z1 - z0, x1 - x0)
        is_level, first, last = abs(slope) <= 1e-9, index == 0, index == len(stretches) - 1
        edges = _lower_edges(wall, numbered, index, slope)
        datum = 0.0 if is_level else min((x for x, _ in edges), default=x0)
        uprights = [
            ((member.left - datum) / math.cos(slope), mark)
            for member, mark in under_top
            if (first or member.left >= x0 - TOUCH) and (last or member.left < x1 - TOUCH)
        ]
        lengths = [((x - datum) / math.cos(slope), mark) for x, mark in edges]
        name = _plate_name(index, len(stretches), level=is_level)
        yield MarkedPlate(name, tuple(sorted(uprights)), tuple(sorted(lengths)))


def marked_beams(wall: Wall, openings: Sequence[FramedHole], numbered: Numbered) -> Iterator[MarkedPlate]:
    """What lies over an opening and carries uprights of another one above it, which no plate has marks for.

    Places are from its own left end.
    """
    marks = {id(member): piece.mark for member, piece in numbered}
    standing = [m for m, _ in numbered if _stands(m, wall.roles[m.role])]
    for hole, _, members in openings:
        beam = next((m for m in members if not m.is_upright and abs(m.bottom - hole.top) < TOUCH), None)
        if beam is None:
            continue
        on = [
            member
            for member in standing
            if abs(member.bottom - beam.top) < TOUCH
            and member.left < beam.right - TOUCH
            and beam.left < member.right - TOUCH
        ]
        if any(not _reaches(m, wall.underside.at((m.left + m.right) / 2)) for m in on):
            places = sorted((member.left - beam.left, marks[id(member)]) for member in on)
            lengths = ((0.0, marks[id(beam)]),) if id(beam) in marks else ()
            yield MarkedPlate(beam.role, tuple(places), lengths, hole.name)


def _stands(member: Member, role: Role) -> bool:
    """Whether it is set by the tape: all that stands plumb, but no blocks: they go where others are."""
    return role.stands or (member.is_upright and role.lies == "upright")


def _reaches(member: Member, height: float) -> bool:
    return abs(member.span((member.left + member.right) / 2)[1] - height) < TOUCH


def _lower_edges(wall: Wall, numbered: Numbered, stretch: int, slope: float) -> list[tuple[float, str]]:
    """The x at which the lower edge of each length of a stretch's plate starts, mm, with its mark."""
    (x0, _), (x1, _) = wall.underside.segments()[stretch]
    line = wall.underside

    def height(x: float) -> float:
        """Of the stretch at x, which may be beyond its ends."""
        inside = min(max(x, x0 + 1e-9), x1 - 1e-9)
        return line.at(inside) + (x - inside) * math.tan(slope)

    found: list[tuple[float, str]] = []
    for member, piece in numbered:
        role = wall.roles[member.role]
        middle = (member.left + member.right) / 2
        if role.past_ends and member.layer == 0 and x0 - TOUCH <= middle <= x1 + TOUCH:
            edge = [x for x, z in member.outline if abs(z - height(x)) < TOUCH]
            found += [(min(edge), piece.mark)] if edge else []
    return found


def _plate_name(index: int, count: int, *, level: bool) -> str:
    name = "head plate" if level else "raked plate"
    if count == 1:
        return name
    return f"{name} {'left' if index == 0 else 'right' if index == count - 1 else index + 1}"


def _marks(places: Sequence[tuple[float, str]], units: Units) -> tuple[Mark, ...]:
    return tuple(Mark(at=rounded(at), display=format_length(at, units), mark=mark) for at, mark in places)


def bays(wall: Wall, numbered: Numbered, units: Units) -> tuple[BayOut, ...]:
    """The clear bays between the uprights that stand on the sole plate, left to right; doors are none."""
    feet = sorted(
        (member.left, member.right)
        for member, _ in numbered
        if member.is_upright and abs(member.bottom - wall.sole_thickness) < TOUCH
    )
    doors = [(hole.left, hole.right) for hole in wall.holes if hole.reaches_floor]
    found: list[BayOut] = []
    reach = feet[0][1]
    for left, right in feet[1:]:
        if left - reach > NARROWEST and not any(a < left - TOUCH and b > reach + TOUCH for a, b in doors):
            found.append(
                BayOut(
                    from_=rounded(reach),
                    to=rounded(left),
                    clear=rounded(left - reach),
                    display=format_length(left - reach, units),
                )
            )
        reach = max(reach, right)
    return tuple(found)


def spacers(wall: Wall, runs: Sequence[FilledRun], units: Units) -> tuple[Spacer, ...]:
    """For each run with studs: the spacer to cut, and the closing bay that stepping it along would leave.

    Where bays other than the first and the last differ from each other there is none.
    """
    return tuple(spacer for run in runs if run.studs and (spacer := _spacer(wall, run, units)) is not None)


def _spacer(wall: Wall, run: FilledRun, units: Units) -> Spacer | None:
    """Stepping from the left: every bay but the last is set with a spacer rounded for the tape.

    Studs at fixed centres leave a first bay of its own: they are stepped from the stud behind it.
    """
    breadth = wall.breadth
    edges = [run.left, *(edge for stud in run.studs for edge in (stud, stud + breadth)), run.right]
    clears = [right - left for left, right in zip(edges[::2], edges[1::2], strict=True)]
    usual = clears[1] if len(clears) > 2 else clears[0]
    first = 0 if abs(clears[0] - usual) < TOUCH else 1
    if any(abs(clear - usual) > TOUCH for clear in clears[first:-1]):
        return None
    start, crossed = edges[2 * first], len(run.studs) - first
    closing = run.right - start - crossed * (breadth + round_for_tape(usual, units))
    ends = (start <= breadth + TOUCH) + (run.right >= wall.length - breadth - TOUCH)
    worst, likely = _drifts(breadth, crossed + ends)
    return Spacer(
        from_=rounded(start),
        to=rounded(run.right),
        bays=crossed + 1,
        clear=rounded(usual),
        spacer=rounded(round_for_tape(usual, units)),
        display=format_length(usual, units),
        closing_bay=rounded(closing),
        closing_bay_display=format_length(closing, units),
        worst=worst,
        likely=likely,
    )


# Most runs of a building cross as many studs as others.
@lru_cache(maxsize=256)
def _drifts(breadth: float, studs: int) -> tuple[ReadOnlyDict[str, Drift], ReadOnlyDict[str, Drift]]:
    """How much a closing bay drifts over so many studs, at worst and likely."""
    classes: tuple[ToleranceClass, ...] = get_args(ToleranceClass)
    drifts = {grade: worst_and_likely(tolerance(breadth, grade), studs) for grade in classes}
    return (
        _each({grade: worst for grade, (worst, _) in drifts.items()}),
        _each({grade: likely for grade, (_, likely) in drifts.items()}),
    )


def _each(off: dict[ToleranceClass, Deviation]) -> ReadOnlyDict[str, Drift]:
    """How much a closing bay drifts where the studs are so far off, by tolerance class."""
    return ReadOnlyDict(
        {grade: Drift(short=rounded(by.over), long=rounded(by.under)) for grade, by in off.items()}
    )
