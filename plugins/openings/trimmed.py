"""Openings between trimmers and king studs, under a lintel or a flat head."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Annotated, Any, ClassVar, Final, Literal

from pydantic import Field

from soleplate.engine.rules import (
    PRACTICE,
    TOUCH,
    UPRIGHT,
    Finding,
    FindingKind,
    FramedOpening,
    Hole,
    Member,
    Mm,
    Model,
    Name,
    OpeningRule,
    Section,
    SectionField,
    Wall,
    level,
    rectangle,
)
from soleplate.plugins.openings.fitting import (
    full_stud,
    over_head,
    refuse_ends,
    refuse_flat,
    refuse_low,
    sill_of,
)

LINTEL_PROUD: Final = FindingKind(
    "lintel-proud", "warn", PRACTICE, "the lintel stands {proud} proud of the wall's inside"
)

THINNEST_PACKER: Final = 1.0
"""mm."""

THICKEST_STRIP: Final = 30.0
"""mm. Sheets are sold up to about so thick; more is packed with timber (common practice, no source)."""


class Lintel(Model):
    """A beam on edge over an opening, of one or more plies side by side."""

    section: SectionField
    """Of one ply, as [thickness, height]."""
    plies: Annotated[int, Field(ge=1, le=4)] = 1
    """How many."""
    material: Name | None = None
    """What it is of; else of the frame's."""
    packer: Name = "plywood"
    """The sheet whose strips pack it out to the wall's depth, as thick as that takes. What is over 30 mm is
    packed with timber of the frame's."""

    def members(self, left: float, right: float, bottom: float, depth: float) -> list[Member]:
        """Plies and packers of a lintel in a wall `depth` mm deep; all lengths mm.

        The plies start at the wall's outer face; the last of several is flush with the inside, and a packer
        fills what is left. Plies thicker than the wall stand proud of the inside.
        """
        thick, height = self.section
        box = (left, right, bottom, bottom + height)
        spare = depth - self.plies * thick
        starts = [ply * thick for ply in range(self.plies)]
        packs = spare >= THINNEST_PACKER
        if packs and self.plies > 1:
            starts[-1] = depth - thick
        made = [
            level("lintel", self.section, box, (start, start + thick), material=self.material)
            for start in starts
        ]
        if packs:
            start = thick if self.plies == 1 else (self.plies - 1) * thick
            made.append(self._packer(spare, box, start))
        return made

    def _packer(self, thick: float, box: tuple[float, float, float, float], start: float) -> Member:
        """What packs it out by `thick` mm, `start` mm inwards: a strip of sheet where sheets are so thick."""
        section, depth = Section(thick, self.section.depth), (start, start + thick)
        if thick > THICKEST_STRIP + TOUCH:
            return level("packer", section, box, depth)
        return level("packer", section, box, depth, material=self.packer, of_sheet=True)

    def reports(self, depth: float) -> list[Finding]:
        """What is to be said of it in a wall `depth` mm deep."""
        proud = self.plies * self.section.breadth - depth
        if proud <= TOUCH:
            return []
        return [LINTEL_PROUD.of(value=proud, proud=Mm(proud, ".1f"))]


class Trimmed(OpeningRule):
    """King studs, trimmers, a lintel or a flat head on them, a sill, and cripples above and below.

    King studs stand full height; the trimmers beside them reach up to the opening's head.
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

    def frame_opening(self, hole: Hole, wall: Wall) -> FramedOpening:
        """Return the framing, mm; see `OpeningRule`.

        Raises:
            CannotFrame: lintel, kings or sill do not fit in.
        """
        breadth = wall.breadth
        bearing = self.trimmers * breadth
        left, right = hole.left - bearing, hole.right + bearing
        outer = bearing + self.kings * breadth
        what, height = ("head", breadth) if self.lintel is None else ("lintel", self.lintel.section.depth)
        top = hole.top + height
        refuse_flat(hole, wall)
        refuse_ends(hole, wall, outer, "trimmers and king studs")
        refuse_low(what, top, left, right, wall)
        sill, under, reported = sill_of(hole, wall)
        over, more = over_head(left, right, top, wall)
        reported += more
        if self.lintel is None:
            beam = [level("head", wall.section, (left, right, hole.top, top), wall.through_wall)]
        else:
            beam = self.lintel.members(left, right, hole.top, wall.depth)
            reported += self.lintel.reports(wall.depth)
        return FramedOpening(
            members=(*self._uprights(hole, wall), *beam, *sill),
            left=hole.left - outer,
            right=hole.right + outer,
            over=over,
            under=under,
            findings=tuple(reported),
        )

    def _uprights(self, hole: Hole, wall: Wall) -> list[Member]:
        """Trimmers and kings of both sides, from the hole outwards."""
        breadth = wall.breadth
        made: list[Member] = []
        for step in range(self.trimmers + self.kings):
            for left in (hole.left - (step + 1) * breadth, hole.right + step * breadth):
                if step >= self.trimmers:
                    made.append(full_stud("king stud", left, wall))
                else:
                    outline = rectangle(left, left + breadth, wall.sole_thickness, hole.top)
                    made.append(Member("trimmer", wall.section, outline, wall.through_wall, UPRIGHT))
        return made
