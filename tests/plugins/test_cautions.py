"""Each finding where it belongs, and not where it does not."""

from __future__ import annotations

from typing import Any

import pytest

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
    assert ("heavy-wall", "front") not in codes(building(site={"people": 2}))


def test_bracing_and_density() -> None:
    found = codes(building(frame={"section": [45, 70], "material": "larch"}))
    assert ("no-bracing", None) in found
    assert ("unknown-density", None) in found
    assert ("unknown-density", None) not in codes(honey_house())


def test_a_closing_bay_too_narrow_to_nail() -> None:
    value = building(
        outline={"length": 3075, "width": 2700},
        defaults={"studs": {"rule": "fixed-centres", "centres": 600}},
    )
    assert ("narrow-bay", "front") in codes(value)
