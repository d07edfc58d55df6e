"""The drawings that the README shows are those that the program makes."""

from __future__ import annotations

import json

import pytest

from soleplate.viewer.drawings.elevation import elevation_svg
from soleplate.viewer.pictures import Look, picture_svg
from tests.buildings import HONEY_HOUSE, layout_of

NAMES = ("honey_house_front", "honey_house_whole")


@pytest.mark.parametrize("name", NAMES)
def test_the_drawing_of_the_honey_house_is_current(name: str) -> None:
    """Write them again with `python -m tests.viewer.test_examples`."""
    kept = HONEY_HOUSE.with_name(f"{name}.svg")
    assert kept.read_text() == drawing(name)


def drawing(name: str) -> str:
    layout = layout_of(json.loads(HONEY_HOUSE.read_text()))
    if name == "honey_house_whole":
        return picture_svg(layout, Look())
    return elevation_svg(layout, "front")


if __name__ == "__main__":
    for each in NAMES:
        HONEY_HOUSE.with_name(f"{each}.svg").write_text(drawing(each))
