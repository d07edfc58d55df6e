"""A slope of a roof as it comes out: its pieces numbered, its marks, bays, rafter card, deck and covering."""

from __future__ import annotations

import itertools
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from soleplate.engine.building_file import MM2_PER_M2, MM_PER_M, Building, ReadOnlyDict, Units, format_length
from soleplate.engine.covering import Cladding, cladding_out, courses_out, too_long
from soleplate.engine.layout import (
    BayOut,
    ClosingOut,
    CoveringOut,
    CoveringPartOut,
    Mark,
    Piece,
    PlateLength,
    RafterCardOut,
    SlopeOut,
)
from soleplate.engine.listing.net_areas import between_timbers, net_face
from soleplate.engine.listing.numbering import number_boards, number_pieces
from soleplate.engine.listing.running_marks import NARROWEST, Numbered, spacers
from soleplate.engine.listing.walls import Boards, openings_out, view_out
from soleplate.engine.roofs import SlopeFrame
from soleplate.engine.rules import CoveringCount, CoveringPart, Finding, Hole
from soleplate.engine.shapes import TOUCH, TopLine, rounded


@dataclass(frozen=True, slots=True)
class BuiltSlope:
    """A framed slope, and its deck where it has one."""

    framed: SlopeFrame
    deck: Cladding | None

    def findings(self, slope: SlopeOut) -> Iterator[Finding]:
        """What was found while it was framed and decked; `slope` is what comes out of it."""
        yield from self.framed.findings
        if self.deck is not None:
            yield from self.deck.findings
            yield from too_long(self.deck, [piece for piece in slope.pieces if not piece.is_frame])


def slope_prefix(framed: SlopeFrame) -> str:
    """Of a slope's marks: by the wall under its eaves."""
    return f"R{framed.slope.wall[:1].upper()}"


def slope_out(built: BuiltSlope, building: Building) -> SlopeOut:
    """A slope as it comes out."""
    framed, units = built.framed, building.units
    prefix = slope_prefix(framed)
    members = number_pieces(framed.part, prefix, units, building.stock.short_up_to)
    boards: Boards = number_boards(built.deck, prefix, len(members) + 1, units) if built.deck else ()
    pieces = tuple(piece for group in (members, boards) for _, piece in group)
    deck = cladding_out(built.deck, building.site.moisture_swing) if built.deck else None
    length = framed.shape.length
    marks = _marks(framed, members, units)
    return SlopeOut(
        name=framed.name,
        length=rounded(length),
        display=format_length(length, units),
        views=ReadOnlyDict({view.name: view_out(view) for view in framed.views}),
        rules=ReadOnlyDict(_rules(framed)),
        pieces=pieces,
        marks=ReadOnlyDict(marks),
        plate_lengths=tuple(
            PlateLength(plate=plate, start=0.0, display=format_length(0.0, units), alone=True, marks=on_plate)
            for plate, on_plate in marks.items()
        ),
        bays=_bays(framed, units),
        spacers=spacers(framed.lying, framed.runs, units),
        openings=openings_out([(_up(hole, framed), rule, m) for hole, rule, m in framed.openings], members),
        deck=deck,
        courses=courses_out(built.deck, boards, units) if built.deck else (),
        card=_card(framed, units),
        closing=_closing(framed, pieces),
        insulation=framed.slope.insulation,
        insulation_m2=_insulated(framed),
        vapour_m2=_vapour(framed),
        covering=_covering(framed),
        deck_m2=deck.area_m2 if deck is not None else 0.0,
        weight_kg=rounded(sum(piece.weight_kg for piece in pieces)),
    )


def _rules(framed: SlopeFrame) -> dict[str, str]:
    """The rules that lay it, by what they do."""
    slope, run = framed.slope, framed.task.run
    picked = {
        "roof": framed.rule,
        "spacing": run.rule if run is not None else None,
        "noggins": slope.noggins,
        "deck": slope.deck.rule if slope.deck is not None else None,
    }
    return {what: rule.name for what, rule in picked.items() if rule is not None}


def _up(hole: Hole, framed: SlopeFrame) -> Hole:
    """A window with its height measured up the slope from over the eaves wall's outer face."""
    foot = framed.slope.foot
    return replace(hole, bottom=hole.bottom + foot, top=hole.top + foot)


def _marks(framed: SlopeFrame, members: Numbered, units: Units) -> dict[str, tuple[Mark, ...]]:
    """By plate, to the near face of each rafter on it, from the outline's corner, seen from outside there."""
    mark_of = {id(member): piece.mark for member, piece in members}
    breadth, length = framed.lying.breadth, framed.shape.length
    near, *far = framed.shape.plates
    standing = [(left, mark_of[id(member)]) for left, member in framed.rafters]
    marks = {f"{near.wall} plate": standing}
    for plate in far:
        marks[f"{plate.wall} plate"] = [(length - left - breadth, mark) for left, mark in standing]
    return {
        name: tuple(
            Mark(at=rounded(at), display=format_length(at, units), mark=mark) for at, mark in sorted(places)
        )
        for name, places in marks.items()
    }


def _bays(framed: SlopeFrame, units: Units) -> tuple[BayOut, ...]:
    """Clear gaps between rafters that reach from end to end, but for those that a window lies in."""
    edges = [(left, left + framed.lying.breadth) for left in sorted(left for left, _ in framed.rafters)]
    holes = framed.lying.holes
    return tuple(
        BayOut(
            from_=rounded(start), to=rounded(end), clear=rounded(end - start),
            display=format_length(end - start, units),
        )
        for (_, start), (end, _) in itertools.pairwise(edges)
        if end - start > NARROWEST and not any(hole.left < end and start < hole.right for hole in holes)
    )  # fmt: skip


def _card(framed: SlopeFrame, units: Units) -> RafterCardOut:
    card = framed.slope.card
    return RafterCardOut(
        blank=rounded(card.blank),
        short_length=rounded(card.short_length),
        plumb_cut=rounded(card.plumb_cut),
        pitch=rounded(card.pitch),
        rise_in_12=rounded(card.rise_in_12),
        hap=rounded(card.hap),
        seat=rounded(card.seat),
        heel=rounded(card.heel),
        marks=tuple(rounded(mark) for mark in card.marks),
        displays=tuple(format_length(mark, units) for mark in card.marks),
    )


def _closing(framed: SlopeFrame, pieces: Sequence[Piece]) -> ClosingOut | None:
    slope = framed.slope
    if slope.gap is None:
        return None
    length = framed.shape.length
    if slope.open_along:
        # Rafters cross over the gap beside a wall.
        crossed = sum(right - left for left, right in {m.depth for m in framed.members if m.role == "rafter"})
        eaves, open_along = [length - crossed], slope.open_along
    else:
        blocks = [piece for piece in pieces if piece.role == "blocking"]
        eaves = [sum(each.length for each in blocks if each.view == row.pattern.view) for row in slope.blocks]
        open_along = tuple(piece.length for piece in blocks)
    return ClosingOut(
        gap=rounded(slope.gap),
        free_mm2_each_m=rounded(min(eaves, default=0.0) * slope.gap / length * MM_PER_M),
        mesh_m=rounded(sum(open_along) / MM_PER_M),
    )


def _insulated(framed: SlopeFrame) -> float | None:
    """What is left between the timbers over the room for insulation, m2."""
    slope = framed.slope
    if slope.insulation is None or slope.indoors is None:
        return None
    left, right, bottom, top = slope.indoors
    line = TopLine(((0.0, top - bottom), (right - left, top - bottom)))
    up = bottom - slope.foot
    timbers = [m.moved(tuple((u - left, v - up) for u, v in m.outline)) for m in framed.lying.members]
    return rounded(between_timbers(right - left, line, _windows(framed, left, up), timbers) / MM2_PER_M2)


def _vapour(framed: SlopeFrame) -> float | None:
    """The layer under insulation, over rafters too, m2."""
    slope = framed.slope
    if slope.insulation is None or slope.indoors is None or not slope.vapour_layer:
        return None
    left, right, bottom, top = slope.indoors
    line = TopLine(((0.0, top - bottom), (right - left, top - bottom)))
    return rounded(net_face(right - left, line, _windows(framed, left, 0.0)) / MM2_PER_M2)


def _windows(framed: SlopeFrame, left: float, up: float) -> tuple[Hole, ...]:
    """Roof windows from `left` along the eaves and `up` the lying wall on."""
    return tuple(
        replace(
            hole, left=hole.left - left, right=hole.right - left, bottom=hole.bottom - up, top=hole.top - up
        )
        for hole in framed.lying.holes
    )


def _covering(framed: SlopeFrame) -> CoveringOut | None:
    found = framed.slope.covering
    if found is None:
        return None
    count = len(found.parts)
    return CoveringOut(
        kind=found.kind,
        sheets=count if found.kind == "sheet" else None,
        rolls=count if found.kind == "roll" else None,
        width=rounded(found.width),
        piece_length=rounded(found.length),
        lap=rounded(found.lap),
        overhang=rounded(found.overhang),
        parts=tuple(_part(part, found) for part in found.parts),
        battens=len(found.rows),
        first_batten=rounded(found.rows[0]) if found.rows else None,
        gauge=rounded(found.gauge) if found.rows else None,
        area_m2=rounded(framed.slope.area / MM2_PER_M2),
    )


def _part(part: CoveringPart, covering: CoveringCount) -> CoveringPartOut:
    wide = part.right - part.left if covering.kind == "sheet" else part.top - part.bottom
    return CoveringPartOut(
        left=rounded(part.left),
        right=rounded(part.right),
        bottom=rounded(part.bottom),
        top=rounded(part.top),
        cut_to=rounded(wide) if wide < covering.width - TOUCH else None,
    )
