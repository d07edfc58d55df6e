"""The page: whole without a script, the same for the same layout, and safe whatever the names are."""

from __future__ import annotations

import html
import json
import re
from html.parser import HTMLParser
from importlib.resources import files
from xml.etree import ElementTree

import pytest

from soleplate.engine.layout import Layout
from soleplate.engine.shapes import ROLES, Role, Roles
from soleplate.viewer.drawings.plan import plan_svg
from soleplate.viewer.markup.html import Markup, element, escape
from soleplate.viewer.markup.serialise import carriable
from soleplate.viewer.page.page import EDITING, FIRST, READING, Served, page_html, served_page_html
from soleplate.viewer.page.parts import layer_switches
from soleplate.viewer.page.view import PageView
from soleplate.viewer.page.wall import wall_section
from soleplate.viewer.words.script import SCRIPT_TEXTS
from soleplate.viewer.words.texts import ENGLISH
from soleplate.viewer.words.wording import ends_text, finding_id, wall_id
from tests.buildings import building, layout_of, wall_of
from tests.viewer.sample import HOSTILE, honey_house, hostile_building, one_piece

VOID = {"meta", "link", "input", "br"}
SVG = "{http://www.w3.org/2000/svg}"


class Reader(HTMLParser):
    """Reads a page; fails on an element that is not closed in its turn."""

    def __init__(self, html: str) -> None:
        super().__init__()
        self.elements: list[tuple[str, dict[str, str | None]]] = []
        self.texts: list[str] = []
        self._open: list[str] = []
        self.feed(html)
        self.close()
        assert not self._open

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        assert len(dict(attrs)) == len(attrs), f"an attribute of {tag} stands twice"
        self.elements.append((tag, dict(attrs)))
        if tag not in VOID:
            self._open.append(tag)

    def handle_startendtag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.elements.append((tag, dict(attrs)))

    def handle_endtag(self, tag: str) -> None:
        assert self._open.pop() == tag

    def handle_data(self, data: str) -> None:
        self.texts.append(data)

    def attributes(self, tag: str, name: str) -> list[str]:
        return [value for kind, attrs in self.elements if kind == tag and (value := attrs.get(name))]


@pytest.fixture(scope="module")
def page() -> Reader:
    return Reader(page_html(honey_house()))


def test_every_piece_is_drawn_once_and_listed_once(page: Reader) -> None:
    marks = [piece.mark for wall in honey_house().walls for piece in wall.pieces]
    drawn = page.attributes("polygon", "data-mark")
    assert sorted(drawn) == sorted(marks)
    assert len(set(drawn)) == len(drawn)
    rows = [attrs for tag, attrs in page.elements if tag == "tr" and "data-cut" in attrs]
    assert len(rows) == len(honey_house().cutting_list)


def test_pieces_point_at_their_row(page: Reader) -> None:
    layout = honey_house()
    pieces = [attrs for tag, attrs in page.elements if tag == "polygon" and "data-mark" in attrs]
    for attrs in pieces:
        assert attrs["data-mark"] in layout.cutting_list[int(attrs["data-cut"] or "")].marks


def test_walls_marks_lists_and_cautions_are_told(page: Reader) -> None:
    layout, told = honey_house(), "\n".join(page.texts)
    for wall in layout.walls:
        assert wall_id(wall.name) in page.attributes("section", "id")
        for length in wall.plate_lengths:
            assert all(mark.display in told and mark.mark in told for mark in length.marks)
        assert all(spacer.closing_bay_display in told for spacer in wall.spacers)
    for text in (*layout.cautions, *(finding.message for finding in layout.findings)):
        assert text in told
    for row in layout.cutting_list:
        assert ", ".join(row.marks) in told
    for bought in layout.buying_list:
        assert bought.display in told


def test_findings_stand_at_their_wall_and_in_the_list(page: Reader) -> None:
    told = [text.strip() for text in page.texts]
    for finding in honey_house().findings:
        times = sum(other.message == finding.message for other in honey_house().findings)
        assert told.count(finding.message) == times * (2 if finding.wall else 1)


def test_each_finding_of_a_wall_has_its_flag_on_the_drawing(page: Reader) -> None:
    flags = [attrs for tag, attrs in page.elements if tag == "a" and "flag" in (attrs.get("class") or "")]
    ids = {attrs.get("id"): attrs.get("class") for tag, attrs in page.elements if tag == "li"}
    numbered = {
        finding_id(wall.name, number)
        for wall in honey_house().walls
        for number, _ in enumerate([f for f in honey_house().findings if f.wall == wall.name], 1)
    }
    assert {(attrs["href"] or "")[1:] for attrs in flags} == numbered
    for attrs in flags:
        assert attrs["class"] == f"flag {ids[(attrs['href'] or '')[1:]]}"


def test_what_was_measured_is_told() -> None:
    assert "stud A is 3 mm shorter" in page_html(one_piece("stud A is 3 mm shorter"))


def test_courses_of_both_faces_are_listed_as_each_is_seen() -> None:
    value = building(walls={})
    boards = {"rule": "tongue-and-groove", "width": 120, "cover": 108, "lengths": [1800, 2400]}
    value["walls"]["left"] = {"cladding": boards, "lining": boards}
    layout = layout_of(value)
    wall = wall_of(layout, "left")
    lengths = {piece.mark: piece.display for piece in wall.pieces}
    assert any(len(course.boards) > 1 for course in wall.lining_courses)
    section = wall_section(wall, layout, PageView().sheet(layout, wall))
    for kind, courses, step in (("courses", wall.courses, 1), ("lining-courses", wall.lining_courses, -1)):
        (listed,) = re.findall(rf'<table class="{kind}".*?</table>', section)
        rows = ElementTree.fromstring(listed).findall("tbody/tr")
        assert [["".join(cell.itertext()) for cell in row][:2] for row in rows] == [
            [f"{course.number}", course.display] for course in courses
        ]
        assert ["".join(row[-1].itertext()) for row in rows] == [
            ", ".join(f"{mark} {lengths[mark]}" for mark in course.boards[::step]) for course in courses
        ]


def test_ids_are_unique_and_links_lead_somewhere(page: Reader) -> None:
    ids = [value for _, attrs in page.elements if (value := attrs.get("id"))]
    assert len(set(ids)) == len(ids)
    links = [value for value in page.attributes("a", "href") if value.startswith("#")]
    assert {f"#{wall_id(wall.name)}" for wall in honey_house().walls} <= set(links)
    assert {link[1:] for link in links} <= set(ids)
    refers = {
        found
        for _, attrs in page.elements
        for found in re.findall(r"url\(#([^)]+)\)", attrs.get("fill") or "")
    }
    assert refers <= set(ids)
    labels = [
        value
        for _, attrs in page.elements
        for key in ("aria-labelledby", "aria-controls")
        if (value := attrs.get(key))
    ]
    assert set(labels) <= set(ids)


def scripts_within(page: Reader) -> list[str | None]:
    """The types of the scripts that stand in the page itself: data alone."""
    return [attrs.get("type") for tag, attrs in page.elements if tag == "script" and "src" not in attrs]


@pytest.mark.parametrize("layout", [honey_house(), one_piece(HOSTILE)], ids=["honey house", "hostile"])
def test_a_strict_policy_holds(layout: Layout) -> None:
    page = Reader(page_html(layout))
    assert page.attributes("script", "src") == [f"/static/{name}" for name in READING]
    assert scripts_within(page) == ["application/json"]
    assert not [tag for tag, _ in page.elements if tag in {"style", "iframe", "object", "base", "img"}]
    for _, attrs in page.elements:
        assert not [name for name in attrs if name.startswith("on") or name == "style"]
        for name in ("href", "src"):
            assert (attrs.get(name) or "#").startswith(("#", "/static/"))


@pytest.mark.parametrize(
    "name", [HOSTILE, "{0.__class__}{name}", "\x00\x1b[31m\x07", "‮desrever", "a b/c#d?e%20f"]
)
def test_hostile_names_come_back_as_text(name: str) -> None:
    page = Reader(page_html(one_piece(name)))
    plain = Reader(page_html(one_piece("plain")))
    assert [tag for tag, _ in page.elements if tag != "text"] == [
        tag for tag, _ in plain.elements if tag != "text"
    ]
    assert page.texts.count(carriable(name)) >= 8
    ids = [value for _, attrs in page.elements if (value := attrs.get("id"))]
    assert wall_id(name) in ids
    assert not any(re.search(r"\s", value) for value in ids)


def test_a_hostile_building_file_gives_an_inert_page() -> None:
    layout = layout_of(hostile_building())
    page = Reader(page_html(layout))
    assert scripts_within(page) == ["application/json"]
    assert "img" not in {tag for tag, _ in page.elements}
    assert all(wall.name in page.texts for wall in layout.walls)


def test_wall_ids_are_distinct() -> None:
    names = ["a b", "a%20b", "a-b", "A B", "ä", "front", "../x"]
    assert len({wall_id(name) for name in names}) == len(names)
    assert wall_id("front") == "wall-front"


def test_same_layout_same_bytes() -> None:
    again = Layout.model_validate_json(honey_house().model_dump_json())
    assert page_html(again).encode() == page_html(honey_house()).encode()


def static_file(name: str) -> bytes:
    return (files("soleplate.viewer") / "static" / name).read_bytes()


def test_first_view_is_small() -> None:
    """The served page with its style sheet, icon and the scripts that it needs for that: under 150 kB.

    The scripts for the bench and for editing follow once it is shown.
    """
    layout = honey_house()
    served = Served(caution=layout.cautions[0], building=layout.building)
    page = served_page_html(layout, served, PageView(wall="front", query=""))
    names = ("soleplate.css", *FIRST, "favicon.svg")
    assert len(page.encode()) + sum(len(static_file(name)) for name in names) < 150_000


def test_a_plugins_post_is_in_the_way_of_an_opening_like_ours() -> None:
    post = Role("post", "upright", stands=True, full_height=True)
    served = Served(caution="Mind.", roles=Roles((*ROLES.rows, post)))
    told = re.search(r'id="data"[^>]*>([^<]*)<', served_page_html(None, served, PageView(query="")))
    assert told is not None
    data = json.loads(html.unescape(told[1]))
    assert {"king stud", "trimmer", "corner stud", "post"} <= set(data["fixed"])
    assert {"stud", "cripple", "noggin", "head plate", "board"}.isdisjoint(data["fixed"])
    assert {"head plate", "raked plate"} <= set(data["tops"])
    assert {"sole plate", "stud", "lintel"}.isdisjoint(data["tops"])


def test_a_plugins_layer_is_written_like_the_others() -> None:
    switches = str(layer_switches(("bench-rails",), ENGLISH))
    assert re.findall(r'value="bench-rails"[^>]*> ([^<]*)<', switches) == ["Bench rails"]
    assert all(name[0].isupper() for name in re.findall(r"> ([^<]+)</label>", switches))


def test_static_files_ask_nothing_of_others() -> None:
    for name in ("soleplate.css", *READING, *EDITING):
        assert not re.search(r"https?:|//[a-z]|@import|url\(|innerHTML|eval\(", static_file(name).decode())


def test_the_script_says_only_what_the_texts_have() -> None:
    scripts = "".join(static_file(name).decode() for name in (*READING, *EDITING))
    said = set(re.findall(r'say\("(\w+)"', scripts))
    assert said
    assert said <= set(SCRIPT_TEXTS)
    composed = {"addDoor", "addWindow", "addGap"}
    assert not [name for name in SCRIPT_TEXTS if f'"{name}"' not in scripts and name not in composed]


def test_plan_shows_each_wall_where_it_stands() -> None:
    root = ElementTree.fromstring(plan_svg(honey_house(), "right"))
    links = {link.attrib["href"]: link for link in root.iter(f"{SVG}a")}
    assert list(links) == [f"#wall-{name}" for name in ("front", "right", "back", "left")]
    corners = {
        "front": "0,0 4500,0 4500,-70 0,-70",
        "right": "4500,-70 4500,-2630 4430,-2630 4430,-70",
        "back": "4500,-2700 0,-2700 0,-2630 4500,-2630",
        "left": "0,-2630 0,-70 70,-70 70,-2630",
    }
    for name, points in corners.items():
        timber = links[f"#wall-{name}"].find(f"{SVG}polygon[@class='timber']")
        assert timber is not None
        assert timber.attrib["points"] == points
    assert [href for href, link in links.items() if link.get("aria-current")] == ["#wall-right"]
    gap = links["#wall-front"].find(f"{SVG}polygon[@class='gap']")
    assert gap is not None
    assert gap.attrib["points"] == "1500,0 3000,0 3000,-70 1500,-70"


def test_ends_read_like_a_person_says_them() -> None:
    said = {ends_text(row.ends, "mm", ENGLISH) for row in honey_house().cutting_list}
    assert "both square; any factory end down" in said
    assert "foot square; head 6° bevel, long point left; any factory end down" in said
    assert "left 6° bevel, long point below; right 6° bevel, long point on top" in said


def test_markup_escapes_all_but_markup() -> None:
    assert element("p", "<b>&\"'", Markup("<i>x</i>"), class_='a"b') == (
        '<p class="a&quot;b">&lt;b&gt;&amp;&quot;&#x27;<i>x</i></p>'
    )
    assert escape("\x00") == "\ufffd"
    with pytest.raises(ValueError, match="no name of an element"):
        element("p", **{"x onload": "y"})
