"""What exporters put into a layout's folder, and what is said where one cannot."""

from __future__ import annotations

import csv
import io
import sys
import zipfile
from xml.etree import ElementTree

import pytest

from soleplate.api.work.exports import export_files, left_out, options_for
from soleplate.api.written.folder import folder_files
from soleplate.engine.building_file import format_length
from soleplate.engine.layout import Layout
from soleplate.engine.registry import RuleError
from soleplate.engine.rules import Exporter, ExportOptions
from soleplate.viewer.paper.options import SheetOptions
from tests.buildings import registry
from tests.viewer.sheets.books import example, example_pages


def exporter(name: str) -> Exporter:
    return next(each for _, each in registry().exporters if each.name == name)


def rows(content: bytes) -> list[dict[str, str]]:
    return list(csv.DictReader(io.StringIO(content.decode("utf-8-sig"), newline="")))


def test_the_folder_has_book_sheets_and_lists() -> None:
    files = folder_files(example("l_shaped_workshop"), registry())
    sheets = [name for name in files if name.startswith("sheet-")]
    assert sheets == [f"sheet-{number:02}.svg" for number in range(1, len(sheets) + 1)]
    assert len(sheets) == len(example_pages("l_shaped_workshop"))
    assert files["job-book.pdf"].startswith(b"%PDF-1.7")
    lists = {"cutting-list.csv", "buying-list.csv", "running-marks.csv", "saw-plan.csv"}
    assert lists <= set(files)


def test_without_the_typesetter_all_else_is_there_and_what_to_install_is_said(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setitem(sys.modules, "typst", None)
    files = folder_files(example("partition"), registry())
    assert not [name for name in files if name.startswith(("sheet-", "job-book"))]
    assert "cutting-list.csv" in files
    (said,) = left_out(registry())
    assert "job-book.pdf and sheets.zip" in said
    assert "pip install 'soleplate[sheets]'" in said


def test_with_it_nothing_is_left_out() -> None:
    assert list(left_out(registry())) == []


def test_a_building_without_stock_has_no_saw_plan_to_export() -> None:
    assert "saw-plan.csv" not in folder_files(example("partition"), registry())
    assert "stock" in (exporter("saw-plan").lacking(example("partition")) or "")
    with pytest.raises(ValueError, match="stock"):
        exporter("saw-plan").export(example("partition"))


def test_options_go_to_the_exporters_that_have_them() -> None:
    asked = {"paper": "Letter", "date": "2031-04-05"}
    assert options_for(exporter("job-book"), asked) == SheetOptions(paper="Letter", date="2031-04-05")
    assert options_for(exporter("cutting-list"), asked) == ExportOptions()


@pytest.mark.parametrize(
    ("asked", "said"),
    [({"paper": "A3"}, "paper: accepted is 'A4' or 'Letter'"), ({"date": "x" * 17}, "date: .*16")],
)
def test_an_option_that_may_not_be_is_told(asked: dict[str, str], said: str) -> None:
    with pytest.raises(ValueError, match=said):
        options_for(exporter("job-book"), asked)


def test_the_archive_has_the_sheets_and_is_the_same_each_time() -> None:
    layout = example("partition")
    one = exporter("sheets").export(layout)
    assert one == exporter("sheets").export(layout)
    with zipfile.ZipFile(io.BytesIO(one)) as archive:
        sheets = {name: archive.read(name) for name in archive.namelist()}
    assert sheets == exporter("sheets").files(layout, SheetOptions())
    for number, content in enumerate(sheets.values()):
        root = ElementTree.fromstring(content)
        page = example_pages("partition")[number]
        assert float(root.get("width", "").removesuffix("pt")) == pytest.approx(page.width / 25.4 * 72)
        assert not [node for node in root.iter() if node.tag.endswith("}script")]


class Odd(Exporter):
    """Hands back whatever it is given."""

    name = "odd"
    media_type = "text/plain"
    suffix = ".txt"

    def __init__(self, files: object) -> None:
        self.made = files

    def export(self, layout: Layout) -> bytes:
        return b""

    def files(self, layout: Layout, options: ExportOptions) -> dict[str, bytes]:
        return self.made  # type: ignore[return-value]


@pytest.mark.parametrize(
    ("made", "said"),
    [
        ({"../up.txt": b""}, "named a file"),
        ({"a/b.txt": b""}, "named a file"),
        ({"Page.HTML": b""}, "named a file"),
        ({"list.csv": "text"}, "returned a str"),
        (None, "TypeError"),
    ],
)
def test_files_that_are_none_are_refused(made: object, said: str) -> None:
    with pytest.raises(RuleError, match=said):
        export_files(registry(), "barn", Odd(made), example("partition"), ExportOptions())


def test_running_marks_are_those_of_the_layout() -> None:
    layout = example("bare_honey_house")
    told = [
        (row["wall"], row["length"], float(row["length starts at mm"]), row["mark"], float(row["at mm"]))
        for row in rows(exporter("running-marks").export(layout))
    ]
    assert told == [
        (wall.name, length.mark, length.start, mark.mark, mark.at)
        for wall in layout.walls
        for length in wall.plate_lengths
        for mark in length.marks
    ]


def test_courses_are_those_of_the_walls_and_the_storey_rod() -> None:
    layout = example("reading_room")
    told = rows(exporter("courses").export(layout))
    courses = [row for row in told if row["what"] == "course"]
    assert [(row["wall"], int(row["course"]), float(row["at mm"]), row["boards"]) for row in courses] == [
        (wall.name, course.number, course.bottom, " ".join(course.boards))
        for wall in layout.walls
        for course in (*wall.courses, *wall.lining_courses)
    ]
    notches = {(row["wall"], row["opening"], row["edge"], float(row["at mm"])) for row in told} - {
        (row["wall"], "", "", float(row["at mm"])) for row in courses
    }
    assert notches == {
        (cut.wall, cut.opening, cut.edge, cut.at) for course in layout.storey_rod for cut in course.cut_outs
    }
    assert notches


def test_the_page_of_a_folder_shows_the_order_of_work_that_comes_with_the_layout() -> None:
    layout = example("apple_store")
    assert layout.order_of_work is not None
    page = folder_files(layout, registry())["page.html"].decode()
    assert page.count('class="raising-step"') == len(layout.order_of_work.steps)
    assert 'href="#raising"' in page
    without = folder_files(layout.model_copy(update={"order_of_work": None}), registry())[
        "page.html"
    ].decode()
    assert "raising-step" not in without
    assert 'href="#raising"' not in without


def test_a_building_without_courses_has_none_to_export() -> None:
    assert "courses.csv" not in folder_files(example("partition"), registry())
    assert exporter("courses").lacking(example("partition")) == "no wall is clad or lined in courses"


def test_the_buying_list_adds_up_to_the_plan() -> None:
    layout = example("l_shaped_workshop")
    assert layout.saw_plan is not None
    told = rows(exporter("buying-list").export(layout))
    bought = [row for row in told if row["what"] == "lengths" and row["on hand"] == "no"]
    assert sum(int(row["count"]) for row in bought) == layout.saw_plan.bought
    assert sum(float(row["price"]) for row in bought) == pytest.approx(layout.saw_plan.cost)
    runs = [row for row in told if row["what"] == "run"]
    assert sum(int(row["pieces"]) for row in runs) == sum(len(wall.pieces) for wall in layout.walls)
    assert [row["length"] for row in runs] == [
        format_length(row.total_length, layout.units) for row in layout.buying_list
    ]
