"""What is to be looked at in a roof: what birdsmouths leave, who holds the ridge, overhangs, pitch, spans."""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterator
from typing import Final

from soleplate.engine.rules import (
    PRACTICE,
    Building,
    Finding,
    FindingKind,
    Layout,
    Mm,
    Piece,
    Sides,
    SlopeOut,
    all_picked,
    at_least,
    at_most,
    plane_of,
    said,
)
from soleplate.plugins.roofs.bearing import OFF_STUDS
from soleplate.plugins.roofs.members import Ladder, RidgeBoard, RollCovering
from soleplate.plugins.roofs.rafters import Rafters

SAME: Final = 0.5
"""mm. What is past a limit by less is not past it."""

LEAST_STOCK: Final = 50.8
"""mm over a birdsmouth: 2 in (NAVEDTRA 14044 p 2-11)."""
LEAST_SEAT: Final = 38.1
"""mm of bearing on wood: 1 1/2 in (IRC R802.6)."""
LEAST_FOR_BOARD: Final = 14.036
"""Degrees: 3 in 12, under which a ridge is to be a beam (IRC R802.3, R802.4.4)."""
TIES_APART: Final = 609.6
"""mm: 24 in (IRC R802.5.2, as quoted by others)."""
SPANS: Final = ((89.0, 2870.2), (140.0, 4495.8), (184.0, 5943.6), (235.0, 7569.2))
"""mm: depths of 2x4 to 2x10 as they are dressed, and how far they span clear, 12 in from centre to centre, of
spruce-pine-fir no. 2: 9 ft 5 in, 14 ft 9 in, 19 ft 6 in, 24 ft 10 in (IBC 2018 Table 2308.7.2(2), ceiling
attached, L/240, roof live load 20 psf, dead load 10 psf)."""
SPANS_BREADTH: Final = 50.8
"""mm: of rafters up to 2 in broad the table tells."""
SPANS_CLOSEST: Final = 304.8
SPANS_DRESSED: Final = 38.0
LONGEST_TAIL: Final = 609.6
"""mm: 24 in, of an overhang whose rafter is notched (IRC R802.7.1.1, as restated)."""
LEAST_IN_TAIL: Final = 88.9
"""mm: 3 1/2 in that are left there (the same)."""
LONGEST_LADDER: Final = 450.0
"""mm that a gable ladder reaches out without more ado (northernarchitecture.us, "The gable ladder")."""
AIR_OVER_INSULATION: Final = 50.0
"""mm between insulation and the deck over it (BS 5250, as restated by others)."""
EAVES_AIR_UP_TO: Final = 15.0
"""Degrees, up to which a roof has the wider gap at its eaves (BS 5250, as restated by others)."""
EAVES_AIR: Final = (25_000.0, 10_000.0)
"""mm2 for each m of eaves of a cold roof up to that pitch and over it: gaps of 25 and 10 mm that go all along
(BS 5250, as restated by others)."""
LEAST_FOR_ROLLS: Final = 1.432
"""Degrees: 1 in 40, to which felt and membranes are designed (BS 6229, BS 8217)."""
LEAST_FOR_SHEETS: Final = 4.0
"""Degrees, of profiled sheet (common practice, no source)."""

STOCK_THIN: Final = FindingKind(
    "birdsmouth-deep",
    "warn",
    "NAVEDTRA 14044 p 2-11",
    "{left} of the rafters are left over their birdsmouths, plumb; leave at least {least}",
)
SEAT_SHORT: Final = FindingKind(
    "seat-short",
    "warn",
    "IRC R802.6",
    "rafters sit on {seat} of the plates; at least {least} is asked for: a deeper rafter, a deeper"
    " plate, or a"
    " lower pitch gives more",
)
BOARD_LOW: Final = FindingKind(
    "ridge-unheld",
    "warn",
    "IRC R802.3, R802.4.4",
    "at {pitch:.1f} degrees a ridge board carries nothing, and rafters push the walls out: under 3 in 12"
    " the ridge"
    " is to be a beam",
)
RIDGE_UNTIED: Final = FindingKind(
    "ridge-unheld",
    "warn",
    "IRC R802.3, R802.5.2",
    "no ties hold the walls together under a ridge board, and rafters push them out: tie every pair at"
    " or near the"
    " plates, or make the ridge a beam",
)
TIES_HIGH: Final = FindingKind(
    "ridge-unheld",
    "warn",
    "IRC R802.5.2, as quoted by others",
    "ties lie {up} over the plates, above the lower third of the rise ({third}): so high they hold no"
    " thrust of the"
    " rafters",
)
TIES_WIDE: Final = FindingKind(
    "ridge-unheld",
    "warn",
    "IRC R802.5.2, as quoted by others",
    "ties are up to {apart} apart; to hold the thrust of the rafters they stand at most {most} apart",
)
BOARD_SHALLOW: Final = FindingKind(
    "ridge-shallow",
    "warn",
    "IRC R802.3",
    "the ridge board is {depth} deep and the rafters' plumb cuts {cut}: it is to be as deep as those",
)
TAIL_LONG: Final = FindingKind(
    "eaves-long",
    "warn",
    "IRC R802.7.1.1, as restated by others",
    "notched rafters reach {overhang} past the wall; up to {most} is said, with {left} left over the notch",
)
LADDER_LONG: Final = FindingKind(
    "verge-long",
    "warn",
    'northernarchitecture.us, "The gable ladder"',
    "the verge ladders reach out {overhang}; over {most} they want care: stronger rungs, closer, held"
    " well at the"
    " rafter",
)
PITCH_LOW: Final = FindingKind(
    "pitch-low",
    "warn",
    PRACTICE,
    "{pitch:.2f} degrees is under the least pitch of its covering, {least:g} degrees: water will stand"
    " or drive in",
)
RAFTER_LONG: Final = FindingKind(
    "rafter-span-long",
    "warn",
    "IBC 2018 Table 2308.7.2(2)",
    "rafters of {section} span {clear} clear; by the table even {known} of spruce-pine-fir no. 2 goes no"
    " further than {longest}, {apart} from centre to centre, for a roof load of 20 psf and 10 psf of its own:"
    " take deeper rafters, or carry them in between",
)

RAFTER_SPAN: Final = FindingKind(
    "rafter-span",
    "note",
    "OBC B-9.23.4.2 (how a span is measured); IBC 2018 Table 2308.7.2(2) has spans for 20 psf",
    "rafters of {section} in {material} span {clear} clear, level from face to face of what they rest"
    " on, up to"
    " {spacing} from centre to centre: hold that against a span table for the snow and wind of the place",
)

EAVES_OPEN: Final = FindingKind(
    "eaves-open",
    "note",
    PRACTICE,
    "nothing closes the eaves and verges between the plates and what lies on the rafters: birds, insects and"
    " driven rain come in there",
)

GAP_WIDE: Final = FindingKind(
    "eaves-open",
    "warn",
    PRACTICE,
    "what the blocks at the eaves are sawn from is too narrow: {open} stay open over them, square to the"
    " deck, where {gap} were asked for; take a wider section for them, or close the rest",
)

AIR_AT_EAVES: Final = FindingKind(
    "eaves-air",
    "note",
    "BS 5250, as restated by others",
    "a gap of {gap} {where} leaves {free:.0f} mm² of free air for each m of eaves, rafters taken off;"
    " a cold roof at {pitch:.1f} degrees is to have {least:.0f} on opposite sides",
)

INSULATION_DEEP: Final = FindingKind(
    "insulation-without-air",
    "warn",
    "BS 5250, as restated by others",
    "insulation of {thickness} between rafters {depth} deep leaves {left} of air under the deck; {least} is"
    " asked for, unless all of it lies over the deck",
)

POST_IN_WAY: Final = FindingKind(
    "post-before-opening",
    "warn",
    PRACTICE,
    "a post under the ridge beam stands before {opening} in wall {wall}, {place} from its left end: move"
    " the opening,"
    " or carry the beam on a lintel that is made for it",
)

KINDS: Final = (
    STOCK_THIN,
    SEAT_SHORT,
    BOARD_LOW,
    RIDGE_UNTIED,
    TIES_HIGH,
    TIES_WIDE,
    BOARD_SHALLOW,
    TAIL_LONG,
    LADDER_LONG,
    PITCH_LOW,
    RAFTER_SPAN,
    RAFTER_LONG,
    OFF_STUDS,
    POST_IN_WAY,
    EAVES_OPEN,
    GAP_WIDE,
    AIR_AT_EAVES,
    INSULATION_DEEP,
)


def roof_findings(layout: Layout, building: Building) -> list[Finding]:
    """All that is found in a roof of rafters."""
    rule = next(all_picked(building, Rafters), None)
    if rule is None:
        return []
    found: list[Finding] = []
    for slope in layout.roofs:
        found += _birdsmouths(slope)
        found += _overhangs(slope, rule)
        found += _pitch(slope, rule)
        found += _span(slope, layout)
        found += _eaves(slope)
        found += _insulation(slope, rule)
    if len(layout.roofs) > 1:
        found += _ridge(layout.roofs[0], rule)
        found += _posts(layout.roofs[0], layout)
    return found


def _birdsmouths(slope: SlopeOut) -> Iterator[Finding]:
    card = slope.card
    if card.hap < LEAST_STOCK - SAME:
        yield STOCK_THIN.of(
            part=slope.name,
            value=card.hap,
            limit=LEAST_STOCK,
            left=Mm(card.hap, ".1f"),
            least=at_least(LEAST_STOCK),
        )
    if card.seat < LEAST_SEAT - SAME:
        yield SEAT_SHORT.of(
            part=slope.name,
            value=card.seat,
            limit=LEAST_SEAT,
            seat=Mm(card.seat, ".1f"),
            least=at_least(LEAST_SEAT),
        )


def _overhangs(slope: SlopeOut, rule: Rafters) -> Iterator[Finding]:
    left = rule.section.depth - slope.card.seat * _sin(slope.card.pitch)
    longest = max(rule.eaves.low, rule.eaves.high or 0.0)
    if longest > LONGEST_TAIL + SAME or (longest > SAME and left < LEAST_IN_TAIL - SAME):
        yield TAIL_LONG.of(
            part=slope.name,
            value=longest,
            limit=LONGEST_TAIL,
            overhang=Mm(longest),
            most=at_most(LONGEST_TAIL),
            left=at_least(LEAST_IN_TAIL),
        )
    if isinstance(rule.verge, Ladder) and rule.verge.overhang > LONGEST_LADDER + SAME:
        yield LADDER_LONG.of(
            part=slope.name,
            value=rule.verge.overhang,
            limit=LONGEST_LADDER,
            overhang=Mm(rule.verge.overhang),
            most=at_most(LONGEST_LADDER),
        )


def _pitch(slope: SlopeOut, rule: Rafters) -> Iterator[Finding]:
    covering = rule.covering
    if covering is None:
        return
    is_roll = isinstance(covering, RollCovering)
    usual = LEAST_FOR_ROLLS if is_roll else LEAST_FOR_SHEETS
    least = covering.least_pitch if covering.least_pitch is not None else usual
    basis = "BS 6229, BS 8217" if is_roll else PRACTICE
    if slope.card.pitch < least - 0.01:
        yield PITCH_LOW.of(
            part=slope.name,
            value=slope.card.pitch,
            limit=least,
            pitch=slope.card.pitch,
            least=round(least, 2),
            basis="as its maker says" if covering.least_pitch is not None else basis,
        )


def _eaves(slope: SlopeOut) -> Iterator[Finding]:
    """Whether the eaves are closed, and how much air what stays open lets in."""
    closing = slope.closing
    if closing is None:
        yield EAVES_OPEN.of(part=slope.name)
        return
    over = {piece.mark: _over(piece, slope) for piece in slope.pieces if piece.role == "blocking"}
    wide = {mark: gap for mark, gap in over.items() if gap > closing.gap + SAME}
    if wide:
        yield GAP_WIDE.of(
            part=slope.name,
            pieces=tuple(wide),
            value=round(max(wide.values()), 3),
            limit=closing.gap,
            open=Mm(max(wide.values()), ".0f"),
            gap=Mm(closing.gap),
        )
    is_soffit = any(piece.role == "soffit" for piece in slope.pieces)
    least = EAVES_AIR[slope.card.pitch > EAVES_AIR_UP_TO]
    yield AIR_AT_EAVES.of(
        part=slope.name,
        value=closing.free_mm2_each_m,
        limit=least,
        level="warn" if slope.insulation is not None and closing.free_mm2_each_m < least else "note",
        gap=Mm(closing.gap),
        where=said("beside the soffit" if is_soffit else "over the blocks"),
        free=closing.free_mm2_each_m,
        pitch=slope.card.pitch,
        least=least,
    )


def _over(block: Piece, slope: SlopeOut) -> float:
    """What stays open over a block, square to the slope: the least over its corners, mm."""
    own, across = (plane_of(slope, name) for name in (block.view or "slope", "slope"))
    corners = (own.point(u, v, w) for u, v in block.outline for w in block.depth)
    return min(
        sum((p - o) * a for p, o, a in zip(corner, across.origin, across.inwards, strict=True))
        for corner in corners
    )


def _insulation(slope: SlopeOut, rule: Rafters) -> Iterator[Finding]:
    """Whether there is room for air between insulation and the deck."""
    if slope.insulation is None:
        return
    left = rule.section.depth - slope.insulation
    if left < AIR_OVER_INSULATION - SAME:
        yield INSULATION_DEEP.of(
            part=slope.name,
            value=left,
            limit=AIR_OVER_INSULATION,
            thickness=Mm(slope.insulation),
            depth=Mm(rule.section.depth),
            left=Mm(max(left, 0.0)),
            least=at_least(AIR_OVER_INSULATION),
        )


def _ridge(slope: SlopeOut, rule: Rafters) -> Iterator[Finding]:
    """Whether something holds the walls together under a ridge board."""
    if not isinstance(rule.ridge, RidgeBoard):
        return
    card, name = slope.card, slope.name
    depth = rule.ridge.section.depth
    if depth < card.plumb_cut - SAME:
        yield BOARD_SHALLOW.of(
            part=name, value=depth, limit=card.plumb_cut, depth=Mm(depth), cut=Mm(card.plumb_cut, ".1f")
        )
    if card.pitch < LEAST_FOR_BOARD:
        yield BOARD_LOW.of(part=name, value=card.pitch, limit=LEAST_FOR_BOARD, pitch=card.pitch)
        return
    ties = [piece for piece in slope.pieces if piece.role == "tie"]
    if rule.ties is None or not ties:
        yield RIDGE_UNTIED.of(part=name)
        return
    plate = slope.card.marks[1] * _sin(card.pitch)
    rafter = next(piece for piece in slope.pieces if piece.role == "rafter")
    low = min(z for _, z in rafter.outline) + plate + card.heel
    rise = slope.card.marks[-1] * _sin(card.pitch) - plate
    up = rule.ties.height - low
    if up > rise / 3 + SAME:
        yield TIES_HIGH.of(
            part=name,
            pieces=tuple(tie.mark for tie in ties),
            value=round(up, 3),
            limit=round(rise / 3, 3),
            up=Mm(up, ".0f"),
            third=Mm(rise / 3, ".0f"),
        )
    places = sorted((tie.depth[0] + tie.depth[1]) / 2 for tie in ties)
    apart = max((b - a for a, b in itertools.pairwise(places)), default=0.0)
    if apart > TIES_APART + SAME:
        yield TIES_WIDE.of(
            part=name,
            value=round(apart, 3),
            limit=TIES_APART,
            apart=Mm(apart, ".0f"),
            most=at_most(TIES_APART),
        )


def _posts(slope: SlopeOut, layout: Layout) -> Iterator[Finding]:
    """Posts that stand before a door or window of a gable, as far in as they are broad."""
    view = slope.views["side"]
    for post in (piece for piece in slope.pieces if piece.role == "post"):
        middle = sum(u for u, _ in post.outline) / len(post.outline)
        way = (view.up[1] * view.right[2] - view.up[2] * view.right[1], view.up[2] * view.right[0])
        deep = sum(post.depth) / 2
        place = [o + middle * r + deep * w for o, r, w in zip(view.origin, view.right, way, strict=False)]
        for wall in layout.walls:
            face = wall.views["face"]
            off = [p - o for p, o in zip(place, face.origin, strict=False)]
            along = off[0] * face.right[0] + off[1] * face.right[1]
            inwards = off[1] * face.right[0] - off[0] * face.right[1]
            for opening in wall.openings:
                half = post.section[0] / 2
                near = 0.0 < inwards < wall.plan.depth + 2 * post.section[1]
                if near and opening.left - half < along < opening.right + half:
                    yield POST_IN_WAY.of(
                        part=slope.name,
                        pieces=(post.mark,),
                        value=round(along, 3),
                        opening=opening.name,
                        wall=wall.name,
                        place=Mm(along, ".0f"),
                    )


def _span(slope: SlopeOut, layout: Layout) -> Iterator[Finding]:
    """How far rafters span clear: further than a table goes, or without a limit: their load is not known."""
    card = slope.card
    rafter = next((piece for piece in slope.pieces if piece.role == "rafter"), None)
    if rafter is None:
        return
    _, first, *others = card.marks
    level = (others[0] - first) * _cos(card.pitch)
    depth = next(wall.plan.depth for wall in layout.walls if slope.name.endswith(f" {wall.name}"))
    clear = level - depth
    breadth = rafter.section[0]
    spacing = max((bay.clear for bay in slope.bays), default=0.0) + breadth
    yield RAFTER_SPAN.of(
        part=slope.name,
        value=round(clear, 3),
        section=Sides(rafter.section),
        material=rafter.material,
        clear=Mm(clear, ".0f"),
        spacing=at_most(spacing, ".0f"),
    )
    known = next(((deep, most) for deep, most in SPANS if rafter.section[1] <= deep + SAME), None)
    if known is not None and breadth <= SPANS_BREADTH + SAME and clear > known[1] + SAME:
        yield RAFTER_LONG.of(
            part=slope.name,
            value=round(clear, 3),
            limit=known[1],
            section=Sides(rafter.section),
            clear=Mm(clear, ".0f"),
            known=Sides((SPANS_DRESSED, known[0])),
            longest=Mm(known[1], ".0f"),
            apart=Mm(SPANS_CLOSEST, ".0f"),
        )


def _sin(pitch: float) -> float:
    return math.sin(math.radians(pitch))


def _cos(pitch: float) -> float:
    return math.cos(math.radians(pitch))
