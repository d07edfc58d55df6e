"""The picture of the whole on the cover of the job book."""

from __future__ import annotations

from xml.etree import ElementTree

import pytest

from soleplate.viewer.paper import Page
from soleplate.viewer.paper.sizes import paper_for
from soleplate.viewer.sheets import whole
from soleplate.viewer.sheets.book import book_sheets
from soleplate.viewer.words.texts import ENGLISH
from tests.viewer.sheets.books import example


@pytest.mark.parametrize("name", ["honey_house", "l_shaped_workshop", "studio_in_inches"])
def test_beside_the_plan_the_cover_shows_the_whole(name: str) -> None:
    layout = example(name)
    paper = paper_for(layout.units)
    (plan,) = (block for block in book_sheets(layout, paper, ENGLISH)[0].blocks if block["kind"] == "picture")
    beside = plan["beside"]
    assert plan["width"] + beside["width"] <= Page(paper, landscape=False).room[0]
    assert beside["height"] <= plan["height"] + 0.001
    assert min(beside["width"], beside["height"]) >= whole.LEAST
    assert beside["alt"] == f"{layout.name}, seen from the front left and above"
    root = ElementTree.fromstring(beside["svg"])
    assert root.get("width") == f"{beside['width']:.3f}".rstrip("0").rstrip(".") + "mm"
    # Lines are as broad on paper as the finest of ISO 128-2.
    scale = float((root.get("viewBox") or "").split()[2]) / beside["width"]
    widths = {
        float(each.get("stroke-width") or 0) / scale for each in root.iter() if each.get("stroke-width")
    }
    assert max(widths) == pytest.approx(0.13, abs=0.001)


def test_a_plan_that_takes_the_whole_width_stands_alone() -> None:
    cover = book_sheets(example("partition"), "A4", ENGLISH)[0]
    assert [("beside" in block) for block in cover.blocks if block["kind"] == "picture"] == [False]
