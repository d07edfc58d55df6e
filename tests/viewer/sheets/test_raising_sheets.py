"""The raising sheets, read from the book: each step once, in order, with all that is told of it."""

from __future__ import annotations

from functools import lru_cache
from typing import Any

from soleplate.engine.layout import Layout
from soleplate.engine.work_order import with_work_order
from soleplate.viewer.lists import step_name, step_told
from soleplate.viewer.paper.options import SheetOptions
from soleplate.viewer.sheets.book import job_book
from soleplate.viewer.sheets.raising import raising_sheets
from soleplate.viewer.words import ENGLISH
from tests.buildings import layout_of, registry
from tests.viewer.sheets.reading_pdf import Page
from tests.viewer.sheets.setting import set_and_read
from tests.yards import TILTED, banks, hut

DAYS = [{"name": "Saturday", "hours": 6}, {"name": "Sunday", "hours": 6}]


def worked(site: dict[str, Any], **changes: Any) -> Layout:
    value = hut(site, **changes)
    return with_work_order(layout_of(value), registry().read_building(value), registry())


@lru_cache
def possible() -> Layout:
    return worked({"obstacles": banks(300), "people": 2, "dry_hours": DAYS})


def pages_of(layout: Layout, title: str) -> list[Page]:
    return [page for page in set_and_read(job_book(layout, SheetOptions())) if is_headed(page, title)]


def is_headed(page: Page, title: str) -> bool:
    """By the largest lettering on the page."""
    return max(page.runs, key=lambda run: run.size).text == title


def squeezed(text: str) -> str:
    return "".join(text.replace("\u200b", "").split())


def test_each_step_is_told_in_order_with_its_figures_and_whether_one_may_stop() -> None:
    order = possible().order_of_work
    assert order is not None
    said = squeezed("".join(page.text for page in pages_of(possible(), "Order of work")))
    at = 0
    for step in order.steps:
        at = said.index(squeezed(f"{step.number}  {step_name(step, ENGLISH)}"), at)
        for told in (
            step.display[1:],
            "Finish it in one go." if step.whole else "It may be broken off.",
            *(r[1:] for r in step.reasons),
        ):
            assert squeezed(told) in said[at:]
    raised = [step for step in order.steps if step.kind == "raise"]
    assert order.wind is not None
    for step in raised:
        push = order.wind.newtons[step.wall or ""]
        assert squeezed(f"Wind up to Beaufort {step.wind}: a gust pushes as hard as") in said
        assert squeezed(f"weigh ({push:.0f} N)") in said


def test_a_wall_framed_where_it_stands_is_not_said_to_be_lifted() -> None:
    layout = worked({"ways": ["framed-standing"]})
    order = layout.order_of_work
    assert order is not None
    told = [step_told(order, step, ENGLISH) for step in order.steps if step.kind == "raise"]
    assert len(told) == 4
    assert all(each.name.startswith("frame ") and each.name.endswith(" standing") for each in told)
    assert not any("at once" in each.figures for each in told)


def test_up_to_six_figures_stand_on_a_sheet_and_none_runs_on_to_another() -> None:
    sheets = [each for each in raising_sheets(possible(), "A4", ENGLISH) if each.id.startswith("raising")]
    cells = [len(block["cells"]) for sheet in sheets for block in sheet.blocks if block["kind"] == "figures"]
    order = possible().order_of_work
    assert order is not None
    assert sum(cells) == len(order.steps)
    assert max(cells) == 6
    assert len(pages_of(possible(), "Order of work")) == len(sheets)


def test_lettering_on_figures_is_as_high_as_on_any_sheet() -> None:
    """Capitals of 2.5 mm at the least (ISO 3098): of that font they are 0.729 of its size."""
    for page in pages_of(possible(), "Order of work"):
        names = [run for run in page.runs if run.text in ("front", "back", "left", "right")]
        assert names
        assert all(0.729 * run.size >= 2.5 - 0.01 for run in names)


def test_dry_hours_tell_the_day_of_the_roof_and_what_is_left_for_later() -> None:
    (page,) = pages_of(possible(), "Dry hours")
    order = possible().order_of_work
    assert order is not None
    assert order.closed_in is not None
    said = squeezed(page.text)
    assert squeezed(f"The roof is on after {order.closed_in.after}.") in said
    assert squeezed(f"Before, under cover: {', '.join(map(str, order.closed_in.before))}.") in said
    whole = ", ".join(str(step.number) for step in order.steps if step.whole)
    assert squeezed(f"within one, but for those in one go: {whole}.") in said


def test_without_an_order_the_sheet_says_what_is_in_the_way_and_by_how_much() -> None:
    branch = {
        "name": "branch", "polygon": [[500, 1500], [2500, 1500], [2500, 4200]], "bottom": 2100, "top": 6000,
    }  # fmt: skip
    layout = worked({"obstacles": [*banks(300), branch], "ways": TILTED})
    order = layout.order_of_work
    assert order is not None
    assert order.possible is False
    said = squeezed("".join(page.text for page in pages_of(layout, "No order of work")))
    (change,) = order.in_the_way
    assert squeezed(f"There is an order with branch raised by {change.raise_:.0f} mm") in said
    assert squeezed(f"pushed back by {change.push:.0f} mm") in said
    assert all(
        squeezed(f"ranch is {by:.0f} mm too near") in said
        for way in order.ways
        for by in way.obstacles.values()
    )


def test_walls_on_their_own_have_no_raising_sheets() -> None:
    outline = {"walls": [{"name": "one", "length": 3000, "heights": [2000, 2100]}]}
    value = {name: said for name, said in hut().items() if name != "roof"} | {"outline": outline}
    layout = with_work_order(layout_of(value), registry().read_building(value), registry())
    assert raising_sheets(layout, "A4", ENGLISH) == []


def test_inches_are_told_in_inches() -> None:
    value = hut({"obstacles": banks(300), "ways": TILTED}, through="pinwheel") | {"units": "in"}
    value |= {
        "frame": {"section": ["45 mm", "70 mm"], "material": "C16"},
        "outline": {"length": "4500 mm", "width": "2700 mm", "through": "pinwheel"},
        "roof": {"form": "level", "height": "2400 mm"},
        "site": {"ways": TILTED, "obstacles": [
            {"name": wall, "beside": wall, "clear": "300 mm", "top": "1800 mm", "thick": "300 mm"}
            for wall in ("front", "back", "left", "right")
        ]},
        "defaults": {"studs": {"rule": "equal-bays", "largest_bay": "600 mm"}},
    }  # fmt: skip
    layout = with_work_order(layout_of(value), registry().read_building(value), registry())
    sheets = raising_sheets(layout, "Letter", ENGLISH)
    told = [
        line
        for sheet in sheets
        for block in sheet.blocks
        for cell in block.get("cells", ())
        for line in cell["lines"]
    ]
    assert told
    assert not any(" mm" in line for line in told)
