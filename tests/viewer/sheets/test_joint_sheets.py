"""Joint sheets: one joint of each kind with its nails where the layout says, and the list of fixings."""

from __future__ import annotations

import csv
import io
import itertools
import math
from functools import lru_cache

import pytest
import svg

from soleplate.engine.layout import JointFixingOut, Layout
from soleplate.viewer.drawings import draw_joint, placed_pieces, views_of
from soleplate.viewer.drawings.lettering import LetteringBox
from soleplate.viewer.lists import buying_list_csv, fixings_csv
from soleplate.viewer.paper.options import SheetOptions
from soleplate.viewer.sheets.book import job_book
from soleplate.viewer.sheets.joints import joint_kinds, joint_sheets
from soleplate.viewer.words import ENGLISH
from tests.buildings import building, layout_of
from tests.viewer.sheets.books import example
from tests.viewer.sheets.setting import set_and_read
from tests.viewer.sheets.test_raising_sheets import is_headed

NAILED = {
    "fixings": [{"rule": "framing-nails"}],
    "defaults": {
        "studs": {"rule": "equal-bays", "largest_bay": 600},
        "noggins": {"rule": "straight", "rows": 1},
        "holding_down": {"rule": "anchor-bolts"},
    },
    "walls": {"front": {"openings": [
        {"name": "door", "kind": "door", "width": 900, "height": 1800, "at": {"centre": 2250},
         "framing": {"rule": "trimmed", "lintel": {"section": [45, 145], "plies": 1}}},
    ]}},
}  # fmt: skip


@lru_cache
def nailed() -> Layout:
    return layout_of(building(**NAILED))


def kinds() -> dict[tuple[str, str], JointFixingOut]:
    made = joint_kinds(nailed(), placed_pieces(nailed()))
    roles = {piece.mark: piece.role for piece in nailed().pieces}
    return {(roles[each.like.through], roles.get(each.like.into, each.like.into)): each.like for each in made}


def test_there_is_a_joint_of_each_kind_that_a_carpenter_makes() -> None:
    found = kinds()
    assert {
        ("sole plate", "stud"),
        ("stud", "noggin"),
        ("king stud", "lintel"),
        ("sole plate", "base"),
    } <= set(found)
    assert any({"king stud", "trimmer"} == set(pair) for pair in found)
    assert {each.joint for each in found.values()} >= {"end", "side", "corner", "base"}
    assert {each.way for each in found.values()} >= {"through", "skew", "face"}


def test_nails_are_drawn_where_the_layout_has_them() -> None:
    """A stud on the plate: from outside and from the side each nail is as long as it is."""
    fixing = kinds()["sole plate", "stud"]
    pieces = placed_pieces(nailed())
    for view in views_of(fixing, pieces[fixing.through]):
        parts, _ = draw_joint(fixing, pieces, view, 17.0)
        lines = [each for each in parts if isinstance(each, svg.Polyline) and each.class_ == ["nail"]]
        assert len(lines) == len(fixing.places)
        for line, place in zip(lines, fixing.places, strict=True):
            assert line.points is not None
            head, point = [(each.x, -each.y) for each in line.points if isinstance(each, svg.Point)]
            assert head == pytest.approx(view.at(place.head))
            assert point == pytest.approx(view.at(place.point))
            assert math.dist(head, point) == pytest.approx(fixing.length)
            assert line.stroke_width == fixing.diameter


def test_every_joint_sheet_says_that_end_nails_hold_no_uplift() -> None:
    sheets = joint_sheets(nailed(), "A4", ENGLISH)
    assert len(sheets) >= 2
    pages = [
        page
        for page in set_and_read(job_book(nailed(), SheetOptions()))
        if any(is_headed(page, title) for title in ("Joints", "Fixings"))
    ]
    assert len(pages) == len(sheets)
    assert all("hold no uplift: straps or sheathing do" in page.text for page in pages)


def test_joints_are_drawn_at_one_to_five() -> None:
    """A nail of 90 mm is 18 mm long on paper."""
    page = next(
        page for page in set_and_read(job_book(nailed(), SheetOptions())) if is_headed(page, "Joints")
    )
    assert [line for line in page.lines if line.is_upright and line.length == pytest.approx(90 / 5, abs=0.01)]
    assert "1:5" in page.text


def test_the_list_of_fixings_is_on_paper_and_in_csv_and_nothing_is_bought_twice() -> None:
    rows = list(csv.DictReader(io.StringIO(fixings_csv(nailed()).decode("utf-8-sig"))))
    assert [(row["what"], int(row["to buy"])) for row in rows] == [
        (row.kind, row.with_waste) for row in nailed().fixings_list
    ]
    bought = list(csv.DictReader(io.StringIO(buying_list_csv(nailed()).decode("utf-8-sig"))))
    for row in nailed().fixings_list:
        sizes = [f"{row.diameter:g}", f"{row.length:g}"]
        counts = [each["count"] for each in bought if [each["breadth mm"], each["depth mm"]] == sizes]
        assert counts == [f"{row.with_waste}"]


def test_a_building_that_asks_for_no_fixings_has_no_joint_sheets() -> None:
    assert joint_sheets(layout_of(building()), "A4", ENGLISH) == []


def test_no_mark_on_a_joint_covers_another() -> None:
    """The kiln shelter's lintel and its packer are narrow from the side."""
    layout = example("kiln_shelter")
    pieces = placed_pieces(layout)
    drawn = 0
    for kind in joint_kinds(layout, pieces):
        for view in views_of(kind.like, pieces[kind.like.through]):
            parts, _ = draw_joint(kind.like, pieces, view, 17.0)
            grounds = [each for each in parts if isinstance(each, svg.Rect) and each.fill_opacity == 0.85]
            for one, other in itertools.combinations([_box(each) for each in grounds], 2):
                drawn += 1
                assert one.shared(other) < 1e-6, kind.like
    assert drawn > 10


def _box(ground: svg.Rect) -> LetteringBox:
    left, top, wide, high = (float(str(each)) for each in (ground.x, ground.y, ground.width, ground.height))
    return LetteringBox(left, left + wide, top, top + high)
