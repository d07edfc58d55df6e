"""Checks of how boards and sheets are held, on every face. Advisory, never an approval."""

from __future__ import annotations

import itertools
from collections.abc import Callable, Collection, Iterable, Iterator, Sequence
from typing import Final

from soleplate.engine.building import Building
from soleplate.engine.cladding.rule import Facing
from soleplate.engine.geometry import from_edge, narrowest
from soleplate.engine.hookspecs import hookimpl
from soleplate.engine.layout import PRACTICE, Finding, Layout, Piece, WallOut
from soleplate.engine.movement import board_movement, movement_finding

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
            loose = list(_loose_ends(wall, facing))
            found += loose
            boards = [piece for piece in wall.pieces if piece.role == "board" and piece.face == facing]
            found += _free_ends(wall, boards, [mark for each in loose for mark in each.pieces], where)
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
    """Where cladding or lining ends with no timber to fix it to, once for each face."""
    boards = [p for p in wall.pieces if p.face == facing and p.role in ("board", "sheet") and p.fixed_at]
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
        code, what = LOOSE[facing]
        yield Finding(
            level="warn",
            code=code,
            message=f"nothing lies behind the {what} at the {' and the '.join(ends)} end (seen from outside):"
            " fix a stud or a batten there; some corner rules set one where a wall runs through",
            wall=wall.name,
            pieces=tuple(loose),
            value=float(len(loose)),
            basis=PRACTICE,
        )


def _free_ends(
    wall: WallOut, boards: Sequence[Piece], told: Collection[str], where: str
) -> Iterator[Finding]:
    """Level boards whose ends no fixing is near, under slopes and beside partitions, once for each face."""
    free = {
        piece.mark: _clear_of_ends(piece, max)
        for piece in boards
        if piece.course is not None and piece.fixed_at and piece.mark not in told
    }
    long = [mark for mark, over in free.items() if over > FREE_END + SAME]
    if long:
        longest = max(free[mark] for mark in long)
        yield Finding(
            level="warn",
            code="board-end-free",
            message=f"{where}{_count(len(long), 'board goes', 'boards go')} on by up to {longest:.0f} mm"
            f" beyond the last fixing, where {FREE_END:.0f} mm and less is held: put a stud, noggin or batten"
            " behind the ends, or fix them to the boards below",
            wall=wall.name,
            pieces=tuple(long),
            value=round(longest, 3),
            limit=FREE_END,
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
    long = [mark for mark, over in free.items() if over > FREE_END + SAME]
    if long:
        longest = max(free[mark] for mark in long)
        yield Finding(
            level="warn",
            code="board-top-free",
            message=f"{_count(len(long), 'board goes', 'boards go')} on by up to {longest:.0f} mm over the"
            f" last level batten, where {FREE_END:.0f} mm and less is held: nail a batten along the slope",
            wall=wall.name,
            pieces=tuple(long),
            value=round(longest, 3),
            limit=FREE_END,
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


def _clear_of_ends(piece: Piece, of: Callable[[float, float], float] = min) -> float:
    """The least distance of a fixing from an end of a board, mm; with `max` the greatest of the two ends."""
    axis = 0 if piece.course is not None else 1
    along = [point[axis] for point in piece.outline]
    places = [place[axis] for place in piece.fixed_at or ()]
    return of(min(places) - min(along), max(along) - max(places))


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
    """Sheets that are hardly worth fixing, or have a leg so narrow beside an opening, once for each face."""
    sizes = {p.mark: narrowest(p.outline) for p in wall.pieces if p.role == "sheet" and p.face == facing}
    narrow = [mark for mark, size in sizes.items() if size < LEAST_SHEET - SAME]
    if narrow:
        least = min(sizes[mark] for mark in narrow)
        yield Finding(
            level="note",
            code="sheet-sliver",
            message=f"{where}{_count(len(narrow), 'sheet is', 'sheets are')} narrow, or narrow beside an"
            f" opening, down to {least:.0f} mm, and break easily there: set the sheets from the other end, or"
            " move the opening",
            wall=wall.name,
            pieces=tuple(narrow),
            value=round(least, 3),
            limit=LEAST_SHEET,
            basis=PRACTICE,
        )


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
