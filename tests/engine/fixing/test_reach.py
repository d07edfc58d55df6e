"""The ends of noggins where no joints are fixed: none is told as nothing can reach it."""

from __future__ import annotations

import graphlib
from collections.abc import Iterator

import pytest
import shapely

from soleplate.engine.layout import Fixing, Layout, Piece
from tests.buildings import building, layout_of, wall_of
from tests.fixings import FRAMED

WITHOUT = [
    name for name in FRAMED if name not in ("hen_house", "reading_room", "studio_in_inches", "two slopes")
]
"""Those that have noggins."""


def ends(layout: Layout) -> Iterator[tuple[Piece, Fixing, set[str]]]:
    """Noggins, each of their ends, and what lies beyond what they are nailed through there."""
    for part in layout.parts:
        frame = [piece for piece in part.pieces if piece.is_frame]
        shapes = {piece.mark: shapely.Polygon(piece.outline) for piece in frame}
        for piece in frame:
            for end, out in zip(piece.fixings or (), (-1.0, 1.0), strict=False):
                low, _, high, _ = own = shapes[piece.mark].bounds
                place = shapely.Point((low if out < 0 else high) + out, (own[1] + own[3]) / 2)
                near = [
                    other
                    for other in frame
                    if other.view == piece.view and other.depth[0] < sum(piece.depth) / 2 < other.depth[1]
                ]
                held = [other for other in near if shapes[other.mark].covers(place)]
                if not held:
                    continue
                box = shapes[held[0].mark].bounds
                head = shapely.Point((box[0] if out < 0 else box[2]) + out, place.y)
                yield piece, end, {other.mark for other in near if shapes[other.mark].covers(head)}


@pytest.mark.parametrize("name", WITHOUT)
def test_none_is_told_as_nothing_can_reach_it(name: str) -> None:
    layout = layout_of({key: value for key, value in FRAMED[name].items() if key != "fixings"})
    assert not layout.fixings
    before: dict[str, set[str]] = {}
    seen = 0
    for piece, end, over in ends(layout):
        seen += 1
        if end.way == "through":
            assert over == (set() if end.when is None else {end.when.removeprefix("before ")}), piece.mark
            for mark in over:
                before.setdefault(mark, set()).add(piece.mark)
    assert seen > 3
    order = list(graphlib.TopologicalSorter(before).static_order())
    assert len(order) == len(set(order))


def test_a_noggin_beside_a_door_is_nailed_before_its_trimmer() -> None:
    """By hand: between a stud and the king, through which it is nailed, the trimmer lies over the heads."""
    door = {"name": "door", "kind": "door", "width": 900, "height": 1800, "at": {"left": 1500}}
    value = building(
        defaults={
            "studs": {"rule": "equal-bays", "largest_bay": 600},
            "noggins": {"rule": "staggered", "rows": 1},
        },
        walls={"front": {"openings": [door]}},
    )
    front = wall_of(layout_of(value), "front")
    roles = {piece.mark: piece.role for piece in front.pieces}
    told = [
        end.when.removeprefix("before ")
        for piece in front.pieces
        for end in piece.fixings or ()
        if end.when is not None
    ]
    assert sorted(roles[mark] for mark in told) == ["trimmer", "trimmer"]
