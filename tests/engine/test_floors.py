"""Floors: what the rule lays, what is refused, and what holds of every floor under every building."""

from __future__ import annotations

import itertools
import json
import math
from pathlib import Path
from typing import Any

import pytest
from hypothesis import HealthCheck, given, reject, settings
from hypothesis import strategies as st
from shapely import Polygon, unary_union

from soleplate.engine import PluginError, UnbuildableError, contract, lay_out, load_registry
from soleplate.engine.buying import with_saw_plan
from soleplate.engine.laying_out import layout_json
from soleplate.engine.layout import FloorOut, Layout, Piece
from soleplate.engine.registry import RuleError
from soleplate.engine.shapes import overlapping
from tests.buildings import building, honey_house, layout_of, registry
from tests.engine.test_invariants import roofs, stud_rules
from tests.floors import FLOOR, HATCH, floor_of, floor_with, honey_house_on, on_floor, solid_of

SLIVER = 0.02
"""mm; outlines are put out at 0.001."""


def world(piece: Piece, floor: FloorOut) -> Polygon:
    """A piece of a floor as it is seen from above, X and Y."""
    view = solid_of(piece, floor).view
    return Polygon([view.point(*corner)[:2] for corner in piece.outline])


def role(floor: FloorOut, name: str) -> list[Piece]:
    return [piece for piece in floor.pieces if piece.role == name]


# what the rule lays


def test_without_a_floor_nothing_is_said_of_one() -> None:
    value = json.loads(layout_json(layout_of(building())))
    assert "floors" not in value
    assert "roofs" not in value
    assert "floor" not in value["building"]


def test_walls_stand_on_the_deck_where_they_stood_without_it() -> None:
    bare, decked = layout_of(building()), layout_of(on_floor())
    assert decked.walls == bare.walls
    heights = {
        round(corner[2], 3)
        for piece in role(floor_of(decked), "sheet")
        for corner in solid_of(piece, floor_of(decked)).extent
    }
    assert heights == {-18.0, 0.0}


def test_it_is_marked_listed_bought_and_weighed_with_the_walls() -> None:
    layout = honey_house_on(floor_with())
    floor = floor_of(layout)
    assert [piece.mark for piece in floor.pieces] == [f"FL{n}" for n in range(1, len(floor.pieces) + 1)]
    listed = [mark for row in layout.cutting_list for mark in row.marks]
    assert sorted(listed) == sorted(piece.mark for piece in layout.pieces)
    assert set(floor.pieces) <= set(layout.pieces)
    bought = {(row.section, row.material) for row in layout.buying_list}
    assert {((45.0, 145.0), "C16"), ((95.0, 95.0), "C16"), ((20.0, 70.0), "C16")} <= bought
    assert sum(row.pieces for row in layout.buying_list) == len(layout.pieces)
    assert layout.weight_kg == pytest.approx(sum(part.weight_kg for part in layout.parts), abs=0.002)


def test_a_wall_called_so_that_its_marks_would_be_the_floors_gets_others() -> None:
    outline = {"corners": [[0, 0], [4500, 0], [4500, 2700], [0, 2700]], "names": ["f", "fl", "b", "l"]}
    assert {wall.pieces[0].mark[:-1] for wall in layout_of(building(outline=outline)).walls} >= {"FL"}
    partition = {"name": "flank", "runs": "front-back", "at": 2000}
    house = {"length": 4500, "width": 2700, "partitions": [partition]}
    marks = [piece.mark for piece in layout_of(on_floor(outline=house)).pieces]
    assert len(marks) == len(set(marks))


def test_its_deck_shares_no_courses_with_boards_of_the_walls() -> None:
    boards = {"rule": "tongue-and-groove", "width": 120, "cover": 110, "gap": 2, "thickness": 20}
    value = on_floor(floor_with(deck=boards, noggins=None))
    value["defaults"]["lining"] = boards
    layout = layout_of(value)
    courses = floor_of(layout).courses
    assert courses[0].bottom == 0.0
    assert layout.lining_rod[0].bottom == 0.0


@pytest.mark.parametrize("runs", ["front-back", "left-right"])
def test_a_threshold_fills_the_gap_of_each_door_and_meets_the_outer_face(runs: str) -> None:
    value = honey_house() | {"floor": floor_with(runs=runs)}
    layout = layout_of(value)
    (threshold,) = role(floor_of(layout), "threshold")
    low, high = solid_of(threshold, floor_of(layout)).extent
    assert low == pytest.approx((1500.0, 0.0, 0.0), abs=0.001)
    assert high == pytest.approx((3000.0, 70.0, 20.0), abs=0.001)
    assert threshold.length == 1500.0


@pytest.mark.parametrize("runs", ["front-back", "left-right"])
def test_a_hatch_is_clear_and_its_deck_is_cut_out(runs: str) -> None:
    hatch = HATCH | {"at": {"left": 3000}}
    floor = floor_of(honey_house_on(floor_with(runs=runs, openings=[hatch])))
    hole = Polygon([(3000, 600), (3600, 600), (3600, 1200), (3000, 1200)])
    timbers = unary_union([world(piece, floor) for piece in floor.pieces if piece.role != "bearer"])
    assert timbers.intersection(hole).area < 1.0
    trimmers = role(floor, "trimmer joist")
    assert [piece.length for piece in trimmers] == [600.0, 600.0]
    (opening,) = floor.openings
    assert set(opening.pieces) >= {piece.mark for piece in trimmers}


def test_doubled_joists_carry_the_trimmers() -> None:
    hatch = HATCH | {"framing": {"rule": "trimmed-joists", "doubled": True}}
    floor = floor_of(honey_house_on(floor_with(openings=[hatch])))
    lefts = sorted(mark.at for mark in floor.marks["back rim joist"])
    assert {1860.0, 1905.0, 2550.0, 2595.0} <= set(lefts)
    single = floor_of(honey_house_on(floor_with(openings=[HATCH])))
    assert {1860.0, 2595.0}.isdisjoint(mark.at for mark in single.marks["back rim joist"])


def test_insulation_is_what_timbers_leave() -> None:
    floor = floor_of(honey_house_on(floor_with(openings=[HATCH])))
    assert floor.insulation_m2 is not None
    among = [piece for piece in floor.pieces if piece.depth == (0.0, 145.0)]
    timbers = unary_union([world(piece, floor) for piece in among]).area
    assert floor.insulation_m2 == pytest.approx((4500 * 2700 - timbers - 600 * 600) / 1e6, abs=0.001)
    assert floor_of(honey_house_on(floor_with(insulation=None))).insulation_m2 is None


def test_long_rims_are_jointed_over_joists_and_bearers_over_pads() -> None:
    stock = {"stock": [{"section": s, "lengths": [{"length": 3000}]} for s in ([45, 145], [95, 95])]}
    layout = layout_of(on_floor(stock=stock))
    floor = floor_of(layout)
    centres = {mark.at + 22.5 for mark in floor.marks["front rim joist"]}
    for name, places in (("rim joist", centres), ("bearer", {x for x, _ in floor.pads})):
        joints = {x for piece in role(floor, name) for x, _ in piece.outline} - {0.0, 4500.0}
        assert joints
        assert joints <= places
        assert all(piece.length <= 3000.0 for piece in role(floor, name))
    told = {found.code: found.message for found in layout.findings if found.part == "floor"}
    assert "jointed over the joists at" in told["plate-joint"]
    assert "jointed over the pads at" in told["bearer-joint"]


def test_a_bearer_that_no_pad_lets_be_jointed_is_told() -> None:
    stock = {"stock": [{"section": [95, 95], "lengths": [{"length": 1000}]}]}
    codes = {found.code for found in layout_of(on_floor(stock=stock)).findings}
    assert "bearer-too-long" in codes


# what is refused


def refused(floor: dict[str, Any], **changes: Any) -> tuple[str, str]:
    with pytest.raises(UnbuildableError) as raised:
        layout_of(on_floor(floor, **changes))
    (fault,) = raised.value.faults
    return fault.pointer, fault.message


SINGLE = {"walls": [{"name": "wall", "length": 3000}]}
LEVEL = {"form": "level", "height": 2300}
PLAN = {"corners": [[0, 0], [4500, 0], [4500, 2700], [0, 2700]]}


@pytest.mark.parametrize(("outline", "what"), [(SINGLE, "walls on their own"), (PLAN, "a plan with corners")])
def test_a_floor_needs_a_rectangle(outline: dict[str, Any], what: str) -> None:
    pointer, message = refused(FLOOR, outline=outline, roof=LEVEL)
    assert pointer == "/floor"
    assert what in message
    assert "accepted is" in message


FRAMING = "/floor/openings/0/framing"


@pytest.mark.parametrize(
    ("hatch", "pointer", "message"),
    [
        ({"at": {"left": 50}}, "/floor/openings/0/at", "accepted is 90 to 4410 mm"),
        ({"at": {"right": 89}}, "/floor/openings/0/at", "accepted is 90 to 4410 mm"),
        ({"from_front": 60}, "/floor/openings/0/from_front", "accepted is 90 to 2610 mm"),
        ({"depth": 2100}, "/floor/openings/0/from_front", "accepted is 90 to 2610 mm"),
        ({"from_front": 800}, "/floor/openings/0", "bearer 2 (1303 to 1398 mm) lies under it"),
        ({"framing": {"rule": "panes", "panes": 2}}, FRAMING, "single-studs, trimmed-joists"),
        ({"framing": {"rule": "trimmed"}}, FRAMING, "single-studs, trimmed-joists"),
    ],
)  # fmt: skip
def test_a_hatch_that_cannot_be(hatch: dict[str, Any], pointer: str, message: str) -> None:
    found = refused(floor_with(openings=[HATCH | hatch]))
    assert found[0] == pointer
    assert message in found[1]


def test_hatches_that_meet_or_share_a_name() -> None:
    pointer, _ = refused(floor_with(openings=[HATCH, HATCH | {"at": {"left": 3000}}]))
    assert pointer == "/floor/openings/1/name"
    other = HATCH | {"name": "second", "at": {"left": 2580}}
    pointer, message = refused(floor_with(openings=[HATCH, other]))
    assert pointer == "/floor/openings/1/at"
    assert "accepted is" in message


@pytest.mark.parametrize(
    ("changes", "pointer", "message"),
    [
        ({"section": [45, 800]}, "/floor/section/1", "accepted is 60 to 400 mm"),
        ({"bearers": {"section": [300, 95], "rows": 10}}, "/floor/bearers/rows", "accepted are up to 8"),
        (
            {"bearers": {"section": [95, 95], "rows": 2, "pads": {"apart": 900, "size": 800}}},
            "/floor/bearers/pads/size",
            "accepted is up to 450 mm",
        ),
        ({"deck": {"rule": "lapped"}}, "/floor/deck", "accepted are sheets, tongue-and-groove"),
        ({"deck": {"rule": "bare"}}, "/floor/deck", "accepted are sheets, tongue-and-groove"),
        ({"joists": {"rule": "fixed-centres", "centres": 30}}, "/floor/joists", ""),
    ],
)
def test_members_that_cannot_be(changes: dict[str, Any], pointer: str, message: str) -> None:
    with pytest.raises(Exception) as raised:  # noqa: PT011 - either error has its faults
        layout_of(on_floor(floor_with(**changes)))
    fault = raised.value.faults[0]  # type: ignore[attr-defined]
    assert fault.pointer.startswith(pointer)
    assert message in fault.message


def test_a_stud_rule_of_another_plugin_is_blamed_for_its_joists(tmp_path: Path) -> None:
    file = tmp_path / "everywhere.py"
    file.write_text(
        "from typing import Literal\n"
        "from soleplate.engine.rules import StudRule, hookimpl\n"
        "class Everywhere(StudRule):\n"
        "    'Studs in each other.'\n"
        "    rule: Literal['everywhere'] = 'everywhere'\n"
        "    examples = ({'rule': 'everywhere'},)\n"
        "    def place_studs(self, run):\n"
        "        return [run.left + 200.0, run.left + 210.0]\n"
        "@hookimpl\n"
        "def register_rules(): return [Everywhere]\n"
    )
    installed = load_registry(files=[file])
    value = on_floor(floor_with(joists={"rule": "everywhere"}))
    with pytest.raises(RuleError, match="plugin everywhere: rule everywhere"):
        lay_out(installed.read_building(value), installed)


PICKING = """
from typing import Literal
from soleplate.engine.rules import FloorRule, NogginRule, StudRule, hookimpl

class Picking({base}):
    "Picks another rule."
    rule: Literal["picking"] = "picking"
    examples = ({{"rule": "picking", "other": {{"rule": "equal-bays"}}}},)
    other: {other}
    "The other one."

    def place_studs(self, run):
        return self.other.place_studs(run)

    def lay_floor(self, plan):
        raise NotImplementedError

@hookimpl
def register_rules(): return [Picking]
"""


@pytest.mark.parametrize(
    ("base", "other", "said"),
    [
        ("StudRule", "StudRule", "picks other rules, which only those of floors and roofs may"),
        ("FloorRule", "FloorRule", "picks a rule of floor_rules, which pick rules themselves"),
    ],
)
def test_rules_that_would_pick_each_other_without_end_are_refused(
    tmp_path: Path, base: str, other: str, said: str
) -> None:
    file = tmp_path / "picking.py"
    file.write_text(PICKING.format(base=base, other=other))
    with pytest.raises(PluginError, match=said):
        load_registry(files=[file])


def test_the_contract_reads_the_examples_of_a_rule_that_picks_others(tmp_path: Path) -> None:
    file = tmp_path / "picking.py"
    file.write_text(PICKING.format(base="FloorRule", other="NogginRule"))
    (model,) = [each.model for each in load_registry(files=[file]).rules if each.name == "picking"]
    found = contract.breaches(model, cases=1)
    assert any("an example is not valid at other" in breach.message for breach in found)


def test_joists_do_not_ask_for_a_factory_end_at_their_foot() -> None:
    stock = {"stock": [{"section": [45, 145], "lengths": [{"length": 4800}]}]}
    value = on_floor(stock=stock)
    layout = with_saw_plan(layout_of(value), registry().read_building(value))
    assert layout.factory_ends is not None
    assert {piece.role for piece in layout.standing} == {"stud"}
    assert not {piece.mark for piece in layout.standing} & {p.mark for p in floor_of(layout).pieces}


HANGING = """
from typing import Literal
from soleplate.engine.rules import Clad, CladdingRule, Section, Span, Strip, hookimpl

class Hanging(CladdingRule):
    "One sheet that hangs below the frame wherever it is laid."
    rule: Literal["hanging"] = "hanging"
    examples = ({"rule": "hanging"},)

    @property
    def build_out(self):
        return 12.0

    def lay(self, face, courses):
        span = Span(face.left, face.right, -30.0, 1000.0)
        section = Section(12.0, span.right - span.left)
        return Clad((Strip("sheet", section, "OSB", span, span, (-12.0, 0.0), upright=True, jointed=False),))

@hookimpl
def register_rules(): return [Hanging]
"""


def test_a_lining_that_would_hang_into_the_floor_is_the_fault_of_its_rule(tmp_path: Path) -> None:
    file = tmp_path / "hanging.py"
    file.write_text(HANGING)
    installed = load_registry(files=[file])
    value = on_floor()
    value["defaults"]["lining"] = {"rule": "hanging"}
    with pytest.raises(RuleError, match=r"plugin hanging: rule hanging .* overlaps a .* of floor"):
        lay_out(installed.read_building(value), installed)
    del value["floor"]
    assert lay_out(installed.read_building(value), installed)


# what holds of every floor


coverings = st.sampled_from(
    [
        None,
        {"rule": "lapped"},
        {"rule": "sheets", "drop": 60},
        {"rule": "tongue-and-groove", "width": 120, "cover": 110, "gap": 2, "thickness": 20},
        {"rule": "board-and-batten", "counter_battens": {"section": [25, 38]}},
    ]
)


@st.composite
def floors(draw: st.DrawFn) -> dict[str, Any]:
    deck = draw(
        st.sampled_from(
            [
                None,
                FLOOR["deck"],
                FLOOR["deck"] | {"gap": 0, "from": "right"},
                {"rule": "tongue-and-groove", "width": 120, "cover": 110, "gap": 2, "thickness": 20},
            ]
        )
    )
    hatch = HATCH | {
        "at": {draw(st.sampled_from(["left", "right"])): draw(st.integers(90, 1500))},
        "from_front": draw(st.integers(90, 1500)),
        "width": draw(st.integers(300, 900)),
        "depth": draw(st.integers(300, 900)),
        "framing": draw(st.sampled_from([{"rule": "single-studs"}, {"rule": "trimmed-joists"}])),
    }
    return floor_with(
        section=draw(st.sampled_from([[45, 145], [38, 89], [63, 170]])),
        runs=draw(st.sampled_from(["front-back", "left-right"])),
        joists=draw(stud_rules),
        noggins=draw(
            st.sampled_from(
                [None, {"rule": "straight", "behind_sheets": 1220}, {"rule": "staggered", "rows": 1}]
            )
        ),
        openings=draw(st.sampled_from([[], [hatch]])),
        bearers=draw(st.sampled_from([None, {"section": [95, 95], "rows": 2}, FLOOR["bearers"]])),
        deck=deck,
    )


@st.composite
def buildings(draw: st.DrawFn) -> dict[str, Any]:
    door = {
        "name": "door", "kind": "door", "width": 800, "height": 1700,
        "at": {"left": draw(st.integers(200, 500))},
    }  # fmt: skip
    sides = draw(st.lists(st.sampled_from(["front", "right", "back", "left"]), unique=True, max_size=2))
    return building(
        outline={
            "length": draw(st.integers(1800, 6000)),
            "width": draw(st.integers(1800, 4500)),
            "through": draw(st.sampled_from(["front-back", "left-right", "pinwheel"])),
        },
        roof=draw(roofs),
        walls={side: {"openings": [door]} for side in sides},
        defaults={"cladding": draw(coverings), "lining": draw(coverings)},
    ) | {"floor": draw(floors())}


def built(value: dict[str, Any]) -> Layout:
    try:
        return layout_of(value)
    except UnbuildableError:
        reject()


@settings(max_examples=60, deadline=None, suppress_health_check=list(HealthCheck))
@given(buildings())
def test_every_floor_is_sound_in_space_with_the_walls_on_it(value: dict[str, Any]) -> None:
    layout = built(value)
    floor = floor_of(layout)
    placed = [(part, piece) for part in layout.parts for piece in part.pieces]
    solids = [solid_of(piece, part) for part, piece in placed]
    for one, other in overlapping(solids):
        (part, piece), (part2, piece2) = placed[one], placed[other]
        # Boards of one face lap by their tongues.
        assert (part.name, piece.face) == (part2.name, piece2.face)
        assert piece.face is not None

    # By another judge: as seen from above, in layers.
    whole = Polygon([(0, 0), (floor.length, 0), (floor.length, floor.width), (0, floor.width)])
    among = [p for p in floor.pieces if p.is_frame and p.depth[0] == 0.0]
    outlines = [world(piece, floor) for piece in among]
    for polygon in outlines:
        assert polygon.within(whole.buffer(SLIVER))
    assert sum(p.area for p in outlines) == pytest.approx(unary_union(outlines).area, abs=10.0)
    rims = unary_union([world(piece, floor) for piece in role(floor, "rim joist")])
    trimmers = unary_union([world(piece, floor) for piece in role(floor, "trimmer joist")])
    for joist in role(floor, "joist"):
        ends = world(joist, floor).buffer(SLIVER)
        assert ends.intersects(rims)
        assert ends.intersection(rims.union(trimmers)).area > 0.0


@settings(max_examples=60, deadline=None, suppress_health_check=list(HealthCheck))
@given(buildings())
def test_every_floor_has_the_volumes_of_its_closed_forms(value: dict[str, Any]) -> None:
    layout = built(value)
    floor = floor_of(layout)
    breadth, depth = value["floor"]["section"]
    across, along = floor.length, floor.width
    if floor.runs == "left-right":
        across, along = along, across
    whole_joists = [p for p in role(floor, "joist") if abs(p.length - (along - 2 * breadth)) < 0.01]
    assert len(whole_joists) >= 2
    volumes = {piece.mark: solid_of(piece, floor).volume for piece in floor.pieces}
    for joist in whole_joists:
        assert volumes[joist.mark] == pytest.approx((along - 2 * breadth) * breadth * depth, rel=1e-6)
    assert sum(volumes[p.mark] for p in role(floor, "rim joist")) == pytest.approx(
        2 * across * breadth * depth, rel=1e-6
    )
    for piece in (p for p in floor.pieces if p.is_frame):
        assert volumes[piece.mark] == pytest.approx(piece.length * math.prod(piece.section), rel=1e-5)
    if floor.insulation_m2 is not None:
        among = sum(volumes[p.mark] for p in floor.pieces if p.is_frame and p.depth[0] == 0.0) / depth
        holes = sum(o["width"] * o["depth"] for o in value["floor"]["openings"])
        left = (floor.length * floor.width - among - holes) / 1e6
        assert floor.insulation_m2 == pytest.approx(left, abs=0.001)


@settings(max_examples=60, deadline=None, suppress_health_check=list(HealthCheck))
@given(buildings())
def test_every_end_of_a_sheet_lies_on_a_joist_or_is_told(value: dict[str, Any]) -> None:
    layout = built(value)
    floor = floor_of(layout)
    edge = floor.length if floor.runs == "front-back" else floor.width
    gap = (value["floor"].get("deck") or {}).get("gap", 0.0)
    told = {f.value for f in layout.findings if f.part == "floor" and f.code == "sheet-edge-loose"}
    joists = [
        (min(u for u, _ in p.outline), max(u for u, _ in p.outline))
        for p in floor.pieces
        if p.is_frame and p.role == "joist"
    ]
    holes = [(o.left, o.right) for o in floor.openings]
    ends = [u for p in role(floor, "sheet") for u in (p.outline[0][0], p.outline[2][0])]
    sheets = [(min(u for u, _ in p.outline), max(u for u, _ in p.outline)) for p in role(floor, "sheet")]
    for end in itertools.chain.from_iterable(sheets):
        at_edge = min(end, edge - end) <= gap / 2 + SLIVER
        on_joist = any(left - SLIVER <= end <= right + SLIVER for left, right in joists)
        in_hole = any(left - 10 <= end <= right + 10 for left, right in holes)
        loose = any(abs(end - at) <= gap / 2 + SLIVER for at in told if at is not None)
        assert at_edge or on_joist or in_hole or loose
    assert len(ends) == 2 * len(sheets)


@pytest.mark.parametrize("length", range(1800, 6000, 700))
def test_pads_of_up_to_half_of_what_they_stand_apart_never_meet(length: int) -> None:
    pads = {"apart": 900, "size": 450}
    value = on_floor(
        floor_with(bearers={"section": [95, 95], "rows": 2, "pads": pads}),
        outline={"length": length, "width": 2700, "through": "front-back"},
    )
    xs = sorted({x for x, _ in floor_of(layout_of(value)).pads})
    assert len(xs) > 1
    assert all(b - a >= 450.0 for a, b in itertools.pairwise(xs))
