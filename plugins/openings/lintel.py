"""Lintels: beams on edge over openings, and how they fill the wall or are let in under the top plate."""

from __future__ import annotations

import operator
from dataclasses import replace
from typing import Annotated, Final

from pydantic import Field

from soleplate.engine.rules import (
    LEAST_CRIPPLE,
    LEAST_GAP,
    PRACTICE,
    TOUCH,
    CannotFrame,
    Finding,
    FindingKind,
    Hole,
    Member,
    Mm,
    Model,
    Name,
    Reach,
    Section,
    SectionField,
    Wall,
    at_most,
    level,
)

LINTEL_PROUD: Final = FindingKind(
    "lintel-proud", "warn", PRACTICE, "the lintel stands {proud} proud of the wall's inside"
)

LINTEL_LET_IN: Final = FindingKind(
    "lintel-let-in",
    "note",
    PRACTICE,
    "the lintel is let in {depth} deep under the top plate: the hole that is left is {height} high",
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
    carries: Annotated[bool, Field(exclude_if=operator.not_)] = False
    """Whether it is made to carry the studs of an opening above it too, which stand on it then. Where it is
    not, those are led past it in a wall that carries a roof."""
    let_in: Annotated[bool, Field(exclude_if=operator.not_)] = False
    """Whether it is let in right under the top plate, for an opening up to that: the hole that is left is
    lower by it."""

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

    def hole_under(self, hole: Hole, wall: Wall, left: float, right: float) -> Hole:
        """The hole that it leaves where it is let in under the top plate from `left` to `right`, mm.

        Raises:
            CannotFrame: the plate slopes there, it is thicker than the wall, or nothing is left of the hole.
        """
        line = wall.underside
        plate, depth = line.lowest(max(left, 0.0), min(right, wall.length)), self.section.depth
        thick, under = self.plies * self.section.breadth, plate - depth
        if line.highest(max(left, 0.0), min(right, wall.length)) - plate > LEAST_GAP:
            raise CannotFrame(
                "its lintel is to be let in, and the top plate over it slopes; accepted is one without let_in"
            )
        if thick > wall.depth + TOUCH:
            raise CannotFrame(
                "a lintel {thick} thick cannot be let in, for the wall is {depth} deep; accepted are plies"
                " that are together up to that",
                thick=Mm(thick),
                depth=at_most(wall.depth),
            )
        lowest = max(hole.bottom, wall.sole_thickness if hole.ground is None else hole.ground)
        if under < lowest + LEAST_CRIPPLE:
            raise CannotFrame(
                "a lintel {depth} deep, let in under the plate at {plate}, leaves nothing of an opening from"
                " {bottom} up; accepted is a lintel up to {most} deep",
                depth=Mm(depth),
                plate=Mm(plate, ".1f"),
                bottom=Mm(hole.bottom, ".1f"),
                most=at_most(max(plate - lowest - LEAST_CRIPPLE, 0.0), ".1f"),
            )
        if hole.top < under - TOUCH:
            raise CannotFrame(
                "its top at {top} is under the lintel that is let in under the plate, {room}; accepted is a"
                " top in that room, or a lintel without let_in",
                top=Mm(hole.top, ".1f"),
                room=Reach(under, plate, ".1f"),
            )
        return replace(hole, top=under)

    def let_in_finding(self, hole: Hole) -> Finding:
        """How deep it is let in, over the hole that it leaves."""
        depth, height = self.section.depth, hole.top - hole.bottom
        return LINTEL_LET_IN.of(value=depth, depth=Mm(depth), height=Mm(height, ".1f"))

    def reports(self, depth: float) -> list[Finding]:
        """What is to be said of it in a wall `depth` mm deep."""
        proud = self.plies * self.section.breadth - depth
        if proud <= TOUCH:
            return []
        return [LINTEL_PROUD.of(value=proud, proud=Mm(proud, ".1f"))]
