"""What is to be looked at in a floor: its deck, its spans, the air under it."""

from __future__ import annotations

import itertools
from collections.abc import Iterator, Sequence
from typing import Final, NamedTuple

from soleplate.engine.rules import (
    PRACTICE,
    Building,
    Finding,
    FindingKind,
    FloorOut,
    Mm,
    Piece,
    Sides,
    at_least,
    at_most,
)

SAME: Final = 0.5
"""mm. What is over a limit by less is not over it."""


class LeastDeck(NamedTuple):
    """The least thickness of a deck, mm, of joists at most 400, 450 and 600 mm apart."""

    what: str
    thickness: tuple[float, float, float]


CENTRES: Final = (400.0, 450.0, 600.0)

DECKS: Final = {
    "chipboard": LeastDeck("chipboard", (18.0, 18.0, 22.0)),
    "particleboard": LeastDeck("chipboard", (18.0, 18.0, 22.0)),
    "osb": LeastDeck("OSB", (15.0, 15.0, 18.0)),
    "plywood": LeastDeck("plywood", (15.0, 15.0, 18.0)),
}
"""By a word in the name of a sheet's material: NHBC Standards 6.4.19 Table 7, of P5, OSB3 and plywood."""

BOARDS: Final = LeastDeck("softwood boards", (16.0, 16.0, 19.0))
"""NHBC Standards 6.4.19 Table 7."""

LEAST_VOID: Final = 150.0
"""mm from the ground to the underside of the joists (Approved Document C, as restated)."""

LEAST_UNDER_BEARERS: Final = 75.0
"""mm from the ground to the underside of what the joists lie on (Approved Document C, as restated)."""

VENTS_EACH_M: Final = 1500.0
VENTS_EACH_M2: Final = 500.0
"""mm2 of openings for each m of outer wall and each m2 of floor (Approved Document C, as restated)."""

NO_STRUTS_UP_TO: Final = 2500.0
"""mm of clear span without a row of strutting (UK practice, as restated by others)."""

NOTCH_SHARE: Final = 0.125
"""Of a joist's depth (UK rule, as several restate it)."""

DOCUMENT_C: Final = "Approved Document C (England), as restated by others"

DECK_THIN: Final = FindingKind(
    "deck-thin",
    "warn",
    "NHBC Standards 6.4.19 Table 7",
    "the deck is {thickness} thick on joists up to {spacing} from centre to centre; by the table {what} is to"
    " be {least} there",
)

DECK_WIDE: Final = FindingKind(
    "deck-thin",
    "warn",
    "NHBC Standards 6.4.19 Table 7",
    "the deck lies on joists up to {spacing} from centre to centre, wider than the table goes, {widest};"
    " space them closer",
)

VOID_LOW: Final = FindingKind(
    "floor-void",
    "warn",
    DOCUMENT_C,
    "there are {void} from the ground to the underside of the {what}; {least} is asked for, so that the"
    " timber keeps dry",
)

VENTS: Final = FindingKind(
    "floor-ventilation",
    "note",
    DOCUMENT_C,
    "the air under the floor wants at least {area:.0f} mm² of openings, clear of mesh, spread over opposite"
    " sides",
)

NO_STRUTS: Final = FindingKind(
    "no-strutting",
    "warn",
    "UK practice, as restated by others",
    "joists span {clear} clear, and no noggins or struts stand between them; set a row in the middle of a"
    " span over {most}",
)

FLOOR_SPAN: Final = FindingKind(
    "floor-span",
    "note",
    "NHBC Standards 2006 6.4-A (what its span tables assume: 1.5 kN/m2 on the floor)",
    "joists of {section} in {material} span {clear} clear, up to {spacing} from centre to centre: hold that"
    " against a span table for what the floor has to carry, as a rule 1.5 kN/m2 beside its own weight",
)

JOIST_NOTCH: Final = FindingKind(
    "joist-notch",
    "note",
    "UK rule, as several restate it",
    "cut no notch deeper than {deepest} into a joist, and none but between 0.07 and 0.25 of its span from"
    " where it bears",
)

INSULATION_THICK: Final = FindingKind(
    "insulation-thick",
    "warn",
    PRACTICE,
    "insulation of {thickness} is thicker than the joists are deep, {depth}: it would hang below them",
)

KINDS: Final = (
    DECK_THIN,
    DECK_WIDE,
    VOID_LOW,
    VENTS,
    NO_STRUTS,
    FLOOR_SPAN,
    JOIST_NOTCH,
    INSULATION_THICK,
)


def floor_findings(floor: FloorOut, building: Building) -> Iterator[Finding]:
    """All that is found in one floor."""
    joists = [piece for piece in floor.pieces if piece.role == "joist"]
    if not joists:
        return
    breadth, depth = joists[0].section
    spacing = max((bay.clear for bay in floor.bays), default=0.0) + breadth
    yield from _deck(floor, spacing)
    yield from _void(floor, depth, building)
    yield from _spans(floor, joists, spacing)
    yield JOIST_NOTCH.of(
        part=floor.name, limit=NOTCH_SHARE * depth, deepest=at_most(NOTCH_SHARE * depth, ".0f")
    )
    if floor.insulation is not None and floor.insulation > depth + SAME:
        yield INSULATION_THICK.of(
            part=floor.name,
            value=floor.insulation,
            limit=depth,
            thickness=Mm(floor.insulation),
            depth=Mm(depth),
        )


def _deck(floor: FloorOut, spacing: float) -> Iterator[Finding]:
    """Whether the deck is too thin for its joists; nothing is known of other materials."""
    laid = [piece for piece in floor.pieces if piece.face is not None and piece.role != "batten"]
    if not laid:
        return
    thickness = min(piece.section[0] for piece in laid)
    if laid[0].course is not None:
        known: LeastDeck | None = BOARDS
    else:
        words = laid[0].material.lower()
        known = next((least for word, least in DECKS.items() if word in words), None)
    if known is None:
        return
    least = next(
        (t for most, t in zip(CENTRES, known.thickness, strict=True) if spacing <= most + SAME), None
    )
    marks = tuple(piece.mark for piece in laid)
    if least is None:
        yield DECK_WIDE.of(
            part=floor.name,
            pieces=marks,
            value=round(spacing, 3),
            limit=CENTRES[-1],
            spacing=at_most(spacing, ".0f"),
            widest=at_most(CENTRES[-1]),
        )
    elif thickness < least - SAME:
        yield DECK_THIN.of(
            part=floor.name,
            pieces=marks,
            value=thickness,
            limit=least,
            thickness=Mm(thickness),
            spacing=at_most(spacing, ".0f"),
            what=known.what,
            least=at_least(least),
        )


def _void(floor: FloorOut, depth: float, building: Building) -> Iterator[Finding]:
    """Whether the timber is clear of the ground, and how much air it wants."""
    if building.site.ground is not None:
        below = -min(view.origin[2] for view in floor.views.values()) + depth
        bearers = [piece.depth[1] for piece in floor.pieces if piece.role == "bearer"]
        lowest = max(bearers, default=depth) - depth
        for what, void, least in (
            ("joists", building.site.ground - below, LEAST_VOID),
            ("bearers", building.site.ground - below - lowest, LEAST_UNDER_BEARERS),
        ):
            if void < least - SAME and (what == "joists" or bearers):
                yield VOID_LOW.of(
                    part=floor.name,
                    value=round(void, 3),
                    limit=least,
                    void=Mm(void, ".0f"),
                    what=what,
                    least=at_least(least),
                )
    round_it, over = 2 * (floor.length + floor.width) / 1e3, floor.length * floor.width / 1e6
    area = max(VENTS_EACH_M * round_it, VENTS_EACH_M2 * over)
    yield VENTS.of(part=floor.name, limit=round(area, 3), area=area)


def _spans(floor: FloorOut, joists: Sequence[Piece], spacing: float) -> Iterator[Finding]:
    """How far joists span clear between what they bear on, and whether anything keeps them from turning."""
    start, end = _widest_span(floor)
    clear = end - start
    rows = [_middle(piece) for piece in floor.pieces if piece.role == "noggin"]
    if clear > NO_STRUTS_UP_TO + SAME and not any(start < row < end for row in rows):
        yield NO_STRUTS.of(
            part=floor.name,
            value=round(clear, 3),
            limit=NO_STRUTS_UP_TO,
            clear=Mm(clear, ".0f"),
            most=at_most(NO_STRUTS_UP_TO),
        )
    yield FLOOR_SPAN.of(
        part=floor.name,
        value=round(clear, 3),
        section=Sides(joists[0].section),
        material=joists[0].material,
        clear=Mm(clear, ".0f"),
        spacing=at_most(spacing, ".0f"),
    )


def _widest_span(floor: FloorOut) -> tuple[float, float]:
    """The widest gap along the joists between bearers, or else between rim joists, mm."""
    roles = {piece.role for piece in floor.pieces}
    under = "bearer" if "bearer" in roles else "rim joist"
    rows = sorted({_along(piece) for piece in floor.pieces if piece.role == under})
    gaps = [(one[1], other[0]) for one, other in itertools.pairwise(rows)]
    return max(gaps, key=lambda gap: gap[1] - gap[0], default=(0.0, 0.0))


def _along(piece: Piece) -> tuple[float, float]:
    """What a piece takes up along the joists, mm."""
    heights = [v for _, v in piece.outline]
    return min(heights), max(heights)


def _middle(piece: Piece) -> float:
    return sum(_along(piece)) / 2
