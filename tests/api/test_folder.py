"""What exporters put into a layout's folder, and what is said where one cannot."""

from __future__ import annotations

import csv
import io
import re
import sys
import zipfile
from functools import cache
from xml.etree import ElementTree

import pytest

from soleplate.api.work.exports import export_files, left_out, options_for
from soleplate.api.written import folder
from soleplate.api.written.folder import folder_files
from soleplate.engine.building_file import format_length
from soleplate.engine.layout import Layout
from soleplate.engine.registry import RuleError
from soleplate.engine.rules import Exporter, ExportOptions
from soleplate.viewer.paper.options import SheetOptions
from tests.buildings import building, layout_of, registry
from tests.floors import floor_with
from tests.roofs import mono
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


def test_the_folder_has_the_whole_from_four_sides_and_cut_three_ways() -> None:
    files = folder_files(example("partition"), registry())
    sides = {"whole.svg", "whole-right.svg", "whole-back.svg", "whole-left.svg"}
    cuts = {"section-left-right.svg", "section-front-back.svg", "section-level.svg"}
    assert {name for name in files if name.startswith(("whole", "section"))} == sides | cuts
    assert all(b'class="cut"' in files[name] for name in cuts)
    page = files["page.html"].decode()
    assert all(f'src="{name}"' in page for name in sides)
    assert 'href="#whole"' in page


def test_a_folder_without_pictures_of_too_many_pieces_is_whole_else(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(folder, "MOST_PICTURED", 20)
    files = folder_files(example("partition"), registry())
    assert not [name for name in files if name.startswith(("whole", "section"))]
    assert 'href="#whole"' not in files["page.html"].decode()
    assert "plan.svg" in files


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


BOARDED_DECK = {"rule": "tongue-and-groove", "width": 120, "cover": 110, "gap": 2, "thickness": 20}


@cache
def on_a_floor_under_a_roof() -> Layout:
    """Both decked: the floor with boards in courses, the slope with sheets."""
    return layout_of(mono() | {"floor": floor_with(deck=BOARDED_DECK)})


def test_courses_of_decks_are_there_too() -> None:
    layout = on_a_floor_under_a_roof()
    told = rows(exporter("courses").export(layout))
    (floor,) = layout.floors
    assert floor.courses
    assert [(row["wall"], row["face"], float(row["at mm"]), row["boards"]) for row in told] == [
        ("floor", "deck", course.bottom, " ".join(course.boards)) for course in floor.courses
    ]


def test_running_marks_of_floors_and_slopes_are_there_too() -> None:
    layout = on_a_floor_under_a_roof()
    told = rows(exporter("running-marks").export(layout))
    for part in (*layout.floors, *layout.roofs):
        on = [(row["plate"], row["mark"], float(row["at mm"])) for row in told if row["wall"] == part.name]
        assert on == [(name, mark.mark, mark.at) for name, held in part.marks.items() for mark in held]
        assert on


def test_every_piece_is_on_a_drawing_of_the_folder() -> None:
    for layout in (on_a_floor_under_a_roof(), example("reading_room"), example("honey_house")):
        drawings = [
            content.decode()
            for name, content in folder_files(layout, registry()).items()
            if name.startswith(("wall-", "inside-", "outside-"))
        ]
        drawn = {mark for drawing in drawings for mark in re.findall(r'data-mark="([^"]+)"', drawing)}
        assert {piece.mark for piece in layout.pieces} <= drawn


HOSTILE = "</text><script>alert(1)</script>\u2028\"'&amp;<!--"


def test_names_stay_names_on_every_drawing_of_the_folder() -> None:
    door = {"name": HOSTILE, "kind": "door", "width": 900, "height": 1800, "at": {"centre": 1300}}
    hatch = {"name": HOSTILE, "at": {"left": 1950}, "from_front": 600, "width": 600, "depth": 600}
    value = building(
        name=HOSTILE,
        frame={"section": [45, 70], "material": HOSTILE, "density": 400},
        walls={"front": {"openings": [door]}},
    )
    files = folder_files(layout_of(value | {"floor": floor_with(openings=[hatch])}), registry())
    drawings = {name: ElementTree.fromstring(held) for name, held in files.items() if name.endswith(".svg")}
    for name, drawing in drawings.items():
        tags = {each.tag.rpartition("}")[2] for each in drawing.iter()}
        assert not tags & {"script", "foreignObject"}, name
    for name in ("wall-1-front.svg", "wall-5-floor.svg"):
        assert HOSTILE in "".join(drawings[name].itertext())


def test_a_building_without_courses_has_none_to_export() -> None:
    assert "courses.csv" not in folder_files(example("partition"), registry())
    assert exporter("courses").lacking(example("partition")) == (
        "nothing is clad, lined or decked in courses"
    )


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
