"""Openings between trimmers and king studs, under a lintel or a flat head."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import Annotated, Any, ClassVar, Final, Literal

from pydantic import Field

from soleplate.engine.rules import (
    PRACTICE,
    Beside,
    Cripples,
    Finding,
    FindingKind,
    FramedOpening,
    Hole,
    Member,
    Mm,
    OpeningRule,
    Wall,
    level,
)
from soleplate.plugins.openings.fitting import (
    JAMB_STUD,
    Bearing,
    bearings,
    full_stud,
    gaps_beside,
    is_at_plate,
    or_at_plate,
    over_head,
    refuse_ends,
    refuse_flat,
    refuse_low,
    refuse_no_head,
    short_upright,
    sill_of,
)
from soleplate.plugins.openings.lintel import Lintel

LINTEL_REACHES: Final = FindingKind(
    "lintel-reaches",
    "note",
    PRACTICE,
    "its {beam} goes on to studs of the opening above or below it and is {length} long: size it for that",
)


class Trimmed(OpeningRule):
    """King studs, trimmers, a lintel or a flat head on them, a sill, and cripples above and below.

    King studs stand full height; the trimmers beside them reach up to the opening's head. Up to a top plate
    that carries no roof there is neither lintel nor head. Of openings above each other those whose edges are
    near to being in line share king studs.
    """

    stands_in: ClassVar[bool] = True
    examples: ClassVar[Sequence[Mapping[str, Any]]] = (
        {"rule": "trimmed"},
        {"rule": "trimmed", "lintel": {"section": [45, 145], "plies": 2}},
        {"rule": "trimmed", "trimmers": 2, "kings": 2, "lintel": {"section": [45, 195]}},
    )

    rule: Literal["trimmed"] = "trimmed"
    trimmers: Annotated[int, Field(ge=1, le=3)] = 1
    """At each side, under the lintel."""
    kings: Annotated[int, Field(ge=1, le=2)] = 1
    """At each side, full height."""
    lintel: Lintel | None = None
    """The beam over the opening; a flat piece of the stud section without it."""

    @classmethod
    def begun_with(cls, beam: tuple[float, float] | None, plies: int) -> Mapping[str, Any]:
        """Return a lintel where there is a beam, else a flat head."""
        lintel = {} if beam is None else {"lintel": {"section": list(beam), "plies": plies}}
        return {"rule": "trimmed", **lintel}

    def stands_beside(self, hole: Hole, wall: Wall) -> Beside:
        """Return trimmers and kings; see `OpeningRule`."""
        bearing = self.trimmers * wall.breadth
        carries = self.lintel is not None and self.lintel.carries
        return Beside(bearing, bearing + self.kings * wall.breadth, carries)

    def frame_opening(self, hole: Hole, wall: Wall) -> FramedOpening:
        """Return the framing, mm; see `OpeningRule`.

        Raises:
            CannotFrame: lintel, kings or sill do not fit in.
        """
        outer = (self.trimmers + self.kings) * wall.breadth
        refuse_flat(hole, wall)
        refuse_ends(hole, wall, outer, "trimmers and king studs")
        sides = bearings(hole, self.trimmers, wall.breadth)
        left, right = (side.end for side in sides)
        beam, left_free = self._beam(hole, wall, left, right)
        sill, under, found = sill_of(hole, wall)
        over: Cripples | None = None
        if beam:
            over, more = over_head(left, right, beam[0].top, wall)
            found += more
        return FramedOpening(
            members=(*self._uprights(left_free, wall, sides), *beam, *sill),
            left=hole.left - outer if hole.reach[0] is None else left,
            right=hole.right + outer if hole.reach[1] is None else right,
            over=over,
            under=under,
            findings=(*found, *self._said(left_free, wall, sides, beam)),
            top=None if left_free is hole else left_free.top,
        )

    def _beam(self, hole: Hole, wall: Wall, left: float, right: float) -> tuple[list[Member], Hole]:
        """What lies over the hole from `left` to `right`, and the hole that it leaves."""
        lintel, breadth = self.lintel, wall.breadth
        if lintel is not None and lintel.let_in:
            hole = lintel.hole_under(hole, wall, left, right)
            return lintel.members(left, right, hole.top, wall.depth), hole
        what, height = ("head", breadth) if lintel is None else ("lintel", lintel.section.depth)
        if is_at_plate(hole, wall):
            refuse_no_head(height, wall)
            if lintel is None:
                return [], hole
        let_in = ", or a lintel that is let_in under the plate"
        refuse_low(what, hole.top + height, left, right, wall, or_at_plate(hole, wall, let_in))
        if lintel is None:
            box = (left, right, hole.top, hole.top + height)
            return [level("head", wall.section, box, wall.through_wall)], hole
        return lintel.members(left, right, hole.top, wall.depth), hole

    def _said(
        self, hole: Hole, wall: Wall, sides: tuple[Bearing, Bearing], beam: Sequence[Member]
    ) -> Iterator[Finding]:
        """What is to be said of the lintel, and of what the hole is framed up to."""
        if self.lintel is not None:
            yield from self.lintel.reports(wall.depth)
            if self.lintel.let_in:
                yield self.lintel.let_in_finding(hole)
        yield from gaps_beside(sides, "trimmers")
        if beam and any(side.jamb is not None for side in sides):
            length = beam[0].right - beam[0].left
            yield LINTEL_REACHES.of(value=round(length, 3), beam=beam[0].role, length=Mm(length, ".0f"))

    def _uprights(self, hole: Hole, wall: Wall, sides: tuple[Bearing, Bearing]) -> list[Member]:
        """Trimmers and kings of both sides, from the hole outwards, and jamb studs."""
        breadth = wall.breadth
        made = [
            short_upright("trimmer", place, hole, wall)
            for pair in zip(sides[0].trimmers, sides[1].trimmers, strict=True)
            for place in pair
        ]
        for step in range(self.kings):
            if hole.reach[0] is None:
                made.append(full_stud("king stud", sides[0].end - (step + 1) * breadth, wall))
            if hole.reach[1] is None:
                made.append(full_stud("king stud", sides[1].end + step * breadth, wall))
        return made + [short_upright(JAMB_STUD, s.jamb, hole, wall) for s in sides if s.jamb is not None]
