"""Checks of how boards and sheets are held, on every face. Advisory, never an approval."""

from __future__ import annotations

import itertools
from collections.abc import Iterable, Iterator, Sequence
from typing import Final

from soleplate.engine.building import Building
from soleplate.engine.cladding.rule import Facing
from soleplate.engine.geometry import Point, from_edge
from soleplate.engine.hookspecs import hookimpl
from soleplate.engine.layout import PRACTICE, Finding, Layout, Piece, WallOut
from soleplate.engine.movement import board_movement, movement_finding

SAME: Final = 0.5
"""mm. Over or under a limit by less than this is neither."""

WIDEST_CENTRES: Final = 600.0
CENTRES_BASIS: Final = "TDCA (battens at 600 mm; 400 mm for green oak)"

END_DISTANCE: Final = 20.0
END_BASIS: Final = "BM TRADA 2022, by the TDCA (20 mm and more from the end)"

FREE_TOP: Final = 150.0
"""mm that a board may go on over its last fixing (common practice, no source)."""

EDGE_DISTANCE: Final = 10.0
"""mm from a fixing to the edge of a board or sheet, at the least (common practice, no source)."""

LEAST_SHEET: Final = 100.0
"""mm. A narrower piece of sheet breaks as it is handled (common practice, no source)."""

HELD: Final[dict[Facing, float]] = {"outside": 150.0, "inside": 60.0}
"""mm. Cladding, or lining, is held at its end by a fixing so near to it (common practice, no source)."""

SIDES: Final[tuple[tuple[Facing, str], ...]] = (("outside", ""), ("inside", "in its lining, "))
"""The two faces of a wall, and how what is found on them begins."""

LOOSE: Final[dict[Facing, tuple[str, str]]] = {
    "outside": ("cladding-loose", "cladding"),
    "inside": ("lining-loose", "lining"),
}
"""The code of an end that nothing holds, and what is loose there."""


@hookimpl
def check_layout(layout: Layout, building: Building) -> Iterable[Finding]:
    """Return findings on supports, fixings, loose pieces, and the movement of linings."""
    found: list[Finding] = []
    for wall in layout.walls:
        found += _unfixed(wall)
        found += _free_tops(wall)
        for facing, where in SIDES:
            found += _loose_ends(wall, facing)
            boards = [piece for piece in wall.pieces if piece.role == "board" and piece.face == facing]
            found += _wide_centres(wall, boards, where)
            found += _near_ends(wall, boards, where)
            found += _near_edges(wall, boards, where)
            found += _slivers(wall, facing, where)
    found += _movement(layout, building.site.moisture_swing)
    return found


def _wide_centres(wall: WallOut, boards: Sequence[Piece], where: str) -> Iterator[Finding]:
    """The widest stretch of a board between two supports, once for each face."""
    spans = [(_span(piece), piece.mark) for piece in boards]
    wide = [(span, mark) for span, mark in spans if span > WIDEST_CENTRES + SAME]
    if wide:
        widest = max(span for span, _ in wide)
        yield Finding(
            level="warn",
            code="boards-span-wide",
            message=f"{where}{_count(len(wide), 'board is', 'boards are')} held only every {widest:.0f} mm at"
            f" the widest; {WIDEST_CENTRES:.0f} mm and less keeps them straight",
            wall=wall.name,
            pieces=tuple(mark for _, mark in wide),
            value=round(widest, 3),
            limit=WIDEST_CENTRES,
            basis=CENTRES_BASIS,
        )


def _span(piece: Piece) -> float:
    """The widest distance between two supports along a board, by where it is fixed, mm."""
    axis = 0 if piece.course is not None else 1
    places = sorted({place[axis] for place in piece.fixed_at or ()})
    return max((after - before for before, after in itertools.pairwise(places)), default=0.0)


def _unfixed(wall: WallOut) -> Iterator[Finding]:
    loose = [piece.mark for piece in wall.pieces if piece.fixed_at is not None and len(piece.fixed_at) < 2]
    if loose:
        yield Finding(
            level="warn",
            code="board-loose",
            message=f"{_count(len(loose), 'piece has', 'pieces have')} fewer than two fixings; put timber"
            " behind, or fix them to their neighbours",
            wall=wall.name,
            pieces=tuple(loose),
            value=float(len(loose)),
            basis=PRACTICE,
        )


def _loose_ends(wall: WallOut, facing: Facing) -> Iterator[Finding]:
    """Where cladding or lining ends with no timber to fix it to, once for each end."""
    boards = [piece for piece in wall.pieces if piece.face == facing and piece.role in ("board", "sheet")]
    for end, turn in (("left", 1.0), ("right", -1.0)):
        reach = {piece.mark: min(turn * x for x, _ in piece.outline) for piece in boards}
        first = min(reach.values(), default=0.0)
        loose = [
            piece.mark
            for piece in boards
            if reach[piece.mark] < first + SAME
            and _is_loose(piece, [z for x, z in piece.fixed_at or () if turn * x < first + HELD[facing]])
        ]
        if loose:
            code, what = LOOSE[facing]
            yield Finding(
                level="warn",
                code=code,
                message=f"nothing lies behind the {what} at the {end} end (seen from outside); take a corner"
                " rule that sets a stud there, such as three-stud or boxed, or put timber behind",
                wall=wall.name,
                pieces=tuple(loose),
                value=float(len(loose)),
                basis=PRACTICE,
            )


def _is_loose(piece: Piece, held: list[float]) -> bool:
    """Whether an upright edge that is fixed at these heights is free for too far, mm."""
    heights = [z for _, z in piece.outline]
    places = sorted({min(heights), *held, max(heights)})
    return not held or any(b - a > WIDEST_CENTRES for a, b in itertools.pairwise(places))


def _free_tops(wall: WallOut) -> Iterator[Finding]:
    """Upright boards that go on too far over their last batten under a slope, once for each wall."""
    free = {
        piece.mark: max(z for _, z in piece.outline) - max(z for _, z in piece.fixed_at)
        for piece in wall.pieces
        if piece.role == "board" and piece.course is None and piece.fixed_at
    }
    long = [mark for mark, over in free.items() if over > FREE_TOP + SAME]
    if long:
        longest = max(free[mark] for mark in long)
        yield Finding(
            level="warn",
            code="board-top-free",
            message=f"{_count(len(long), 'board goes', 'boards go')} on by up to {longest:.0f} mm over the"
            f" last level batten, where {FREE_TOP:.0f} mm and less is held: nail a batten along the slope",
            wall=wall.name,
            pieces=tuple(long),
            value=round(longest, 3),
            limit=FREE_TOP,
            basis=PRACTICE,
        )


def _near_ends(wall: WallOut, boards: Sequence[Piece], where: str) -> Iterator[Finding]:
    """Fixings nearer to the ends of boards than they should be, once for each face."""
    clear = {piece.mark: _clear_of_ends(piece) for piece in boards if piece.fixed_at}
    near = [mark for mark, distance in clear.items() if distance < END_DISTANCE - SAME]
    if near:
        least = min(clear[mark] for mark in near)
        yield Finding(
            level="note",
            code="fixing-near-end",
            message=f"{where}{_count(len(near), 'board has', 'boards have')} a fixing {least:.0f} mm from an"
            f" end, where {END_DISTANCE:.0f} mm keeps boards from splitting: drill, or use wider battens or"
            " studs",
            wall=wall.name,
            pieces=tuple(near),
            value=round(least, 3),
            limit=END_DISTANCE,
            basis=END_BASIS,
        )


def _clear_of_ends(piece: Piece) -> float:
    """The least distance of a fixing from an end of a board, mm."""
    axis = 0 if piece.course is not None else 1
    along = [point[axis] for point in piece.outline]
    places = [place[axis] for place in piece.fixed_at or ()]
    return min(min(places) - min(along), max(along) - max(places))


def _near_edges(wall: WallOut, boards: Sequence[Piece], where: str) -> Iterator[Finding]:
    """Fixings nearer to any edge than they should be, by a slope or an opening, once for each face."""
    clear = {
        piece.mark: min(from_edge(piece.outline, place) for place in piece.fixed_at)
        for piece in boards
        if piece.fixed_at
    }
    near = [mark for mark, distance in clear.items() if distance < EDGE_DISTANCE - SAME]
    if near:
        least = min(clear[mark] for mark in near)
        yield Finding(
            level="note",
            code="fixing-near-edge",
            message=f"{where}{_count(len(near), 'board has', 'boards have')} a fixing {least:.0f} mm from an"
            f" edge, by a slope or an opening, where {EDGE_DISTANCE:.0f} mm keeps boards from splitting:"
            " drill, or fix elsewhere",
            wall=wall.name,
            pieces=tuple(near),
            value=round(least, 3),
            limit=EDGE_DISTANCE,
            basis=PRACTICE,
        )


def _slivers(wall: WallOut, facing: Facing, where: str) -> Iterator[Finding]:
    """Pieces of sheet that are hardly worth fixing, once for each face."""
    sizes = {p.mark: _least_side(p.outline) for p in wall.pieces if p.role == "sheet" and p.face == facing}
    narrow = [mark for mark, size in sizes.items() if size < LEAST_SHEET - SAME]
    if narrow:
        least = min(sizes[mark] for mark in narrow)
        yield Finding(
            level="note",
            code="sheet-sliver",
            message=f"{where}{_count(len(narrow), 'piece of sheet is', 'pieces of sheet are')} narrow, down"
            f" to {least:.0f} mm, and break easily: set the sheets from the other end, or move an opening",
            wall=wall.name,
            pieces=tuple(narrow),
            value=round(least, 3),
            limit=LEAST_SHEET,
            basis=PRACTICE,
        )


def _least_side(outline: Sequence[Point]) -> float:
    xs, zs = [x for x, _ in outline], [z for _, z in outline]
    return min(max(xs) - min(xs), max(zs) - min(zs))


def _movement(layout: Layout, swing: float) -> Iterator[Finding]:
    """How much the boards of linings swell and shrink, once for each kind."""
    kinds: dict[tuple[float, float | None, str], list[str]] = {}
    for wall in layout.walls:
        widths = [(p.section[1], p.material) for p in wall.pieces if p.role == "board" and p.face == "inside"]
        if wall.lining is not None and widths:
            width, material = max(widths)
            kinds.setdefault((width, wall.lining.gap, material), []).append(wall.name)
    for (width, gap, material), names in kinds.items():
        movement = board_movement(width, swing, gap, material)
        if len(names) == 1:
            yield movement_finding(movement, names[0], "in its lining, ")
        else:
            yield movement_finding(movement, None, f"lining of {', '.join(names)}: ")


def _count(number: int, one: str, several: str) -> str:
    return f"{number} {one if number == 1 else several}"
