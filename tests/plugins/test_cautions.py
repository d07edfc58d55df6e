"""Each finding where it belongs, and not where it does not."""

from __future__ import annotations

import math
import re
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st
from shapely import Polygon

from soleplate.engine.layout import FindingOut
from soleplate.engine.rules import LIFT_EACH, team_lift, tilting_share
from tests.buildings import building, honey_house, layout_of

DOOR = {"name": "door", "kind": "door", "width": 900, "height": 1700, "at": {"centre": 2250}}
LINTEL = {"rule": "trimmed", "lintel": {"section": [45, 145], "plies": 1}}


def codes(value: dict[str, Any]) -> set[tuple[str, str | None]]:
    return {(finding.code, finding.wall) for finding in layout_of(value).findings}


def test_wide_bays_go_by_the_centres() -> None:
    wide = building(defaults={"studs": {"rule": "equal-bays", "largest_bay": 900}})
    close = building(defaults={"studs": {"rule": "equal-bays", "largest_centres": 600}})
    assert ("wide-bay", "front") in codes(wide)
    assert ("wide-bay", "front") not in codes(close)


@pytest.mark.parametrize(("wall", "framed", "found"), [("front", {}, True), ("front", LINTEL, False)])
def test_a_lintel_is_missed_where_the_roof_rests(wall: str, framed: dict[str, Any], found: bool) -> None:
    door = DOOR | ({"framing": framed} if framed else {})
    assert (("no-lintel", wall) in codes(building(walls={wall: {"openings": [door]}}))) is found


def test_weight_is_shared_by_those_who_lift() -> None:
    assert ("heavy-wall", "front") in codes(building())
    assert ("heavy-wall", "front") not in codes(building(site={"people": 3}))
    assert ("heavy-wall", "front") in codes(building(site={"people": 3, "lift_each": 10}))
    assert ("heavy-wall", "front") not in codes(building(site={"lift_each": 100}))


@pytest.mark.parametrize(
    ("people", "together"), [(1, 25.0), (2, 33.333), (3, 37.5), (4, 50.0), (5, 50.0), (20, 50.0)]
)
def test_what_a_team_lifts(people: int, together: float) -> None:
    """HSE L23, paragraph 120: two lift two thirds of their sum, three half; over four are no help."""
    assert team_lift(people) == pytest.approx(together, abs=0.001)


def test_two_who_lift_20_kg_each_lift_26_6_together() -> None:
    """Network Rail, lifting in teams: 26.6 kg for two people of 20 kg each."""
    assert team_lift(2) / LIFT_EACH * 20.0 == pytest.approx(26.6, abs=0.07)


@pytest.mark.parametrize(
    ("height", "share"), [(2236.0, 0.5), (2800.0, 0.5), (3200.0, 0.571), (4000.0, 0.714)]
)
def test_the_share_that_tilting_takes(height: float, share: float) -> None:
    """A wall of even weight, and the most over its whole swing, step by step."""
    assert tilting_share(height / 2, height) == pytest.approx(share, abs=0.001)


@given(centre=st.floats(300.0, 2500.0), above=st.floats(1.0, 2500.0), hands=st.floats(800.0, 2000.0))
def test_no_angle_of_the_swing_takes_more(centre: float, above: float, hands: float) -> None:
    height = centre + above
    angles = [math.radians(step / 10) for step in range(1, 900)]
    swung = [centre * math.cos(a) / min(height, hands / math.sin(a)) for a in angles]
    most = tilting_share(centre, height, hands)
    assert max(swung) == pytest.approx(most, rel=0.001)
    assert max(swung) <= most + 1e-9


def test_a_heavy_wall_says_what_is_lifted_and_what_tilted() -> None:
    deep = building(frame={"section": [45, 95], "material": "C16"}, site={"people": 2})
    found = finding(deep, "heavy-wall")
    front = next(wall for wall in layout_of(deep).walls if wall.name == "front")
    assert (found.value, found.limit) == (front.weight_kg, 33.333)
    tilted = re.search(r"takes (\d+) kg", found.message)
    assert tilted is not None
    middle = (
        sum(piece.weight_kg * Polygon(piece.outline).centroid.y for piece in front.pieces) / front.weight_kg
    )
    assert int(tilted[1]) == round(front.weight_kg * middle / front.top_line[0][1])
    assert "over 33.3 kg for 2 people" in found.message
    assert "between knuckle and elbow" in found.message
    assert (
        "no figure is published for four"
        in finding(
            building(site={"people": 4}, frame={"section": [95, 145], "material": "C24"}), "heavy-wall"
        ).basis
    )


BOARDS = {
    "cladding": {"rule": "rebated", "cover": 130, "battens": {"section": [25, 50]}},
    "lining": {"rule": "tongue-and-groove", "cover": 110, "battens": {"section": [25, 50]}},
}


@pytest.mark.parametrize(
    ("room", "faces", "words"),
    [
        ({}, (None,), "the frame weighs"),
        ({"front": 600}, (None,), "the frame weighs"),
        ({"front": 599}, (None, "outside"), "the frame and its cladding weigh"),
        ({"back": 0}, (None,), "the frame weighs"),
    ],
)
def test_what_is_lifted_is_the_frame_and_what_must_go_on_before(
    room: dict[str, int], faces: tuple[str | None, ...], words: str
) -> None:
    """With less than 600 mm to stand in (common practice, no source) boards go on first, lining never."""
    layout = layout_of(building(defaults=BOARDS, site={"room": room}))
    front = layout.walls[0]
    assert {piece.face for piece in front.pieces} == {None, "outside", "inside"}
    lifted = sum(piece.weight_kg for piece in front.pieces if piece.face in faces)
    (found,) = [found for found in layout.findings if (found.code, found.wall) == ("heavy-wall", "front")]
    assert found.value == pytest.approx(lifted, abs=0.001)
    assert found.limit == 25.0
    assert found.message.startswith(words)


def test_what_finishes_openings_is_fitted_once_a_wall_stands() -> None:
    door = {"name": "door", "kind": "door", "width": 900, "height": 1850, "at": {"left": 1500}}
    weights = []
    for finish in ({"rule": "as-framed"}, {"rule": "lined", "leaf": {}}):
        front = {"openings": [door | {"finish": finish}]}
        layout = layout_of(building(defaults=BOARDS, site={"room": {"front": 0}}, walls={"front": front}))
        weights += [
            found.value for found in layout.findings if (found.code, found.wall) == ("heavy-wall", "front")
        ]
    assert len(weights) == 2
    assert weights[0] == weights[1]


@pytest.mark.parametrize(("length", "weight"), [(4537, 25.0), (4538, 25.002)])
def test_a_wall_of_just_what_one_may_lift_is_not_too_heavy(length: int, weight: float) -> None:
    """Of a timber of 288 kg/m3, a wall of 4537 mm weighs 25 kg to the gram."""
    value = building(
        frame={"section": [45, 70], "material": "light", "density": 288},
        outline={"walls": [{"name": "front", "length": length}]},
        roof={"form": "level", "height": 2400},
    )
    assert sum(piece.weight_kg for piece in layout_of(value).pieces) == pytest.approx(weight, abs=1e-6)
    assert (("heavy-wall", "front") in codes(value)) is (weight > 25.0)


def test_bracing_and_density() -> None:
    found = codes(building(frame={"section": [45, 70], "material": "larch"}))
    assert ("no-bracing", None) in found
    assert ("unknown-density", None) in found
    assert ("unknown-density", None) not in codes(honey_house())


@pytest.mark.parametrize(("face", "braced"), [("cladding", True), ("lining", False)])
def test_sheets_outside_brace_a_frame_and_those_inside_do_not(face: str, braced: bool) -> None:
    """Common practice, no source: what lines a room is not nailed to brace it."""
    value = building(defaults={face: {"rule": "sheets", "width": 1200, "height": 2400}})
    assert (("no-bracing", None) not in codes(value)) is braced


def test_a_closing_bay_too_narrow_to_nail() -> None:
    value = building(
        outline={"length": 3075, "width": 2700},
        defaults={"studs": {"rule": "fixed-centres", "centres": 600}},
    )
    assert ("narrow-bay", "front") in codes(value)


def finding(value: dict[str, Any], code: str, wall: str | None = "front") -> FindingOut:
    (found,) = [found for found in layout_of(value).findings if (found.code, found.wall) == (code, wall)]
    return found


def test_wide_bays_are_counted_and_the_widest_is_shown() -> None:
    found = finding(building(), "wide-bay")
    assert found.message.startswith("7 bays are wider than 600 mm")
    assert (found.value, found.limit) == (636.429, 600.0)
    assert len(found.pieces) == 2


@pytest.mark.parametrize(
    ("depth", "centres", "limit"), [(70, 450, 400.0), (70, 400, None), (95, 600, None), (50, 300, 0.0)]
)
def test_bays_too_wide_for_the_stud(depth: float, centres: float, limit: float | None) -> None:
    value = building(
        frame={"section": [45, depth]},
        defaults={"studs": {"rule": "equal-bays", "largest_centres": centres}},
    )
    found = {found.wall: found for found in layout_of(value).findings if found.code == "wide-for-stud"}
    assert set(found) == ({"front", "back"} if limit is not None else set())
    assert all(one.limit == limit and one.level == "note" for one in found.values())


def test_a_partition_on_its_own_is_fixed_to_what_stands_there() -> None:
    value = building(
        outline={"walls": [{"name": "partition", "length": 3000}]}, roof={"form": "level", "height": 2200}
    )
    found = finding(value, "no-bracing", None)
    assert (found.level, found.message.count("its ends")) == ("note", 1)


def test_the_width_of_an_opening_is_no_bay() -> None:
    window = {"name": "window", "kind": "window", "width": 900, "height": 600, "at": {"left": 1000}}
    close = {"studs": {"rule": "equal-bays", "largest_centres": 600}}
    for framing in ({"rule": "trimmed"}, {"rule": "panes", "panes": 1}):
        row = window | {"sill": 900, "framing": framing}
        value = building(defaults=close, walls={"front": {"openings": [row]}})
        assert ("wide-bay", "front") not in codes(value)


def test_an_opening_no_wider_than_a_bay_needs_no_lintel() -> None:
    for width, missed in ((555, False), (560, True)):
        door = DOOR | {"width": width, "framing": {"rule": "single-studs"}}
        assert (("no-lintel", "front") in codes(building(walls={"front": {"openings": [door]}}))) is missed


def test_panes_count_between_the_studs_that_run_through() -> None:
    row = {"name": "panes", "kind": "window", "width": 1800, "height": 600, "sill": 900, "at": {"left": 1000}}
    for panes, missed in ((3, False), (2, True)):
        framed = row | {"framing": {"rule": "panes", "panes": panes}}
        assert (("no-lintel", "front") in codes(building(walls={"front": {"openings": [framed]}}))) is missed


def test_no_rafter_rests_on_a_raked_wall() -> None:
    door = DOOR | {"at": {"centre": 1280}}
    assert ("no-lintel", "right") not in codes(building(walls={"right": {"openings": [door]}}))


@pytest.mark.parametrize("carries", [True, False])
def test_a_wall_on_its_own_says_whether_it_carries_a_roof(carries: bool) -> None:
    value = building(
        outline={"walls": [{"name": "front", "length": 4500, "carries_roof": carries}]},
        roof={"form": "level", "height": 2200},
        walls={"front": {"openings": [DOOR]}},
    )
    assert (("no-lintel", "front") in codes(value)) is carries


def test_a_density_of_ones_own_is_known() -> None:
    frame = {"section": [45, 70], "material": "larch", "density": 590}
    assert ("unknown-density", None) not in codes(building(frame=frame))


def test_every_finding_names_its_basis() -> None:
    value = building(frame={"section": [45, 70], "material": "larch"}, walls={"front": {"openings": [DOOR]}})
    assert all(found.basis and found.message for found in layout_of(value).findings)


def hole(width: float, **framing: Any) -> dict[str, Any]:
    """A door in the front that carries the roof, with a lintel."""
    door = {"name": "door", "kind": "door", "width": width, "height": 1600, "at": {"left": 900}}
    return building(walls={"front": {"openings": [door | {"framing": {"rule": "trimmed"} | framing}]}})


def test_a_lintel_over_its_row_is_told() -> None:
    """IRC Table R502.5(1): 2-2x6 under 20 ft span 5-5, 1651 mm; a row for two trimmers wants two."""
    twice = {"section": [38, 140], "plies": 2}
    assert ("lintel-span", "front") not in codes(hole(1650, lintel=twice))
    assert ("lintel-span", "front") in codes(hole(1660, lintel=twice))
    assert ("lintel-unlisted", "front") not in codes(hole(1660, lintel=twice))
    one = {"section": [38, 140], "plies": 1}
    assert ("lintel-unlisted", "front") in codes(hole(1650, lintel=one))
    assert ("lintel-unlisted", "front") not in codes(hole(1000, lintel=one))


def test_a_lintel_bears_on_38_and_more() -> None:
    """S3-10: 1 1/2 in on wood; a trimmer of 45 gives that and one of 20 does not."""
    lintel = {"section": [45, 145]}
    assert ("lintel-bearing", "front") not in codes(hole(900, lintel=lintel))
    thin = hole(900, lintel=lintel) | {"frame": {"section": [20, 70]}}
    assert ("lintel-bearing", "front") in codes(thin)


def test_tall_studs_are_told() -> None:
    """S8-30: 10 ft, 3048 mm, unless something bridges them."""
    tall = building(roof={"form": "level", "height": 3200})
    assert ("stud-tall", "front") in codes(tall)
    bridged = {"noggins": {"rule": "straight", "rows": 1}}
    assert ("stud-tall", "front") not in codes(tall | {"defaults": tall.get("defaults", {}) | bridged})
    assert ("stud-tall", "front") not in codes(building())
