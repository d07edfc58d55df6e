"""Rows of the cutting list: their pieces are alike, and what they say is enough to make them."""

from __future__ import annotations

import json
from itertools import pairwise
from pathlib import Path
from typing import Any

import pytest
from hypothesis import HealthCheck, given, reject, settings
from shapely import Polygon

from soleplate.engine.building_file import UnbuildableError
from soleplate.engine.layout import CuttingRow, Layout, Piece
from soleplate.engine.shapes import Outline, bounds
from soleplate.viewer.words.texts import ENGLISH
from soleplate.viewer.words.wording import cut_text, cuts_text
from tests.buildings import HONEY_HOUSE, building, layout_of, wall_of
from tests.engine.cladding.test_outlines import clad_buildings
from tests.engine.rebuilding import laid_flat, rakes, rebuilt

EXAMPLES = sorted(HONEY_HOUSE.parent.glob("*.json"))

WITHIN = 0.02
"""mm. Outlines are put out at 0.001, angles at 0.001 degrees."""


def span(outline: Outline) -> tuple[float, float]:
    xs, zs = zip(*outline, strict=True)
    return max(xs) - min(xs), max(zs) - min(zs)


def stands(piece: Piece) -> bool:
    """A block between plumb faces stands too, though neither of its ends is level: its long points say so."""
    if {"left", "right"} & {end.long_point for end in piece.ends}:
        return True
    width, height = span(piece.outline)
    return not rakes(piece) and abs(height - piece.length) < abs(width - piece.length)


def are_congruent(one: Outline, other: Outline) -> bool:
    return Polygon(one).hausdorff_distance(Polygon(other)) < WITHIN


def turned(own: Outline, row: CuttingRow, mark: str) -> Outline:
    """A piece that is laid down, turned where its row says so: over, or end for end."""
    if mark not in (row.turned or ()):
        return own
    length, width = span(own)
    if row.turn == "over":
        return tuple((u, width - v) for u, v in own)
    return tuple((length - u, v) for u, v in own)


def assert_rows_tell_all(layout: Layout) -> None:
    """Pieces of one row are one outline laid down, and the row's words rebuild it.

    A timber of the frame with square ends shows its breadth or its depth, whichever way it is turned.
    """
    pieces = {piece.mark: piece for piece in layout.pieces}
    for row in layout.cutting_list:
        alike = [pieces[mark] for mark in row.marks]
        is_square = all(end.cut == "square" for end in row.ends)
        laid = [turned(laid_flat(piece, upright=stands(piece)), row, piece.mark) for piece in alike]
        shown = [own for piece, own in zip(alike, laid, strict=True) if not (piece.is_frame and is_square)]
        for one, other in pairwise(shown):
            # A strip with a notch in one edge is that with it in the other, turned over.
            over = tuple((u, span(other)[1] - v) for u, v in other) if row.notches else other
            assert are_congruent(one, other) or are_congruent(one, over), row
        for piece, own in zip(alike, laid, strict=True):
            if row.notched or row.notches or any(end.cut == "shaped" for end in row.ends):
                continue
            # A board that lies level, as a sill does, shows its edge.
            on_edge = abs(span(own)[1] - row.section[0]) < WITHIN
            width = span(own)[1] if piece.is_frame or on_edge else row.rip or row.section[1]
            again = rebuilt(row, width, upright=stands(piece))
            assert are_congruent(own, again), (piece.mark, own, again, row)


@pytest.mark.parametrize("path", EXAMPLES, ids=[path.stem for path in EXAMPLES])
def test_rows_of_the_examples(path: Path) -> None:
    assert_rows_tell_all(layout_of(json.loads(path.read_text())))


@settings(max_examples=20, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(clad_buildings())
def test_rows_of_any_building(value: dict[str, Any]) -> None:
    try:
        layout = layout_of(value)
    except UnbuildableError:
        reject()
    assert_rows_tell_all(layout)


BASE: dict[str, Any] = {
    "frame": {"section": [45, 95], "material": "C16"},
    "outline": {"length": 3600, "width": 2400, "through": "front-back"},
    "roof": {"form": "level", "height": 2100},
}
REBATED = {"rule": "rebated", "width": 145, "cover": 130}


def based(cladding: dict[str, Any], **changes: Any) -> Layout:
    defaults = {"studs": {"rule": "fixed-centres", "centres": 600}, "cladding": cladding}
    return layout_of(building(**BASE | {"defaults": defaults} | changes))


def gable(pitch: float, cladding: dict[str, Any]) -> Layout:
    """Its roof is 2000 high at either end of the front, which is 3600 long, and its ridge in the middle."""
    return based(
        cladding, roof={"form": "duo-pitch", "ridge": "front-back", "low_height": 2000, "pitch": pitch}
    )


def tapers(row: CuttingRow) -> list[tuple[float, ...]]:
    return [(rip.from_, rip.from_width, rip.to, rip.to_width, rip.angle) for rip in row.taper or ()]


def row_at(layout: Layout, wall: str, left: float, bottom: float) -> CuttingRow:
    """The row of the board of a wall with this lower left corner of its bounds."""
    (mark,) = (
        piece.mark
        for piece in wall_of(layout, wall).pieces
        if piece.role in ("board", "sheet")
        and bounds(piece.outline)[0] == pytest.approx(left, abs=0.001)
        and bounds(piece.outline)[2] == pytest.approx(bottom, abs=0.001)
    )
    return next(row for row in layout.cutting_list if mark in row.marks)


def test_a_board_across_a_flat_gable_runs_out_at_both_ends() -> None:
    """The course from 2060 to 2205 under slopes of 10 degrees that start at 2000: 60 up the slope is 340.277
    along, and its 145 are 822.336."""
    layout = gable(10, REBATED | {"lengths": [4200]})
    row = row_at(layout, "front", 340.277, 2060)
    assert [end.cut for end in row.ends] == ["point", "point"]
    assert (row.length, row.short_length) == pytest.approx((2919.446, 1274.774), abs=0.001)
    assert row.rip is None
    first, second = tapers(row)
    assert first == pytest.approx((0, 0, 822.336, 145, 10), abs=0.001)
    assert second == pytest.approx((2097.110, 145, 2919.446, 0, 10), abs=0.001)
    assert cuts_text(row, "mm", ENGLISH) == (
        "both to a point; top ripped, told from the left: 0 mm wide at 0 mm to 145 mm at 822 mm, 10°,"
        " and 145 mm wide at 2097 mm to 0 mm at 2919 mm, 10°"
    )


def test_the_top_of_a_flat_gable_is_a_triangle_narrower_than_its_board() -> None:
    """From 2190 up to the ridge at 2000 + 1800 x 0.176327 = 2317.389; 190 up the slope is 1077.544 along."""
    row = row_at(gable(10, REBATED | {"lengths": [4200]}), "back", 1077.544, 2190)
    assert [end.cut for end in row.ends] == ["point", "point"]
    assert (row.length, row.short_length) == pytest.approx((1444.913, 0), abs=0.001)
    assert row.rip == pytest.approx(127.389, abs=0.001)
    first, second = tapers(row)
    assert first == pytest.approx((0, 0, 722.456, 127.389, 10), abs=0.001)
    assert second == pytest.approx((722.456, 127.389, 1444.913, 0, 10), abs=0.001)


def test_a_board_whose_ends_are_square_keeps_its_length_under_a_flat_slope() -> None:
    """The course from 1930 to 2075 reaches 25 past the wall, where the roof is 2000 - 25 x 0.176327."""
    row = row_at(gable(10, REBATED | {"lengths": [4200]}), "front", -25, 1930)
    assert [end.cut for end in row.ends] == ["square", "square"]
    assert row.length == row.short_length == 3650
    first, second = tapers(row)
    assert first == pytest.approx((0, 65.592, 450.346, 145, 10), abs=0.001)
    assert second == pytest.approx((3199.654, 145, 3650, 65.592, 10), abs=0.001)


def test_a_rip_that_runs_out_at_one_end_alone() -> None:
    """Under 7 degrees the last course runs out over 145 / 0.122785 = 1180.930."""
    layout = layout_of(json.loads((HONEY_HOUSE.parent / "apple_store.json").read_text()))
    row = row_at(layout, "right", -95, 2024.854)
    assert cuts_text(row, "mm", ENGLISH) == (
        "left square; right to a point; top ripped, told from the left: 145 mm wide at 1357 mm"
        " to 0 mm at 2538 mm, 7°"
    )
    ((start, wide, end, narrow, angle),) = tapers(row)
    assert end - start == pytest.approx(1180.930, abs=0.001)
    assert (wide, narrow, angle, row.short_length) == (145, 0, 7, start)


def test_an_end_of_two_faces_says_where_they_meet() -> None:
    """Under 30 degrees the course that reaches over 2000 less 25 x 0.577350 is square up to there."""
    layout = gable(30, REBATED | {"lengths": [4200]})
    row = row_at(layout, "front", -25, 1930)
    left, _ = row.ends
    assert left.angles == (0, 60)
    assert left.widths == pytest.approx((55.566, 145 - 55.566), abs=0.001)
    assert left.long_point == "bottom"
    assert cut_text(left, "mm", ENGLISH) == "double bevel 0° / 60°, meeting 55.6 mm from below"
    ridge = next(piece for piece in wall_of(layout, "front").pieces if piece.ends[1].cut == "double bevel")
    assert (ridge.ends[1].angles, ridge.ends[1].widths) == ((30, 30), (22.5, 22.5))
    assert cut_text(ridge.ends[1], "mm", ENGLISH) == "double bevel 30° / 30°, meeting 22.5 mm from the left"


def test_a_board_that_an_opening_leaves_narrower_is_ripped() -> None:
    """The window's sill is 1000 high; less 5 it leaves 105 of the course from 890 to 1035 where a board
    lies within it, and notches the boards beside that."""
    window = {"name": "w", "kind": "window", "width": 2400, "height": 600, "sill": 1000, "at": {"left": 600}}
    boards = REBATED | {"lengths": [1800], "joints": "least-timber"}
    layout = based(boards, walls={"front": {"openings": [window]}})
    row = row_at(layout, "front", 1200, 890)
    assert (row.length, row.rip, row.notched) == (1200, 105, None)
    assert cuts_text(row, "mm", ENGLISH) == "both square; ripped to 105 mm"
    beside = row_at(layout, "front", -25, 890)
    assert (beside.rip, beside.notched) == (None, True)
    # A course is ripped only where all of it is.
    assert [course.rip for course in wall_of(layout, "front").courses if course.number in (8, 17)] == [
        None,
        40,
    ]


def test_sheets_that_an_opening_leaves_narrower_are_ripped_each_to_its_own_width() -> None:
    """Sheets 1200 wide with 3 between are centred on the wall: one runs from 601.5 to 1798.5, and the door at
    1350, less 5, leaves 743.5 of its lower half."""
    door = {"name": "d", "kind": "door", "width": 900, "height": 1900, "at": {"left": 1350}}
    door["framing"] = {"rule": "single-studs"}
    layout = based({"rule": "sheets", "width": 1200, "height": 1250}, walls={"front": {"openings": [door]}})
    lower = row_at(layout, "front", 601.5, 0)
    assert (lower.length, lower.rip, lower.count) == (1250, 743.5, 2)
    outer = row_at(layout, "front", -7.5, 0)
    assert (outer.length, outer.rip) == (1250, 606)


def test_lining_that_is_not_square_is_told_from_its_back_and_apart_from_cladding() -> None:
    roof = {"form": "mono-pitch", "high_side": "front", "low_height": 2000, "pitch": 8}
    defaults = {"studs": {"rule": "fixed-centres", "centres": 600}, "cladding": REBATED, "lining": REBATED}
    layout = based(REBATED, roof=roof, defaults=defaults)
    pieces = {piece.mark: piece for wall in layout.walls for piece in wall.pieces}
    told = 0
    for row in layout.cutting_list:
        faces = {pieces[mark].face for mark in row.marks}
        is_inside = row.face == "inside"
        assert faces == {row.face} or (row.face is None and not row.taper and not row.notched)
        assert cuts_text(row, "mm", ENGLISH).endswith("; lining, so seen from its back") == is_inside
        told += is_inside
    assert told
