"""What is told of a floor: its deck, its spans, the air under it."""

from __future__ import annotations

from typing import Any

import pytest

from soleplate.engine.layout import FindingOut
from tests.buildings import layout_of
from tests.floors import FLOOR, HATCH, floor_with, on_floor


def told(floor: dict[str, Any], code: str, **changes: Any) -> list[FindingOut]:
    layout = layout_of(on_floor(floor, **changes))
    return [found for found in layout.findings if found.part == "floor" and found.code == code]


def joists(centres: float) -> dict[str, Any]:
    return {"rule": "fixed-centres", "centres": centres}


# NHBC Standards 6.4.19 Table 7: mm of P5, OSB3, plywood and softwood boards at 400, 450 and 600 mm centres.
TABLE = {
    "chipboard P5": (18, 18, 22),
    "OSB3": (15, 15, 18),
    "plywood": (15, 15, 18),
}


@pytest.mark.parametrize("material", TABLE)
@pytest.mark.parametrize(("at", "centres"), list(enumerate((400, 450, 600))))
def test_a_deck_is_as_thick_as_the_table_says(material: str, at: int, centres: float) -> None:
    least = TABLE[material][at]
    for thickness, count in ((least, 0), (least - 1, 1)):
        deck = FLOOR["deck"] | {"material": material, "thickness": thickness}
        found = told(floor_with(joists=joists(centres), deck=deck), "deck-thin")
        assert [each.limit for each in found] == [float(least)] * count


@pytest.mark.parametrize(("at", "centres"), list(enumerate((400, 450, 600))))
def test_softwood_boards_are_as_thick_as_the_table_says(at: int, centres: float) -> None:
    least = (16, 16, 19)[at]
    for thickness, count in ((least, 0), (least - 1, 1)):
        deck = {"rule": "tongue-and-groove", "width": 120, "cover": 110, "gap": 2, "thickness": thickness}
        assert len(told(floor_with(joists=joists(centres), deck=deck), "deck-thin")) == count


def test_nothing_is_said_of_a_material_that_the_table_has_not() -> None:
    deck = FLOOR["deck"] | {"material": "cork", "thickness": 5}
    assert not told(floor_with(deck=deck), "deck-thin")


def test_joists_wider_apart_than_the_table_goes() -> None:
    (found,) = told(floor_with(joists=joists(900)), "deck-thin")
    assert found.limit == 600.0


@pytest.mark.parametrize(
    ("ground", "lows"), [(None, []), (313, []), (312, ["joists"]), (290, ["joists", "bearers"])]
)
def test_how_far_timber_is_from_the_ground(ground: float | None, lows: list[str]) -> None:
    """Approved Document C, as restated: 150 mm under joists, 75 mm under what they lie on."""
    site = {} if ground is None else {"ground": ground}
    floor = floor_with(bearers=FLOOR["bearers"] | {"section": [95, 60]})
    found = told(floor, "floor-void", site=site)
    assert [("joists" if "joists" in f.message else "bearers") for f in found] == lows


@pytest.mark.parametrize(
    ("length", "width", "area"),
    [
        # By hand: 1500 x 14.4 m is more than 500 x 12.15 m2.
        (4500, 2700, 21_600.0),
        # 500 x 225 m2 is more than 1500 x 60 m.
        (15_000, 15_000, 112_500.0),
    ],
)
def test_air_under_the_floor(length: float, width: float, area: float) -> None:
    floor = floor_with(noggins=None, deck=None, bearers=None, section=[75, 220])
    (found,) = told(floor, "floor-ventilation", outline={"length": length, "width": width})
    assert found.limit == pytest.approx(area)


def test_struts_over_a_clear_span_of_two_and_a_half_metres() -> None:
    bare = {"deck": None, "bearers": None}
    (found,) = told(floor_with(**bare, noggins=None), "no-strutting")
    assert found.value == 2610.0
    assert not told(floor_with(**bare, noggins={"rule": "staggered", "rows": 1}), "no-strutting")
    assert not told(floor_with(deck=None, noggins=None), "no-strutting")


def test_the_clear_span_is_told_without_a_limit() -> None:
    (found,) = told(floor_with(), "floor-span")
    assert (found.level, found.value, found.limit) == ("note", 1207.5, None)
    (bare,) = told(floor_with(bearers=None), "floor-span")
    assert bare.value == 2610.0


def test_notches_and_insulation_go_by_the_depth_of_joists() -> None:
    (notch,) = told(floor_with(), "joist-notch")
    assert notch.limit == pytest.approx(145 / 8)
    (thick,) = told(floor_with(insulation=150), "insulation-thick")
    assert (thick.value, thick.limit) == (150.0, 145.0)
    assert not told(floor_with(insulation=145), "insulation-thick")


def test_a_level_edge_without_noggins_is_told_of_a_deck() -> None:
    assert told(floor_with(noggins=None), "joint-unbacked")
    assert not told(floor_with(), "joint-unbacked")
    assert not told(floor_with(openings=[HATCH]), "sheet-edge-loose")


def test_joists_are_called_so_where_a_wall_would_have_studs() -> None:
    for floor in (floor_with(openings=[HATCH]), floor_with(joists=joists(390))):
        layout = layout_of(on_floor(floor))
        said = [found.message for found in layout.findings if found.part == "floor"]
        assert said
        assert not [message for message in said if "stud" in message or "plate" in message]
