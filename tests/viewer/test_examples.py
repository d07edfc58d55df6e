"""The drawing that the README shows is the one that the program makes."""

from __future__ import annotations

import json

from soleplate.viewer.drawings.elevation import elevation_svg
from tests.buildings import HONEY_HOUSE, layout_of


def test_the_drawing_of_the_honey_house_is_current() -> None:
    """Write it again with `python -m tests.viewer.test_examples`."""
    kept = HONEY_HOUSE.with_name("honey_house_front.svg")
    assert kept.read_text() == drawing()


def drawing() -> str:
    return elevation_svg(layout_of(json.loads(HONEY_HOUSE.read_text())), "front")


if __name__ == "__main__":
    HONEY_HOUSE.with_name("honey_house_front.svg").write_text(drawing())
