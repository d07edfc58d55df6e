"""What braces each wall, how far one code's words hold of it, and what is missing. Advice, no approval."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from typing import Final

from soleplate.engine.rules import (
    PRACTICE,
    BayOut,
    BraceOut,
    BracingRule,
    Building,
    Count,
    Finding,
    FindingKind,
    Layout,
    Listed,
    Mm,
    Said,
    WallOut,
    all_picked,
    at_least,
    at_most,
    hookimpl,
    said,
)
from soleplate.plugins.bracing.let_in import LET_IN
from soleplate.plugins.bracing.sheathing import SHEETS_BRACE, sheathing, sheets_on

NOMINAL: Final = "AS 1684.2 (nominal bracing), as RMIT's Buildright restates it"
"""Bracing that is not designed is at least 450 mm long."""

SHORTEST: Final = 450.0
FLATTEST: Final = 45.0
WIDEST_STUDS: Final = 406.4
WITHIN: Final = 0.5
"""mm or degrees. A figure past a limit by less than this is not past it."""

BRACED_BY: Final = FindingKind(
    "braced-by",
    "note",
    PRACTICE,
    "it is braced by {what}, {right} rising to the right and {left} to the left, over {length} of its"
    " {whole}; how much is enough, local codes or a licensed professional say, by wind and ground",
)

WALL_UNBRACED: Final = FindingKind(
    "wall-unbraced",
    "warn",
    "Miller, Carpenters' Guide (temporary braces stay until the frame is sheathed)",
    "nothing in the layout keeps this wall from racking, as others of the building are kept: brace it by"
    " diagonals or sheets, and keep temporary braces on until then",
)

BRACES_ONE_WAY: Final = FindingKind(
    "braces-one-way",
    "warn",
    PRACTICE,
    "all its braces rise to the {way}, and timber holds better against a push than against a pull: give it"
    " one that rises to the {other} too",
)

BRACES_ONE_END: Final = FindingKind(
    "braces-one-end",
    "note",
    PRACTICE,
    "its braces all stand in its {end} half; set one near its other end too, or sheets",
)

BRACE_FLAT: Final = FindingKind(
    "brace-flat",
    "note",
    LET_IN,
    "a strap lies at {angle:.0f} degrees from level; one code has those that it approves at 45 to 60",
)

BRACE_SHORT: Final = FindingKind(
    "brace-short",
    "warn",
    NOMINAL,
    "a brace takes up {length} of the wall, where {least} is the least that counts",
)

LET_IN_WIDE: Final = FindingKind(
    "let-in-wide",
    "note",
    LET_IN,
    "let-in braces are for studs at most {most} apart by one code, and studs here stand up to {apart} apart",
)

KINDS: Final = (
    BRACED_BY,
    WALL_UNBRACED,
    BRACES_ONE_WAY,
    BRACES_ONE_END,
    BRACE_FLAT,
    BRACE_SHORT,
    LET_IN_WIDE,
    SHEETS_BRACE,
)

NAMES: Final = {
    "cut in": ("row of cut-in pieces", "rows of cut-in pieces"),
    "let in": ("let-in brace", "let-in braces"),
    "strap": ("strap", "straps"),
}


@hookimpl
def check_layout(layout: Layout, building: Building) -> Iterable[Finding]:
    """Tell of each wall what braces it and what it lacks, where bracing is asked for anywhere."""
    if not any(all_picked(building, BracingRule)):
        return
    # Of a building in which nothing braces any wall, the caution on that says enough.
    some = any(wall.braces for wall in layout.walls)
    for wall in layout.walls:
        if wall.braces:
            yield from _of(wall)
        elif some and wall.faces is None and not _braced_otherwise(wall, layout):
            yield WALL_UNBRACED.of(part=wall.name)
        yield from sheathing(wall, layout)


def _braced_otherwise(wall: WallOut, layout: Layout) -> bool:
    """Whether sheets lie on its outside, or another plugin's timbers brace it."""
    timber = (piece for piece in wall.pieces if piece.is_frame and layout.role_of(piece).braces)
    return any(True for _ in timber) or bool(sheets_on(wall, layout, "outside"))


def _of(wall: WallOut) -> Iterator[Finding]:
    braces = wall.braces
    right = sum(brace.rises == "right" for brace in braces)
    yield BRACED_BY.of(
        part=wall.name,
        value=round(_taken(braces), 3),
        what=_what(braces),
        right=right,
        left=len(braces) - right,
        length=Mm(_taken(braces), ".0f"),
        whole=Mm(wall.length, ".0f"),
    )
    if right in (0, len(braces)):
        way, other = ("right", "left") if right else ("left", "right")
        yield BRACES_ONE_WAY.of(part=wall.name, pieces=_pieces(braces), way=way, other=other)
    middle = wall.length / 2
    for end, places in (("left", max(map(_right, braces))), ("right", min(map(_left, braces)))):
        if (places <= middle) if end == "left" else (places >= middle):
            yield BRACES_ONE_END.of(part=wall.name, pieces=_pieces(braces), end=end)
    yield from _by_clauses(wall)


def _by_clauses(wall: WallOut) -> Iterator[Finding]:
    flat = [brace for brace in wall.braces if brace.kind == "strap" and brace.angle < FLATTEST - WITHIN]
    if flat:
        angle = min(brace.angle for brace in flat)
        yield BRACE_FLAT.of(part=wall.name, value=angle, limit=FLATTEST, angle=angle)
    shortest = min(_right(brace) - _left(brace) for brace in wall.braces)
    if shortest < SHORTEST - WITHIN:
        yield BRACE_SHORT.of(
            part=wall.name,
            pieces=_pieces(wall.braces),
            value=round(shortest, 3),
            limit=SHORTEST,
            length=Mm(shortest, ".0f"),
            least=at_least(SHORTEST, ".0f"),
        )
    if any(brace.kind == "let in" for brace in wall.braces):
        breadth = min((right - left for left, right in _studs(wall)), default=0.0)
        apart = max((bay.clear + breadth for bay in _crossed_bays(wall)), default=0.0)
        if apart > WIDEST_STUDS + WITHIN:
            yield LET_IN_WIDE.of(
                part=wall.name,
                value=round(apart, 3),
                limit=WIDEST_STUDS,
                most=at_most(WIDEST_STUDS, ".0f"),
                apart=Mm(apart, ".0f"),
            )


def _crossed_bays(wall: WallOut) -> list[BayOut]:
    """The bays that a let-in brace runs over."""
    let_in = [brace for brace in wall.braces if brace.kind == "let in"]
    return [
        bay
        for bay in wall.bays
        if any(_left(brace) < bay.to and _right(brace) > bay.from_ for brace in let_in)
    ]


def _studs(wall: WallOut) -> list[tuple[float, float]]:
    marks = {mark for brace in wall.braces for mark in brace.crosses}
    crossed = [piece.outline for piece in wall.pieces if piece.mark in marks]
    return [(min(x for x, _ in outline), max(x for x, _ in outline)) for outline in crossed]


def _what(braces: Sequence[BraceOut]) -> Listed:
    """What it is braced by, kind by kind."""
    kinds = dict.fromkeys(brace.kind for brace in braces)
    counts = ((kind, sum(brace.kind == kind for brace in braces)) for kind in kinds)
    return Listed(tuple(_counted(kind, count) for kind, count in counts))


def _counted(kind: str, count: int) -> Said:
    return said("{count}", count=Count(count, *NAMES[kind]))


def _taken(braces: Sequence[BraceOut]) -> float:
    """How much of the wall's length braces take up, mm; where several are over each other once."""
    reach = taken = 0.0
    for left, right in sorted((_left(brace), _right(brace)) for brace in braces):
        taken += max(right - max(left, reach), 0.0)
        reach = max(reach, right)
    return taken


def _left(brace: BraceOut) -> float:
    return min(brace.foot[0], brace.head[0])


def _right(brace: BraceOut) -> float:
    return max(brace.foot[0], brace.head[0])


def _pieces(braces: Sequence[BraceOut]) -> tuple[str, ...]:
    return tuple(mark for brace in braces for mark in brace.pieces)
