"""Walls as they come out: their pieces numbered, their marks, bays, spacers, openings and courses."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from typing import NamedTuple

from soleplate.engine.building_file import MM2_PER_M2, Building, ReadOnlyDict, Units, format_length
from soleplate.engine.covering import Board, Cladding, cladding_out, courses_out, too_long
from soleplate.engine.finishing import Finish
from soleplate.engine.framing import Frame, Stretch
from soleplate.engine.layout import (
    Change,
    FinishOut,
    LeafOut,
    OpeningOut,
    PanelOut,
    Piece,
    PlanOut,
    ViewOut,
    WallOut,
)
from soleplate.engine.listing.anchors import anchors_out
from soleplate.engine.listing.braces import braces_out
from soleplate.engine.listing.net_areas import between_timbers, net_face
from soleplate.engine.listing.numbering import number_boards, number_finish, number_pieces
from soleplate.engine.listing.running_marks import bays, marked_beams, marked_plates, spacers
from soleplate.engine.rules import Finding, Hole, OpeningRule, families
from soleplate.engine.shapes import Member, Vector, View, rounded

Boards = Sequence[tuple[Board, Piece]]


@dataclass(frozen=True, slots=True)
class BuiltWall:
    """A wall's frame, its cladding and lining where it has any, and what finishes its openings."""

    frame: Frame
    cladding: Cladding | None
    lining: Cladding | None
    finishes: tuple[Finish, ...] = ()

    @property
    def name(self) -> str:
        """Of the wall."""
        return self.frame.wall.name

    @property
    def covered(self) -> tuple[Cladding, ...]:
        """What covers it, outside first."""
        return tuple(each for each in (self.cladding, self.lining) if each is not None)

    def surfaces(self, *, indoors: bool) -> Iterator[Cladding]:
        """What covers its surfaces outdoors or indoors; both of a partition's are indoors."""
        for cladding, inside in ((self.cladding, self.frame.task.plan.is_partition), (self.lining, True)):
            if cladding is not None and inside == indoors:
                yield cladding

    def numbered(self, prefix: str, building: Building) -> NumberedWall:
        """The frame's members, the boards outside and inside, what finishes openings, each with its piece."""
        units = building.units
        members = number_pieces(self.frame.part, prefix, units, building.stock.short_up_to)
        panels = self.frame.panels
        outside = _numbered(self.cladding, prefix, len(members) + 1, units, panels)
        inside = _numbered(self.lining, prefix, len(members) + len(outside) + 1, units, panels)
        first = len(members) + len(outside) + len(inside) + 1
        return NumberedWall(members, outside, inside, number_finish(self.finishes, prefix, first, units))

    def findings(self, wall: WallOut) -> Iterator[Finding]:
        """What was found while it was framed and covered; `wall` is what comes out of it."""
        yield from self.frame.findings
        for each in self.covered:
            yield from each.findings
        for finish in self.finishes:
            yield from (found.on(self.name).after(f"{finish.hole.name}: ") for found in finish.done.findings)
        for each in self.covered:
            if each.too_long:
                pieces = [piece for piece in wall.pieces if piece.face == each.surface.facing]
                yield from too_long(each, pieces)


class NumberedWall(NamedTuple):
    """A wall's members, its boards and what finishes its openings, each with its piece."""

    members: Sequence[tuple[Member, Piece]]
    outside: Boards
    inside: Boards
    finish: Sequence[tuple[Member, Piece]]

    @property
    def pieces(self) -> tuple[Piece, ...]:
        """All of them in the order of their marks."""
        return tuple(piece for group in self for _, piece in group)


def _numbered(
    cladding: Cladding | None, prefix: str, first: int, units: Units, panels: Sequence[Stretch]
) -> Boards:
    return number_boards(cladding, prefix, first, units, panels) if cladding else ()


def wall_out(
    built: BuiltWall, numbered: NumberedWall, changed: Sequence[Change], building: Building
) -> WallOut:
    """A wall as it comes out; `changed` is what differs from its design, where it was measured."""
    frame, wall, units = built.frame, built.frame.wall, building.units
    plan, swing = frame.task.plan, building.site.moisture_swing
    pieces, members = numbered.pieces, numbered.members
    plates = list(marked_plates(wall, members))
    panel_of = {piece.mark: piece.panel for _, piece in members if piece.panel is not None}
    marks = {plate.name: plate.marks(units) for plate in plates}
    between, top = frame.task.insulated, frame.plates.top or wall.top
    free = between_timbers(wall.length, top, wall.holes, wall.members) if between is not None else 0.0
    lined = between is not None and between.vapour_layer
    face = net_face(wall.length, top, wall.holes) if lined else None
    return WallOut(
        name=wall.name,
        length=rounded(wall.length),
        display=format_length(wall.length, units),
        plan=PlanOut(
            start=(rounded(plan.start[0]), rounded(plan.start[1])),
            direction=rounded(math.degrees(math.atan2(plan.run[1], plan.run[0])) % 360.0),
            depth=rounded(wall.depth),
        ),
        faces=plan.faces,
        views=ReadOnlyDict({view.name: view_out(view) for view in frame.part.views}),
        top_line=tuple((rounded(x), rounded(z)) for x, z in (frame.plates.top or wall.top).points),
        rules=ReadOnlyDict(_rules(frame)),
        pieces=pieces,
        marks=ReadOnlyDict(marks),
        plate_lengths=(
            *(each for plate in plates for each in plate.by_length(marks[plate.name], units, panel_of)),
            *(
                each
                for beam in marked_beams(wall, frame.openings, members)
                for each in beam.by_length(beam.marks(units), units)
            ),
        ),
        panels=_panels(frame, pieces, units),
        bays=bays(wall, members, units),
        spacers=spacers(wall, frame.runs, units),
        openings=tuple(_finished(built, numbered, units)),
        cladding=cladding_out(built.cladding, swing) if built.cladding else None,
        courses=courses_out(built.cladding, numbered.outside, units) if built.cladding else (),
        lining=cladding_out(built.lining, swing) if built.lining else None,
        lining_courses=courses_out(built.lining, numbered.inside, units) if built.lining else (),
        changes=tuple(changed),
        insulation=None if between is None else between.thickness,
        insulation_m2=None if between is None else rounded(free / MM2_PER_M2),
        vapour_m2=None if face is None else rounded(face / MM2_PER_M2),
        anchors=anchors_out(frame.held, members, units),
        braces=braces_out(frame.braced, members, units),
        weight_kg=rounded(sum(piece.weight_kg for piece in pieces)),
    )


def _finished(built: BuiltWall, numbered: NumberedWall, units: Units) -> Iterator[OpeningOut]:
    """The openings of a wall, each with what finishes it."""
    finishes = {finish.hole.name: finish for finish in built.finishes}
    mark_of = {id(member): piece.mark for member, piece in numbered.finish}
    for opening in openings_out(built.frame.openings, numbered.members):
        finish = finishes.get(opening.name)
        if finish is None or not (pieces := finish.done.members):
            yield opening
            continue
        clear = finish.done.clear
        width, height = clear.right - clear.left, clear.top - clear.bottom
        told = FinishOut(
            rule=finish.rule.name,
            pieces=tuple(mark_of[id(member)] for member in pieces),
            clear_width=rounded(width),
            clear_height=rounded(height),
            display=f"{format_length(width, units)} × {format_length(height, units)}",
            leaves=tuple(
                LeafOut(
                    left=rounded(leaf.span.left),
                    right=rounded(leaf.span.right),
                    bottom=rounded(leaf.span.bottom),
                    top=rounded(leaf.span.top),
                    hinged=leaf.hinged,
                    pieces=tuple(mark_of[id(member)] for member in leaf.members),
                )
                for leaf in finish.done.leaves
            ),
        )
        yield replace(opening, finish=told)


def _panels(frame: Frame, pieces: Sequence[Piece], units: Units) -> tuple[PanelOut, ...] | None:
    """The panels as they come out; `None` where the wall is in one piece."""
    made = tuple(
        PanelOut(
            number=number,
            start=rounded(left),
            length=rounded(right - left),
            display=format_length(right - left, units),
            weight_kg=rounded(sum(p.weight_kg for p in pieces if p.is_frame and p.panel == number)),
        )
        for number, (left, right) in enumerate(frame.panels, 1)
    )
    return made or None


def view_out(view: View) -> ViewOut:
    """A plane as it comes out."""
    return ViewOut(
        origin=_vector(view.origin),
        right=_way(view.right),
        up=_way(view.up),
    )


def _vector(vector: Vector) -> Vector:
    x, y, z = vector
    return rounded(x), rounded(y), rounded(z)


def _way(vector: Vector) -> Vector:
    """A unit vector, so exact that over 100 m a place comes out at 0.001 mm."""
    x, y, z = (round(part, 9) + 0.0 for part in vector)
    return x, y, z


def _rules(frame: Frame) -> dict[str, str]:
    """The rule that a member picks, by its name; each opening tells its own."""
    told = [
        pick.member
        for family, pick in families.choices()
        if pick.most is None and family.base is not OpeningRule
    ]
    return {member: rule.name for member in told for rule in frame.task.rules.by_member[member]}


def openings_out(
    openings: Sequence[tuple[Hole, str, tuple[Member, ...]]], members: Sequence[tuple[Member, Piece]]
) -> tuple[OpeningOut, ...]:
    """Openings as they come out, each with its hole, its rule and its timbers."""
    mark_of = {id(member): piece.mark for member, piece in members}
    return tuple(
        OpeningOut(
            name=hole.name,
            kind=hole.kind,
            left=rounded(hole.left),
            right=rounded(hole.right),
            bottom=rounded(hole.bottom),
            top=rounded(hole.top),
            framing=framing,
            pieces=tuple(mark_of[id(member)] for member in framed if id(member) in mark_of),
        )
        for hole, framing, framed in openings
    )
