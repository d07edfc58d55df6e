"""Openings above each other in a wall: what holds of any, and how some are framed, piece by piece."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest
from hypothesis import HealthCheck, given, reject, settings
from hypothesis import strategies as st

from soleplate.engine import Registry, lay_out, load_registry
from soleplate.engine.building_file import UnbuildableError
from soleplate.engine.framing.stacks import reached
from soleplate.engine.layout import WallOut
from soleplate.engine.registry import RuleError
from soleplate.engine.rules import Beside, Hole
from tests.buildings import HONEY_HOUSE, layout_of
from tests.engine.test_invariants import assert_sound
from tests.stacks import boxes, in_a_hole, mirrored, not_led_down, opening, places, stacked_wall

LINTEL = {"rule": "trimmed", "lintel": {"section": [45, 145]}}
CARRYING = {"rule": "trimmed", "lintel": {"section": [45, 145], "carries": True}}
RULES = st.sampled_from(
    [
        {"rule": "trimmed"},
        LINTEL,
        CARRYING,
        {"rule": "trimmed", "trimmers": 2},
        {"rule": "trimmed", "kings": 2, "lintel": {"section": [35, 120], "plies": 2}},
        {"rule": "single-studs"},
    ]
)
STUDS = st.sampled_from(
    [{"rule": "equal-bays", "largest_bay": 450}, {"rule": "fixed-centres", "centres": 400, "from": "middle"}]
)


@st.composite
def walls(draw: st.DrawFn, *, centred: bool = False) -> dict[str, Any]:
    """Two or three storeys of openings, often in line, sometimes two side by side, in no order."""
    length = draw(st.sampled_from([3000, 3600, 4200]))
    storeys = draw(st.integers(2, 3))
    height = 3300 if storeys == 2 else 4300
    heights = draw(st.sampled_from([(height, height), (height, height), (height - 300, height + 200)]))
    one_rule = draw(st.one_of(st.none(), RULES))
    middle = length / 2 if centred else length / 2 + draw(st.integers(-200, 200))
    width = draw(st.integers(400, 1600))
    made: list[dict[str, Any]] = []
    top = 0
    for storey in range(storeys):
        bottom = draw(st.sampled_from([0, 600])) if storey == 0 else top + draw(st.integers(195, 330))
        top = bottom + draw(st.integers(450, 800) if bottom else st.integers(1500, 1900))
        off = 0 if centred else draw(st.sampled_from([0, 0, 15, -30, 250, -400]))
        wide = max(width + draw(st.sampled_from([0, 0, 30, -90, 200, -300, 700, -700])), 250)
        rule = one_rule or draw(RULES)
        if storey == 1 and draw(st.integers(0, 5)) == 0:
            sides = [middle + off + turn * wide / 2 for turn in (-1, 1)]
            made += [
                opening(f"{storey} {index}", side, wide / 3, bottom, top, framing=rule)
                for index, side in enumerate(sides)
            ]
        else:
            made.append(opening(f"{storey}", middle + off, wide, bottom, top, framing=rule))
    return stacked_wall(
        *draw(st.permutations(made)),
        length=length,
        heights=(heights[1], heights[1]) if centred else heights,
        carries_roof=draw(st.booleans()),
        studs=draw(STUDS),
        noggins={"rule": "straight", "rows": 2},
    )


def wall_of(value: dict[str, Any]) -> WallOut:
    (wall,) = layout_of(value).walls
    return wall


@settings(max_examples=150, deadline=None, suppress_health_check=[HealthCheck.filter_too_much])
@given(walls())
def test_whatever_stands_above_what_the_frame_is_sound_and_every_load_comes_down(
    value: dict[str, Any],
) -> None:
    try:
        layout = layout_of(value)
    except UnbuildableError:
        reject()
    assert_sound(layout)
    (wall,) = layout.walls
    assert in_a_hole(wall) == []
    assert not_led_down(wall) == []
    assert [each for each in boxes(wall) if each.role == "cripple" and each.top - each.bottom < 39.9] == []


@settings(max_examples=40, deadline=None, suppress_health_check=[HealthCheck.filter_too_much])
@given(walls())
def test_a_mirrored_stack_is_framed_mirrored(value: dict[str, Any]) -> None:
    try:
        wall = wall_of(value)
    except UnbuildableError:
        with pytest.raises(UnbuildableError):
            layout_of(mirrored(value))
        return
    assert places(wall) == places(wall_of(mirrored(value)), turned=True)


@settings(max_examples=40, deadline=None, suppress_health_check=[HealthCheck.filter_too_much])
@given(walls(centred=True))
def test_a_symmetric_stack_is_framed_symmetrically(value: dict[str, Any]) -> None:
    try:
        wall = wall_of(value)
    except UnbuildableError:
        reject()
    assert places(wall) == places(wall, turned=True)


@settings(max_examples=60, deadline=None, suppress_health_check=[HealthCheck.filter_too_much])
@given(walls())
def test_under_a_roof_what_comes_down_goes_past_lintels_that_are_not_said_to_carry(
    value: dict[str, Any],
) -> None:
    value["outline"]["walls"][0]["carries_roof"] = True
    for each in value["walls"]["wall"]["openings"]:
        each["framing"] = {"rule": "trimmed", "lintel": {"section": [45, 120]}}
    try:
        wall = wall_of(value)
    except UnbuildableError:
        reject()
    plate = min(
        z for piece in wall.pieces if piece.role.endswith("plate") for _, z in piece.outline if z > 500
    )
    reaching = [each for each in boxes(wall) if each.is_upright and each.top > plate - 0.1]
    assert {each.role for each in reaching if each.bottom > 45.1} <= {"cripple"}
    for trimmer in (each for each in boxes(wall) if each.role == "trimmer" and each.bottom > 45.1):
        # What it brings down goes through the end of the lintel into the trimmer below.
        assert any(
            other.role == "trimmer"
            and abs(other.top - (trimmer.bottom - 120)) < 0.1
            and min(other.right, trimmer.right) - max(other.left, trimmer.left) > 0.05
            for other in boxes(wall)
        ), trimmer


def stack(*openings: dict[str, Any], **more: Any) -> WallOut:
    return wall_of(stacked_wall(*openings, studs={"rule": "equal-bays"}, **more))


def of(wall: WallOut, name: str) -> list[tuple[str, float, float, float, float]]:
    """The timbers of an opening: role, left, right, bottom and top, mm."""
    (hole,) = [each for each in wall.openings if each.name == name]
    return sorted(
        (each.role, each.left, each.right, each.bottom, each.top)
        for each in boxes(wall)
        if each.piece.mark in hole.pieces
    )


DOOR = opening("door", 1800, 900, 0, 1900, framing=LINTEL)


def test_a_window_as_wide_as_the_door_shares_its_kings_and_stands_over_its_trimmers() -> None:
    wall = stack(DOOR, opening("window", 1800, 900, 2300, 2800, framing=LINTEL), carries_roof=True)
    assert of(wall, "door") == [
        ("king stud", 1260, 1305, 45, 3155),
        ("king stud", 2250 + 45, 2250 + 90, 45, 3155),
        ("lintel", 1305, 2295, 1900, 2045),
        ("packer", 1305, 2295, 1900, 2045),
        ("trimmer", 1305, 1350, 45, 1900),
        ("trimmer", 2250, 2295, 45, 1900),
    ]
    assert of(wall, "window") == [
        ("lintel", 1305, 2295, 2800, 2945),
        ("packer", 1305, 2295, 2800, 2945),
        ("sill", 1350, 2250, 2255, 2300),
        ("trimmer", 1305, 1350, 2045, 2800),
        ("trimmer", 2250, 2295, 2045, 2800),
    ]
    between = [each for each in boxes(wall) if each.role == "cripple" and each.bottom == 2045]
    assert {each.top for each in between} == {2255}


def test_a_narrower_window_is_led_past_a_lintel_that_only_carries_its_own() -> None:
    window = opening("window", 1800, 500, 2300, 2800, framing=LINTEL)
    wall = stack(DOOR, window, carries_roof=True)
    assert of(wall, "window") == [
        ("jamb stud", 1505, 1550, 2045, 2800),
        ("jamb stud", 2050, 2095, 2045, 2800),
        ("lintel", 1305, 2295, 2800, 2945),
        ("packer", 1305, 2295, 2800, 2945),
        ("sill", 1550, 2050, 2255, 2300),
        ("trimmer", 1305, 1350, 2045, 2800),
        ("trimmer", 2250, 2295, 2045, 2800),
    ]
    found = {
        each.code: each.value for each in layout_of(stacked_wall(DOOR, window, carries_roof=True)).findings
    }
    assert found["lintel-reaches"] == 990
    assert "stands-on-opening" not in found


@pytest.mark.parametrize(
    ("carries_roof", "below"), [(True, CARRYING), (False, LINTEL), (False, {"rule": "trimmed"})]
)
def test_its_studs_stand_on_a_lintel_said_to_carry_and_where_no_roof_rests(
    carries_roof: bool, below: dict[str, Any]
) -> None:
    door = DOOR | {"framing": below}
    value = stacked_wall(
        door, opening("window", 1800, 500, 2300, 2800, framing=LINTEL), carries_roof=carries_roof
    )
    layout = layout_of(value)
    (wall,) = layout.walls
    top = 1945 if "lintel" not in below else 2045
    assert [each for each in of(wall, "window") if each[0] in ("jamb stud", "trimmer")] == [
        ("jamb stud", 1460, 1505, top, 3155),
        ("jamb stud", 2095, 2140, top, 3155),
        ("trimmer", 1505, 1550, top, 2800),
        ("trimmer", 2050, 2095, top, 2800),
    ]
    (found,) = [each for each in layout.findings if each.code == "stands-on-opening"]
    assert found.value == 990
    assert "king stud" in {role for role, *_ in of(wall, "door")}
    (beam,) = [length for length in wall.plate_lengths if length.over == "door"]
    assert [mark.at for mark in beam.marks][:2] == [155, 200]
    assert beam.plate == ("head" if below == {"rule": "trimmed"} else "lintel")


def test_a_wider_window_stands_its_own_and_the_kings_of_the_door_end_under_its_sill() -> None:
    wall = stack(DOOR, opening("window", 1800, 1800, 2300, 2800, framing=LINTEL), carries_roof=True)
    assert [each for each in of(wall, "door") if each[0] == "jamb stud"] == [
        ("jamb stud", 1260, 1305, 45, 2255),
        ("jamb stud", 2295, 2340, 45, 2255),
    ]
    assert [each for each in of(wall, "window") if each[0] in ("king stud", "trimmer")] == [
        ("king stud", 810, 855, 45, 3155),
        ("king stud", 2745, 2790, 45, 3155),
        ("trimmer", 855, 900, 45, 2800),
        ("trimmer", 2700, 2745, 45, 2800),
    ]


def test_partly_beside_each_other_each_side_is_framed_by_what_stands_there() -> None:
    wall = stack(DOOR, opening("window", 2100, 900, 2300, 2800, framing=LINTEL), carries_roof=True)
    assert [
        each for each in of(wall, "window") if each[0] in ("king stud", "trimmer", "jamb stud", "lintel")
    ] == [
        ("jamb stud", 1605, 1650, 2045, 2800),
        ("king stud", 2595, 2640, 45, 3155),
        ("lintel", 1305, 2595, 2800, 2945),
        ("trimmer", 1305, 1350, 2045, 2800),
        ("trimmer", 2550, 2595, 45, 2800),
    ]
    assert [each for each in of(wall, "door") if each[0] in ("king stud", "jamb stud")] == [
        ("jamb stud", 2295, 2340, 45, 2255),
        ("king stud", 1260, 1305, 45, 3155),
    ]


def test_a_gap_too_narrow_for_a_stud_beside_trimmers_is_packed_and_one_too_low_too() -> None:
    window = opening("window", 1800, 880, 2110, 2800, framing=LINTEL)
    layout = layout_of(stacked_wall(DOOR, window, carries_roof=True))
    found = {each.code: each.value for each in layout.findings}
    assert found["packed-beside-trimmers"] == 10
    assert found["packed-between-openings"] == 20
    (wall,) = layout.walls
    assert ("trimmer", 1315, 1360, 2045, 2800) in of(wall, "window")


def test_a_window_right_on_the_lintel_below_has_no_sill() -> None:
    wall = stack(DOOR, opening("window", 1800, 900, 2045, 2800, framing=LINTEL))
    assert "sill" not in {role for role, *_ in of(wall, "window")}


def test_in_a_gable_a_window_over_a_door_is_framed_up_to_the_raked_plates() -> None:
    value = json.loads((HONEY_HOUSE.parent / "seed_loft.json").read_text())
    layout = layout_of(value)
    for wall in layout.walls:
        assert in_a_hole(wall) == []
        assert not_led_down(wall) == []
    front = layout.walls[0]
    window = of(front, "loft window")
    assert [role for role, *_ in window].count("jamb stud") == 2
    assert max(top for *_, top in window) > 3000


REFUSED = [
    # (openings, place, what would do)
    (
        [DOOR, opening("window", 1800, 900, 2060, 2500, framing=LINTEL)],
        "/walls/wall/openings/1",
        r"accepted is 2045 mm, on those timbers, or at least 2090 mm",
    ),
    (
        [DOOR, opening("window", 1800, 1500, 1950, 2500, framing=LINTEL)],
        "/walls/wall/openings/1/sill",
        r"leave 50.0 mm between them for the timbers that lie there; accepted is 140.0 mm more",
    ),
    (
        [DOOR, opening("window", 1800, 900, 1900, 2500, framing=LINTEL)],
        "/walls/wall/openings/1/sill",
        r"leave 0.0 mm between them for the timbers that lie there; accepted is 190.0 mm more",
    ),
    (
        [DOOR, opening("window", 1800, 900, 1700, 2500)],
        "/walls/wall/openings/1/at",
        "accepted are openings beside or above each other",
    ),
    (
        [DOOR, opening("window", 1800, 900, 2300, 3000, framing=LINTEL)],
        "/walls/wall/openings/1",
        r"the lintel would reach 3145.0 mm .* at 3107.9 mm there; .* lintel 37.1 mm lower",
    ),
    (
        [
            opening(name, 1800, wide, bottom, top, framing={"rule": "single-studs"})
            for name, wide, bottom, top in (("door", 900, 0, 1900), ("window", 840, 2300, 2600))
        ],
        "/walls/wall/openings/1",
        r"no room for one of 45 mm beside it; accepted is an edge at that stud, or at least 45 mm from it",
    ),
    (
        [DOOR, opening("panes", 1800, 840, 2300, 2600, framing={"rule": "panes", "panes": 2})],
        "/walls/wall/openings/1",
        "panes frames no opening above .*; accepted are single-studs, trimmed, or openings beside",
    ),
    (
        [DOOR, opening("window", 1500, 700, 2300, 3300)],
        "/walls/wall/openings/1/height",
        r"its top at 3300 mm is over the top of the wall there, 3124 mm",
    ),
    (
        [
            opening("doors", 1800, 2000, 0, 1900, framing=LINTEL),
            opening("one", 1200, 400, 2300, 2600, framing={"rule": "trimmed"}),
            opening("other", 2400, 400, 2300, 2600, framing={"rule": "trimmed"}),
        ],
        "/walls/wall/openings/",
        r"whose lintel carries what is above it",
    ),
]


@pytest.mark.parametrize(("openings", "place", "said"), REFUSED)
def test_what_cannot_be_is_refused_with_what_would_do(
    openings: list[dict[str, Any]], place: str, said: str
) -> None:
    value = stacked_wall(*openings, heights=(2900, 3600), carries_roof=True)
    if said.startswith("panes") or "2300" not in json.dumps(openings):
        value = stacked_wall(*openings, carries_roof=True)
    with pytest.raises(UnbuildableError, match=said) as raised:
        layout_of(value)
    assert raised.value.faults[0].pointer.startswith(place)


def test_two_windows_over_wide_doors_stand_on_a_lintel_said_to_carry() -> None:
    doors = opening("doors", 1800, 2000, 0, 1900, framing=CARRYING)
    others = [opening(name, at, 400, 2300, 2600) for name, at in (("one", 1200), ("other", 2400))]
    wall = stack(doors, *others, carries_roof=True)
    assert in_a_hole(wall) == []
    assert not_led_down(wall) == []


def hole(left: float, right: float, bottom: float, top: float) -> Hole:
    return Hole("hole", "gap", left, right, bottom, top)


def test_a_third_opening_between_two_parts_their_uprights() -> None:
    """The lowest ends under the wide one between, so that the highest need not heed it."""
    holes = [hole(1000, 2000, 0, 1900), hole(500, 2500, 2300, 2800), hole(980, 2020, 3200, 3600)]
    beside = {index: Beside(45.0, 90.0, carries=True) for index in range(3)}
    assert reached(holes, beside, loaded=True) == dict.fromkeys(range(3), (None, None))
    assert reached(holes[::2], {0: beside[0], 1: beside[1]}, loaded=True) == {0: (935, 2065), 1: (None, None)}


def test_one_in_the_way_of_what_shares_uprights_shares_them_too() -> None:
    """The middle one would stand on the lowest, but its studs would meet the trimmers of the highest."""
    holes = [hole(1036, 2166, 0, 1702), hole(1100, 2156, 1915, 2736), hole(1073, 2129, 2948, 3492)]
    beside = {index: Beside(45.0, 90.0, carries=True) for index in range(3)}
    left = [reached(holes, beside, loaded=False)[index][0] for index in range(3)]
    assert left == [None, 991, 991]


OWN = """
from typing import Literal
from soleplate.engine.rules import Beside, FramedOpening, OpeningRule, hookimpl, level, upright

class Posts(OpeningRule):
    "A stud at each side and a head on both."
    rule: Literal["posts"] = "posts"
    examples = ({{"rule": "posts"}},)

    {beside}

    def frame_opening(self, hole, wall):
        b = wall.breadth
        lefts = [hole.left - b] * (hole.reach[0] is None or {stubborn})
        lefts += [hole.right] * (hole.reach[1] is None)
        foot, line = wall.sole_thickness, wall.underside
        studs = [upright("king stud", wall.section, left, foot, line) for left in lefts]
        ends = [hole.left if hole.reach[0] is None else hole.reach[0],
                hole.right if hole.reach[1] is None else hole.reach[1]]
        head = level("head", wall.section, (*ends, hole.top, hole.top + b), wall.through_wall)
        return FramedOpening((*studs, head), hole.left - b, hole.right + b)

@hookimpl
def register_rules(): return [Posts]
"""
BESIDE = """def stands_beside(self, hole, wall):
        return Beside(0.0, wall.breadth)
"""


def with_posts(folder: Path, *, beside: str = BESIDE, stubborn: bool = False) -> Registry:
    file = folder / "posts.py"
    file.write_text(OWN.format(beside=beside, stubborn=stubborn))
    return load_registry(files=[file])


POSTS = [
    opening(name, 1800, 900, bottom, top, framing={"rule": "posts"})
    for name, bottom, top in (("door", 0, 1900), ("window", 2300, 2800))
]


def test_another_plugins_rule_frames_above_and_below_by_the_same_contract(tmp_path: Path) -> None:
    installed = with_posts(tmp_path)
    (wall,) = lay_out(installed.read_building(stacked_wall(*POSTS)), installed).walls
    assert of(wall, "window") == [("head", 1350, 2250, 2800, 2845)]
    assert [role for role, *_ in of(wall, "door")] == ["head", "king stud", "king stud"]
    assert not_led_down(wall) == []


def test_one_that_says_nothing_of_its_sides_frames_single_openings_alone(tmp_path: Path) -> None:
    installed = with_posts(tmp_path, beside="")
    with pytest.raises(
        UnbuildableError, match="posts frames no opening above or below another; accepted are"
    ):
        lay_out(installed.read_building(stacked_wall(*POSTS)), installed)
    lay_out(installed.read_building(stacked_wall(POSTS[0])), installed)


def test_one_that_stands_studs_where_it_was_told_of_others_is_named(tmp_path: Path) -> None:
    installed = with_posts(tmp_path, stubborn=True)
    with pytest.raises(RuleError, match=r"king stud from 1305.0 to 1350.0 mm, past the uprights") as raised:
        lay_out(installed.read_building(stacked_wall(*POSTS)), installed)
    assert (raised.value.rule, raised.value.fault) == ("posts", "overlap")


def test_what_lies_over_one_keeps_out_of_the_hole_above_it_that_has_no_sill(tmp_path: Path) -> None:
    installed = with_posts(tmp_path)
    window = opening("window", 1800, 900, 1920, 2800, framing={"rule": "posts"})
    with pytest.raises(UnbuildableError, match=r"leave 20.0 mm between them .* accepted is 25.0 mm more"):
        lay_out(installed.read_building(stacked_wall(POSTS[0], window)), installed)
