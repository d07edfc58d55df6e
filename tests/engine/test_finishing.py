"""Openings finished in whole buildings: in nothing's place, numbered last, bought, drawn and told."""

from __future__ import annotations

import csv
import io
import itertools
from typing import Any

import pytest

from soleplate.engine import UnbuildableError
from soleplate.engine.layout import Layout, OpeningOut, Piece
from soleplate.engine.shapes import Solid, View, overlap_in_space
from soleplate.viewer.drawings import WallSheet
from soleplate.viewer.lists import buying_list_csv
from soleplate.viewer.page.wall import wall_section
from soleplate.viewer.words import ENGLISH, cuts_text
from tests.buildings import building, layout_of, wall_of
from tests.floors import on_floor

LINED: dict[str, Any] = {"rule": "lined"}
CLAD: dict[str, Any] = {"rule": "rebated", "thickness": 20, "width": 120, "cover": 103}
SHEETS: dict[str, Any] = {"rule": "sheets", "thickness": 9, "width": 1200, "height": 2400}
DOOR: dict[str, Any] = {"name": "door", "kind": "door", "width": 900, "height": 1850, "at": {"left": 600}}
WINDOW: dict[str, Any] = {
    "name": "window", "kind": "window", "width": 700, "height": 600, "sill": 950, "at": {"left": 2400},
}  # fmt: skip
NARROW: dict[str, Any] = DOOR | {"framing": {"rule": "single-studs"}}
ROLES = {"jamb lining", "head lining", "sill board", "cover strip"}


def house(**changes: Any) -> dict[str, Any]:
    """The plain building clad and lined, a door and a window in its front."""
    defaults = building()["defaults"] | {"cladding": CLAD, "lining": SHEETS, "openings_finish": LINED}
    return building(defaults=defaults, walls={"front": {"openings": [DOOR, WINDOW]}}) | changes


@pytest.fixture(scope="module")
def layout() -> Layout:
    return layout_of(house())


def finishing(layout: Layout) -> list[Piece]:
    return [piece for piece in layout.pieces if piece.role in ROLES]


def opening(layout: Layout, name: str) -> OpeningOut:
    return next(each for wall in layout.walls for each in wall.openings if each.name == name)


def test_nothing_of_it_is_in_the_place_of_anything_else(layout: Layout) -> None:
    solids = [
        (piece, Solid(piece.outline, piece.depth, View("face", view.origin, view.right, view.up)))
        for wall in layout.walls
        for view in (wall.views["face"],)
        for piece in wall.pieces
    ]
    ours = [each for each in solids if each[0].role in ROLES]
    assert len(ours) == 9 + 11
    for (one, body), (other, body2) in itertools.product(ours, solids):
        assert one is other or not overlap_in_space(body, body2), (one.mark, other.mark)


def test_no_other_mark_moves(layout: Layout) -> None:
    without = layout_of(house(defaults=house()["defaults"] | {"openings_finish": None}))
    assert "openings_finish" not in without.model_dump_json(exclude_none=True)
    for bare, wall in zip(without.walls, layout.walls, strict=True):
        assert wall.pieces[: len(bare.pieces)] == bare.pieces
        assert {piece.role for piece in wall.pieces[len(bare.pieces) :]} <= ROLES
        assert (wall.marks, wall.bays) == (bare.marks, bare.bays)


def test_what_is_left_clear_is_told(layout: Layout) -> None:
    """900 less two linings of 20; 1850 less one; of the window a sill of 32 too."""
    door, window = opening(layout, "door").finish, opening(layout, "window").finish
    assert door is not None
    assert window is not None
    assert (door.clear_width, door.clear_height, door.rule) == (860.0, 1830.0, "lined")
    assert (window.clear_width, window.clear_height) == (660.0, 548.0)
    assert window.display == "660 mm × 548 mm"
    assert {*door.pieces, *window.pieces} == {piece.mark for piece in finishing(layout)}


def test_its_pieces_are_cut_bought_and_weighed(layout: Layout) -> None:
    rows = {mark: row for row in layout.cutting_list for mark in row.marks}
    for piece in finishing(layout):
        assert rows[piece.mark].length == piece.length
    jamb = next(piece for piece in finishing(layout) if piece.role == "jamb lining")
    # 20 by 70 + 20 + 9, 1830 long, of an unknown softwood at 500 kg/m3
    assert jamb.weight_kg == pytest.approx(0.020 * 0.099 * 1.830 * 500, abs=1e-3)
    bought = {(row.section, row.material): row for row in layout.buying_list}
    assert bought[(20.0, 99.0), "softwood"].pieces == 2 + 1 + 2 + 1
    (flashing,) = (row for row in layout.goods if row.kind == "head flashing")
    # 860 and 660 clear, each with two strips of 70 and 25 past both
    assert flashing.quantity == pytest.approx(0.860 + 0.660 + 4 * (0.070 + 0.025))
    told = list(csv.reader(io.StringIO(buying_list_csv(layout).decode("utf-8-sig"))))
    assert [row[0] for row in told if row[0] == "head flashing"] == ["head flashing"]


def test_the_list_says_how_strips_are_cut_round_the_sill(layout: Layout) -> None:
    """The sill is 32 thick; strips lap 15 of a lining of 20."""
    (row,) = [row for row in layout.cutting_list if row.notches]
    assert row.role == "cover strip"
    assert row.count == 2
    assert cuts_text(row, "mm", ENGLISH) == (
        "both square; one edge notched 15 mm deep, 0 to 32 mm from its foot or left end"
    )


def test_a_ripped_board_tells_its_rip() -> None:
    value = house(defaults=house()["defaults"] | {"openings_finish": LINED | {"board": 175}})
    ripped = {piece.role: (piece.section[1], piece.rip) for piece in finishing(layout_of(value))}
    assert ripped["jamb lining"] == (175.0, 99.0)
    assert ripped["sill board"] == (175.0, 99.0 + 35.0)
    assert ripped["cover strip"][1] is None


def test_the_page_tells_the_clear_size(layout: Layout) -> None:
    rows = {mark: index for index, row in enumerate(layout.cutting_list) for mark in row.marks}
    sheet = WallSheet(layout, rows)
    told = wall_section(wall_of(layout, "front"), layout, sheet)
    assert "Clear of its linings" in told
    assert "860 × 1830" in told
    bare = wall_of(layout, "back")
    assert "Clear of its linings" not in wall_section(bare, layout, sheet)


def test_an_opening_says_its_own_finish() -> None:
    own = house(walls={"front": {"openings": [DOOR | {"finish": {"rule": "as-framed"}}, WINDOW]}})
    told = layout_of(own)
    assert opening(told, "door").finish is None
    assert opening(told, "window").finish is not None
    alone = building(walls={"front": {"openings": [DOOR | {"finish": LINED}, WINDOW]}})
    told = layout_of(alone)
    assert opening(told, "door").finish is not None
    assert opening(told, "window").finish is None


def test_a_sill_of_a_door_is_refused_where_the_door_itself_asks_for_it() -> None:
    sill = LINED | {"sill": {"thickness": 45}}
    with pytest.raises(UnbuildableError, match="a door that stands on the floor has no board") as refused:
        layout_of(house(walls={"front": {"openings": [WINDOW, DOOR | {"finish": sill}]}}))
    assert refused.value.faults[0].pointer == "/walls/front/openings/1/finish"
    # Of all openings it is asked for where it has a place, and a door may say that it has none.
    for_all = house(walls={"front": {"openings": [DOOR, WINDOW], "openings_finish": sill}})
    assert [piece.role for piece in finishing(layout_of(for_all))].count("sill board") == 1
    layout_of(house(walls={"front": {"openings": [DOOR | {"finish": LINED | {"sill": None}}]}}))


def test_a_flashing_indoors_is_refused_where_the_opening_itself_asks_for_it() -> None:
    inner = {"name": "inner", "runs": "front-back", "at": 2000}
    outline = {"length": 4500, "width": 2700, "through": "front-back", "partitions": [inner]}
    door = DOOR | {"finish": LINED | {"flashing": 150}}
    with pytest.raises(UnbuildableError, match="no rain falls on it indoors") as refused:
        layout_of(house(outline=outline, walls={"inner": {"openings": [door]}}))
    assert refused.value.faults[0].pointer == "/walls/inner/openings/0/finish"


def test_jambs_of_a_door_stand_on_the_threshold_of_the_floor() -> None:
    layout = layout_of(on_floor(walls={"front": {"openings": [DOOR | {"finish": LINED}]}}))
    (threshold,) = (piece for floor in layout.floors for piece in floor.pieces if piece.role == "threshold")
    jambs = [piece for piece in finishing(layout) if piece.role == "jamb lining"]
    assert threshold.section[0] == 20.0
    assert [min(z for _, z in piece.outline) for piece in jambs] == [20.0, 20.0]


def test_a_partition_is_finished_on_both_faces_indoors() -> None:
    outline = {
        "length": 4500, "width": 2700, "through": "front-back",
        "partitions": [{"name": "inner", "runs": "front-back", "at": 2000}],
    }  # fmt: skip
    value = house(outline=outline, walls={"inner": {"openings": [DOOR]}})
    layout = layout_of(value)
    strips = [piece for piece in finishing(layout) if piece.role == "cover strip"]
    assert {(piece.face, piece.depth) for piece in strips} == {
        ("outside", (-29.0, -9.0)), ("inside", (79.0, 94.0)),
    }  # fmt: skip
    assert not [row for row in layout.goods if row.kind == "head flashing"]


@pytest.mark.parametrize(
    ("openings", "pointer", "said"),
    [
        (
            [NARROW, WINDOW | {"at": {"left": 1595}, "framing": {"rule": "single-studs"}}],
            "/walls/front/openings/1",
            "a cover strip of window would stand in a cover strip of front; accepted is an opening further",
        ),
        (
            [NARROW, WINDOW | {"at": {"left": 1595}, "framing": {"rule": "single-studs"}, "finish": LINED}],
            "/walls/front/openings/1/finish",
            "a cover strip of window would stand in a cover strip of front",
        ),
        (
            [DOOR | {"finish": LINED | {"thickness": 75}, "width": 230}],
            "/walls/front/openings/0/finish",
            "linings of 75 mm leave 80.0 mm of its width of 230 mm; accepted is up to 65.0 mm",
        ),
    ],
)
def test_what_meets_something_else_is_refused_at_its_place(
    openings: list[dict[str, Any]], pointer: str, said: str
) -> None:
    with pytest.raises(UnbuildableError) as raised:
        layout_of(house(walls={"front": {"openings": openings}}))
    (fault,) = raised.value.faults
    assert fault.pointer == pointer
    assert said in fault.message


def test_a_mirrored_wall_is_finished_in_mirror() -> None:
    def finished(at: dict[str, float]) -> list[tuple[Any, ...]]:
        layout = layout_of(house(walls={"front": {"openings": [WINDOW | {"at": at}]}}))
        length = wall_of(layout, "front").length
        turn = -1 if "right" in at else 1
        shift = length if turn < 0 else 0.0
        return sorted(
            (
                p.role,
                p.face,
                p.depth,
                sorted((round(shift + turn * x, 3), z) for x, z in p.outline),
                p.weight_kg,
            )
            for p in finishing(layout)
        )

    assert finished({"left": 700}) == finished({"right": 700})


@pytest.fixture(scope="module")
def doors() -> Layout:
    """Two leaves in a wide door, and a shutter before the window."""
    wide = DOOR | {"width": 1400, "finish": LINED | {"leaf": {"tongue": 8}}}
    shut = WINDOW | {"at": {"left": 2600}, "finish": LINED | {"leaf": {"hinged": "right"}}}
    return layout_of(house(walls={"front": {"openings": [wide, shut]}}))


def test_leaves_are_told_with_their_pieces(doors: Layout) -> None:
    pieces = {piece.mark: piece for piece in doors.pieces}
    door, window = opening(doors, "door").finish, opening(doors, "window").finish
    assert door is not None
    assert window is not None
    assert [leaf.hinged for leaf in door.leaves] == ["left", "right"]
    assert [leaf.hinged for leaf in window.leaves] == ["right"]
    # 1400 less two linings of 20 and three gaps of 3, halved; the clear height of 1830 less 3 and 8.
    assert [leaf.right - leaf.left for leaf in door.leaves] == pytest.approx([675.5, 675.5])
    assert [leaf.top - leaf.bottom for leaf in door.leaves] == pytest.approx([1819.0, 1819.0])
    for leaf in (*door.leaves, *window.leaves):
        roles = {pieces[mark].role for mark in leaf.pieces}
        assert {"leaf board", "leaf ledge", "leaf brace"} <= roles
        assert {pieces[mark].face for mark in leaf.pieces} == {"outside"}
    assert {mark for leaf in door.leaves for mark in leaf.pieces} < set(door.pieces)


def test_only_boards_of_a_leaf_lap(doors: Layout) -> None:
    front = wall_of(doors, "front")
    view = front.views["face"]
    face = View("face", view.origin, view.right, view.up)
    solids = [(piece, Solid(piece.outline, piece.depth, face)) for piece in front.pieces]
    hung = [each for each in solids if each[0].role.startswith("leaf") or each[0].role == "stop"]
    assert len(hung) > 30
    for (one, body), (other, body2) in itertools.product(hung, solids):
        if one is not other and overlap_in_space(body, body2):
            assert {one.role, other.role} == {"leaf board"}


def test_hinges_are_counted_by_ledges(doors: Layout) -> None:
    goods = {(row.kind, row.size): row.quantity for row in doors.goods}
    # Half of 675.5 and of 654: straps of 350; three ledges on each high leaf, two on the shutter.
    assert goods["T hinge", (350.0,)] == 3 + 3 + 2
    assert goods["latch", ()] == 2
    assert goods["bolt", ()] == 2


def test_an_opening_without_leaves_says_nothing_of_them(layout: Layout) -> None:
    assert '"leaves"' not in layout.model_dump_json()
