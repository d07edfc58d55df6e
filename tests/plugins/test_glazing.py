"""Panes of plastic: what they are cut to, and whether they are held."""

from __future__ import annotations

from typing import Any

import pytest

from soleplate.engine.building_file import UnbuildableError
from soleplate.engine.layout import FindingOut
from tests.buildings import building, layout_of


def found(framing: dict[str, Any], breadth: float = 45, **block: Any) -> dict[str, FindingOut]:
    panes = {
        "name": "panes",
        "kind": "window",
        "width": 2460,
        "height": 600,
        "sill": 1100,
        "at": {"centre": 2250},
    }
    own = {"framing": {"rule": "panes", "panes": 3} | framing} if framing else {}
    value = building(
        frame={"section": [breadth, 70], "material": "C16"},
        walls={"back": {"openings": [panes | own], **block}},
    )
    return {each.code: each for each in layout_of(value).findings if each.code.startswith("pane-")}


def test_nothing_is_said_of_panes_of_nothing() -> None:
    assert found({"edge_cover": 20}) == {}


def test_the_joint_between_panes_is_told() -> None:
    """820 mm of polycarbonate over 55 K (EPSE, 3.575 mm a metre): cut to 817.1 mm, 2.9 mm apart."""
    told = found({"edge_cover": 20, "glazing": {"material": "polycarbonate", "shank": 5}})
    assert set(told) == {"pane-joint"}
    assert told["pane-joint"].level == "note"
    assert told["pane-joint"].value == pytest.approx(820 - 820 / 1.003575, abs=0.001)
    assert (
        "817.1 mm wide and leave 2.9 mm between them, and drill holes of 7.9 mm" in told["pane-joint"].message
    )


def test_narrow_studs_hold_too_little() -> None:
    told = found({"edge_cover": 20, "glazing": {"material": "polycarbonate"}}, breadth=32)
    assert told["pane-cover"].level == "warn"
    assert told["pane-cover"].value == pytest.approx(16 - (820 - 820 / 1.003575), abs=0.001)
    assert "panes have 13.1 mm on their studs" in told["pane-cover"].message
    assert told["pane-cover"].pieces


@pytest.mark.parametrize(("glazing", "says"), [({"least_cover": 10}, False), ({}, True)])
def test_the_cover_wanted_is_yours_to_say(glazing: dict[str, Any], says: bool) -> None:
    told = found({"edge_cover": 12, "glazing": {"material": "glass"} | glazing})
    assert ("pane-cover" in told) is says


def test_panes_that_do_not_lap_their_noggins() -> None:
    told = found({"glazing": {"material": "glass", "coldest": 0, "hottest": 0}})
    assert told["pane-cover"].value == 0.0
    assert "on the noggins below and above" in told["pane-cover"].message
    assert told["pane-joint"].value == 0.0


def test_the_rule_of_the_wall_counts_too() -> None:
    rule = {"rule": "panes", "panes": 3, "edge_cover": 20, "glazing": {"material": "acrylic"}}
    assert set(found({}, openings_framing=rule)) == {"pane-joint"}


def test_hot_is_not_under_cold() -> None:
    with pytest.raises(UnbuildableError, match="accepted is from coldest up"):
        found({"glazing": {"material": "glass", "coldest": 20, "hottest": 10}})
