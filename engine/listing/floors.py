"""A floor as it comes out: its pieces numbered, its marks, bays, spacers, hatches, pads and areas."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import Final, Literal

from soleplate.engine.building_file import MM2_PER_M2, Building, ReadOnlyDict, format_length
from soleplate.engine.covering import Cladding, cladding_out, courses_out, too_long
from soleplate.engine.floors import FLOOR, FramedFloor
from soleplate.engine.layout import FloorOut
from soleplate.engine.listing.net_areas import between_timbers
from soleplate.engine.listing.numbering import number_boards, number_pieces
from soleplate.engine.listing.running_marks import MarkedPlate, Numbered, bays, marked_plates, spacers
from soleplate.engine.listing.walls import Boards, openings_out, view_out
from soleplate.engine.rules import Finding
from soleplate.engine.shapes import rounded

PREFIX: Final = "FL"
"""Of a floor's marks."""


@dataclass(frozen=True, slots=True)
class BuiltFloor:
    """A framed floor, and its deck where it has one."""

    framed: FramedFloor
    deck: Cladding | None

    def findings(self, floor: FloorOut) -> Iterator[Finding]:
        """What was found while it was framed and decked; `floor` is what comes out of it."""
        yield from self.framed.findings
        if self.deck is not None:
            yield from self.deck.findings
            yield from too_long(self.deck, [piece for piece in floor.pieces if not piece.is_frame])


def floor_out(built: BuiltFloor, building: Building) -> FloorOut:
    """A floor as it comes out."""
    framed, units = built.framed, building.units
    frame, wall = framed.frame, framed.lying
    members = number_pieces(framed.part, PREFIX, units, building.stock.short_up_to)
    boards: Boards = number_boards(built.deck, PREFIX, len(members) + 1, units) if built.deck else ()
    pieces = tuple(piece for group in (members, boards) for _, piece in group)
    length, width = framed.plan.length, framed.plan.width
    rims = _rims(framed, members)
    marks = {rim.name: rim.marks(units) for rim in rims}
    diagonal = math.hypot(length, width)
    deck = cladding_out(built.deck, building.site.moisture_swing) if built.deck else None
    return FloorOut(
        name=FLOOR,
        length=rounded(length),
        width=rounded(width),
        display=f"{format_length(length, units)} × {format_length(width, units)}",
        runs=runs_of(framed),
        views=ReadOnlyDict({frame.view.name: view_out(frame.view)}),
        rules=ReadOnlyDict(_rules(framed)),
        pieces=pieces,
        marks=ReadOnlyDict(marks),
        plate_lengths=tuple(each for rim in rims for each in rim.by_length(marks[rim.name], units)),
        bays=bays(wall, members, units),
        spacers=spacers(wall, framed.runs, units),
        openings=openings_out(framed.openings, members),
        deck=deck,
        courses=courses_out(built.deck, boards, units) if built.deck else (),
        pads=tuple((rounded(x), rounded(y)) for x, y in framed.pads),
        pad_size=frame.pad_size,
        diagonal=rounded(diagonal),
        diagonal_display=format_length(diagonal, units),
        deck_m2=deck.area_m2 if deck is not None else 0.0,
        insulation=frame.insulation,
        insulation_m2=None if frame.insulation is None else rounded(_insulated(framed) / MM2_PER_M2),
        weight_kg=rounded(sum(piece.weight_kg for piece in pieces)),
    )


def runs_of(framed: FramedFloor) -> Literal["front-back", "left-right"]:
    """The way that joists run."""
    return "front-back" if abs(framed.frame.view.up[1]) > abs(framed.frame.view.up[0]) else "left-right"


def _insulated(framed: FramedFloor) -> float:
    """What is left between the timbers for insulation, hatches not counted, mm2."""
    wall = framed.lying
    return between_timbers(wall.length, wall.top, wall.holes, wall.members)


def _rules(framed: FramedFloor) -> dict[str, str]:
    """The rules that lay it, by what they do."""
    frame = framed.frame
    picked = {
        "floor": framed.rule,
        "joists": frame.spacing,
        "noggins": frame.noggins,
        "deck": frame.deck,
    }
    return {what: rule.name for what, rule in picked.items() if rule is not None}


def _rims(framed: FramedFloor, members: Numbered) -> tuple[MarkedPlate, ...]:
    """The rim joists with their marks, each named by the side of the building that it is on."""
    sides = ("front", "back") if runs_of(framed) == "front-back" else ("right", "left")
    both = marked_plates(framed.lying, members)
    return tuple(replace(rim, name=f"{side} rim joist") for side, rim in zip(sides, both, strict=True))
