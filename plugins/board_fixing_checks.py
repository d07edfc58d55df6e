"""Checks of how boards and sheets are held, on every face and deck. Advisory, never an approval."""

from __future__ import annotations

import itertools
from collections.abc import Callable, Iterable, Iterator, Mapping
from typing import Final, NamedTuple

from soleplate.engine.rules import (
    PRACTICE,
    Building,
    Count,
    Facing,
    Finding,
    FindingKind,
    Layout,
    Mm,
    PartOut,
    Piece,
    WallOut,
    board_movement,
    from_edge,
    hookimpl,
    movement_finding,
    narrowest,
)

SAME: Final = 0.5
"""mm. Over or under a limit by less than this is neither."""

WIDEST_CENTRES: Final = 600.0
CENTRES_BASIS: Final = "TDCA (battens at 600 mm; 400 mm for green oak)"

END_DISTANCE: Final = 20.0
END_BASIS: Final = "BM TRADA 2022, by the TDCA (20 mm and more from the end)"

FREE_END: Final = 150.0
"""mm that a board may go on beyond its last fixing (common practice, no source)."""

EDGE_DISTANCE: Final = 10.0
"""mm from a fixing to the edge of a board or sheet, at the least (common practice, no source)."""

LEAST_SHEET: Final = 100.0
"""mm. A narrower piece of sheet breaks as it is handled (common practice, no source)."""

HELD: Final[dict[Facing, float]] = {"outside": 150.0, "inside": 60.0}
"""mm. Cladding, or lining, is held at its end by a fixing so near to it (common practice, no source)."""

SIDES: Final[tuple[tuple[Facing, str], ...]] = (("outside", ""), ("inside", "in its lining, "))
"""The two faces of a wall, and how what is found on them begins."""

_LOOSE: Final = (
    "nothing lies behind the {what} at the {ends} end (seen from outside): fix a stud or a batten there; some"
    " corner rules set one where a wall runs through"
)
LOOSE: Final[dict[Facing, tuple[FindingKind, str]]] = {
    "outside": (FindingKind("cladding-loose", "warn", PRACTICE, _LOOSE), "cladding"),
    "inside": (FindingKind("lining-loose", "warn", PRACTICE, _LOOSE), "lining"),
}
"""Of an end that nothing holds, and what is loose there."""


class Held(NamedTuple):
    """A measure of pieces and what it is held against, mm: at the least if `at_least`, else at the most.

    The sentence has places for `boards`, which are counted with the words for `one` or `several` of them, for
    the `worst` value and the limit to `keep`.
    """

    kind: FindingKind
    limit: float
    at_least: bool
    one: str
    several: str

    def told(self, part: PartOut, measured: Mapping[str, float], where: str = "") -> Iterator[Finding]:
        """A finding if a piece is beyond the limit; `measured` are values by mark, `where` begins it."""
        turn = -1.0 if self.at_least else 1.0
        beyond = {mark: value for mark, value in measured.items() if turn * (value - self.limit) > SAME}
        if beyond:
            worst = max(beyond.values(), key=lambda value: turn * value)
            yield self.kind.of(
                part=part.name,
                pieces=tuple(beyond),
                value=round(worst, 3),
                limit=self.limit,
                boards=Count(len(beyond), self.one, self.several),
                worst=Mm(worst, ".0f"),
                keep=Mm(self.limit, ".0f"),
            ).after(where)


WIDE_CENTRES: Final = Held(
    FindingKind(
        "boards-span-wide",
        "warn",
        CENTRES_BASIS,
        "{boards} held only every {worst} at the widest; {keep} and less keeps them straight",
    ),
    WIDEST_CENTRES, False, "board is", "boards are",
)  # fmt: skip
FREE_ENDS: Final = Held(
    FindingKind(
        "board-end-free",
        "warn",
        PRACTICE,
        "{boards} on by up to {worst} beyond the last fixing, where {keep} and less is held: put a stud,"
        " noggin or batten behind the ends, or fix them to the boards below",
    ),
    FREE_END, False, "board goes", "boards go",
)  # fmt: skip
FREE_TOPS: Final = Held(
    FindingKind(
        "board-top-free",
        "warn",
        PRACTICE,
        "{boards} on by up to {worst} over the last level batten, where {keep} and less is held: nail a"
        " batten along the slope",
    ),
    FREE_END, False, "board goes", "boards go",
)  # fmt: skip
NEAR_ENDS: Final = Held(
    FindingKind(
        "fixing-near-end",
        "note",
        END_BASIS,
        "{boards} a fixing {worst} from an end, where {keep} keeps boards from splitting: drill, or use wider"
        " battens or studs",
    ),
    END_DISTANCE, True, "board has", "boards have",
)  # fmt: skip
NEAR_EDGES: Final = Held(
    FindingKind(
        "fixing-near-edge",
        "note",
        PRACTICE,
        "{boards} a fixing {worst} from an edge, by a slope or an opening, where {keep} keeps boards from"
        " splitting: drill, or fix elsewhere",
    ),
    EDGE_DISTANCE, True, "board has", "boards have",
)  # fmt: skip
SLIVERS: Final = Held(
    FindingKind(
        "sheet-sliver",
        "note",
        PRACTICE,
        "{boards} narrow, or narrow beside an opening, down to {worst}, and break easily there: set the"
        " sheets from the other end, or move the opening",
    ),
    LEAST_SHEET, True, "sheet is", "sheets are",
)  # fmt: skip

BOARD_LOOSE: Final = FindingKind(
    "board-loose",
    "warn",
    PRACTICE,
    "{boards} fewer than two fixings; put timber behind, or fix them to their neighbours",
)


@hookimpl
def check_layout(layout: Layout, building: Building) -> Iterable[Finding]:
    """Return findings on supports, fixings, loose pieces, and the movement of linings."""
    found: list[Finding] = []
    for wall in layout.walls:
        found += _unfixed(wall)
        for facing, where in SIDES:
            found += _of_face(layout, wall, facing, where)
    decked: tuple[PartOut, ...] = (*layout.floors, *layout.roofs)
    for part in decked:
        found += [*_unfixed(part), *_of_face(layout, part, "outside", "in its deck, ")]
    found += _movement(layout, building.site.moisture_swing)
    return found


def _of_face(layout: Layout, part: PartOut, facing: Facing, where: str) -> Iterator[Finding]:
    """What is found on one face of a wall, or on a deck: how wide that may span goes by what it carries."""
    is_wall = isinstance(part, WallOut)
    loose = list(_loose_ends(layout, part, facing)) if isinstance(part, WallOut) else []
    yield from loose
    told = {mark for finding in loose for mark in finding.pieces}
    sheets = [piece for piece in _covering(layout, part, facing) if layout.role_of(piece).sheet]
    boards = [piece for piece in _boards(layout, part, facing) if piece.fixed_at]
    level = [piece for piece in boards if piece.course is not None and piece.mark not in told]
    standing = [piece for piece in boards if piece.course is None]
    yield from FREE_ENDS.told(part, {p.mark: _clear_of_ends(p, max) for p in level}, where)
    yield from FREE_TOPS.told(part, {p.mark: _over_last(p) for p in standing}, where)
    yield from WIDE_CENTRES.told(part, {p.mark: _span(p) for p in boards if is_wall}, where)
    yield from NEAR_ENDS.told(part, {p.mark: _clear_of_ends(p, min) for p in boards}, where)
    yield from NEAR_EDGES.told(part, {p.mark: _clear_of_edges(p) for p in boards}, where)
    yield from SLIVERS.told(part, {p.mark: narrowest(p.outline) for p in sheets}, where)


def _covering(layout: Layout, part: PartOut, facing: Facing) -> list[Piece]:
    """What covers one face of a part, boards and sheets of plugins too."""
    return [piece for piece in part.pieces if piece.face == facing and layout.role_of(piece).covers]


def _boards(layout: Layout, part: PartOut, facing: Facing) -> list[Piece]:
    return [piece for piece in _covering(layout, part, facing) if not layout.role_of(piece).sheet]


def _over_last(piece: Piece) -> float:
    """How far an upright board goes on over its last fixing, mm."""
    return max(z for _, z in piece.outline) - max(z for _, z in piece.fixed_at or ())


def _clear_of_edges(piece: Piece) -> float:
    """The least distance of a fixing from any edge, mm."""
    return min(from_edge(piece.outline, place) for place in piece.fixed_at or ())


def _clear_of_ends(piece: Piece, of: Callable[[float, float], float]) -> float:
    """The distances of the outermost fixings from the ends of a board, mm: `of` the two, `min` or `max`."""
    axis = 0 if piece.course is not None else 1
    along = [point[axis] for point in piece.outline]
    places = [place[axis] for place in piece.fixed_at or ()]
    return of(min(places) - min(along), max(along) - max(places))


def _span(piece: Piece) -> float:
    """The widest distance between two supports along a board, by where it is fixed, mm."""
    axis = 0 if piece.course is not None else 1
    places = sorted({place[axis] for place in piece.fixed_at or ()})
    return max((after - before for before, after in itertools.pairwise(places)), default=0.0)


def _unfixed(part: PartOut) -> Iterator[Finding]:
    loose = [piece.mark for piece in part.pieces if piece.fixed_at is not None and len(piece.fixed_at) < 2]
    if loose:
        yield BOARD_LOOSE.of(
            part=part.name,
            pieces=tuple(loose),
            value=float(len(loose)),
            boards=Count(len(loose), "piece has", "pieces have"),
        )


def _loose_ends(layout: Layout, wall: WallOut, facing: Facing) -> Iterator[Finding]:
    """Where cladding or lining ends with no timber to fix it to, once for each face."""
    boards = [piece for piece in _covering(layout, wall, facing) if piece.fixed_at]
    ends: list[str] = []
    loose: list[str] = []
    for end, turn in (("left", 1.0), ("right", -1.0)):
        reach = {piece.mark: min(turn * x for x, _ in piece.outline) for piece in boards}
        first = min(reach.values(), default=0.0)
        found = [
            piece.mark
            for piece in boards
            if reach[piece.mark] < first + SAME
            and _is_loose(piece, [z for x, z in piece.fixed_at or () if turn * x < first + HELD[facing]])
        ]
        if found:
            ends.append(end)
            loose += [mark for mark in found if mark not in loose]
    if loose:
        kind, what = LOOSE[facing]
        yield kind.of(
            part=wall.name,
            pieces=tuple(loose),
            value=float(len(loose)),
            what=what,
            ends=" and the ".join(ends),
        )


def _is_loose(piece: Piece, held: list[float]) -> bool:
    """Whether an upright edge that is fixed at these heights is free for too far, mm."""
    heights = [z for _, z in piece.outline]
    places = sorted({min(heights), *held, max(heights)})
    return not held or any(b - a > WIDEST_CENTRES for a, b in itertools.pairwise(places))


def _movement(layout: Layout, swing: float) -> Iterator[Finding]:
    """How much the boards of linings swell and shrink, once for each kind."""
    kinds: dict[tuple[float, float | None, str], list[str]] = {}
    for wall in layout.walls:
        widths = [(piece.section[1], piece.material) for piece in _boards(layout, wall, "inside")]
        if wall.lining is not None and widths:
            width, material = max(widths)
            kinds.setdefault((width, wall.lining.gap, material), []).append(wall.name)
    for (width, gap, material), names in kinds.items():
        movement = board_movement(width, swing, gap, material)
        if len(names) == 1:
            yield movement_finding(movement, names[0], "in its lining, ")
        else:
            yield movement_finding(movement, None, f"lining of {', '.join(names)}: ")


@hookimpl
def register_finding_kinds() -> list[FindingKind]:
    """Offer the kinds of findings."""
    held = (WIDE_CENTRES, FREE_ENDS, FREE_TOPS, NEAR_ENDS, NEAR_EDGES, SLIVERS)
    return [BOARD_LOOSE, *(each.kind for each in held), *(kind for kind, _ in LOOSE.values())]
