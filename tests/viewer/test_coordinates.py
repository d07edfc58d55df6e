"""Coordinates of all the examples' drawings against the layout: page and paper, both faces, rod and plan."""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Iterator
from xml.etree import ElementTree

import pytest

from soleplate.engine.layout import Layout, Piece, WallOut
from soleplate.engine.shapes import area, bounds
from soleplate.viewer.drawings.elevation import elevation_svg
from soleplate.viewer.drawings.laid import drawn_parts
from soleplate.viewer.drawings.layers import LAYERS
from soleplate.viewer.paper.sizes import CAPITALS, FIGURE_FONT, FIGURE_WIDTH, PaperName
from soleplate.viewer.sheets.book import book_sheets
from soleplate.viewer.words.texts import ENGLISH
from tests.viewer.golden_drawings import NAMES
from tests.viewer.sheets.books import example
from tests.viewer.test_elevation import SVG

Corners = list[tuple[float, float]]

PAPERS: tuple[PaperName, ...] = ("A4", "Letter")
WITHIN = 0.0011
"""mm: drawings tell three decimals."""


def corners(element: ElementTree.Element) -> Corners:
    return [(float(x), float(y)) for x, y in (point.split(",") for point in element.attrib["points"].split())]


def shapes(root: ElementTree.Element, class_: str) -> Iterator[tuple[ElementTree.Element, Corners]]:
    for polygon in root.iter(f"{SVG}polygon"):
        if class_ in polygon.get("class", "").split():
            yield polygon, corners(polygon)


def on_paper(layout: Layout, paper: PaperName, kind: str) -> dict[int, list[ElementTree.Element]]:
    """The drawings of each wall of a kind: `1`, `2` ... of its frame, `cladding` or `lining`."""
    found: dict[int, list[ElementTree.Element]] = defaultdict(list)
    for sheet in book_sheets(layout, paper, ENGLISH):
        first, _, rest = sheet.id.partition("-")
        number, _, what = rest.partition("-")
        if first == "wall" and (what.isdecimal() if kind == "frame" else what.startswith(kind)):
            found[int(number)] += [
                ElementTree.fromstring(block["svg"]) for block in sheet.blocks if block["kind"] == "picture"
            ]
    return found


def same(drawn: Corners, wanted: Corners) -> bool:
    """The same corners in the same way round, whichever comes first."""
    return len(drawn) == len(wanted) and any(
        all(math.dist(a, b) < WITHIN for a, b in zip(drawn, turned[shift:] + turned[:shift], strict=True))
        for turned in (wanted, wanted[::-1])
        for shift in range(len(wanted))
    )


def agrees(drawings: list[ElementTree.Element], pieces: list[Piece], wall: WallOut, *, inside: bool) -> None:
    """Each piece is drawn with its own corners, or in parts that are together as large and lie within it."""
    drawn: dict[str, list[Corners]] = defaultdict(list)
    for root in drawings:
        for polygon, outline in shapes(root, "piece"):
            drawn[polygon.attrib["data-mark"]].append(outline)
    assert drawn.keys() == {piece.mark for piece in pieces}
    for piece in pieces:
        wanted = [(wall.length - x if inside else x, -z) for x, z in piece.outline]
        parts = drawn[piece.mark]
        if len(parts) == 1:
            assert same(parts[0], wanted), piece.mark
        else:
            assert sum(abs(area(part)) for part in parts) == pytest.approx(
                abs(area(wanted)), rel=1e-4, abs=2.0
            )
            box, within = bounds(wanted), bounds([corner for part in parts for corner in part])
            assert within == pytest.approx(box, abs=WITHIN)


def of(wall: WallOut, face: str | None) -> list[Piece]:
    return [piece for piece in wall.pieces if piece.face == face]


@pytest.mark.parametrize("name", NAMES)
def test_on_the_page(name: str) -> None:
    layout = example(name)
    for wall in layout.walls:
        for side, inside in (("outside", False), ("inside", True)):
            drawn = ElementTree.fromstring(elevation_svg(layout, wall.name, side=side, layers=LAYERS))
            agrees([drawn], list(wall.pieces), wall, inside=inside)
            holes = [outline for _, outline in shapes(drawn, "opening")]
            assert len(holes) == len(wall.openings)
            for hole, opening in zip(holes, wall.openings, strict=True):
                edges = [wall.length - x if inside else x for x in (opening.left, opening.right)]
                wanted = (min(edges), max(edges), -opening.top, -opening.bottom)
                assert bounds(hole) == pytest.approx(wanted, abs=WITHIN)


@pytest.mark.parametrize("paper", PAPERS)
@pytest.mark.parametrize("name", NAMES)
def test_frames_on_paper(name: str, paper: PaperName) -> None:
    layout = example(name)
    drawings = on_paper(layout, paper, "frame")
    for number, wall in enumerate(layout.walls, 1):
        agrees(drawings[number], of(wall, None), wall, inside=False)
        lines = [
            float(line.attrib["x1"])
            for root in drawings[number]
            for line in root.iter(f"{SVG}line")
            if line.get("x1") == line.get("x2") and "x1" in line.attrib
        ]
        for mark in wall.marks.get("sole plate", ()):
            assert any(abs(x - mark.at) < WITHIN for x in lines), (
                f"{wall.name}: no line of the tape at {mark.at}"
            )
        holes = {
            tuple(round(edge, 2) for edge in bounds(o))
            for r in drawings[number]
            for _, o in shapes(r, "opening")
        }
        assert holes == {
            (round(o.left, 2), round(o.right, 2), round(-o.top, 2), round(-o.bottom, 2))
            for o in wall.openings
        }


@pytest.mark.parametrize("name", NAMES)
def test_cladding_and_lining_on_paper(name: str) -> None:
    layout = example(name)
    for kind, face in (("cladding", "outside"), ("lining", "inside")):
        drawings = on_paper(layout, "A4", kind)
        parts = drawn_parts(layout)
        boarded = {number for number, wall in enumerate(parts, 1) if of(wall, face)}
        assert drawings.keys() == boarded
        for number in boarded:
            wall = parts[number - 1]
            agrees(drawings[number], of(wall, face), wall, inside=face == "inside")


@pytest.mark.parametrize("name", NAMES)
def test_the_storey_rod_on_paper(name: str) -> None:
    """Lines begin on the rod at courses' lower edges and openings' edges, at the scale told."""
    layout = example(name)
    rods = [sheet for sheet in book_sheets(layout, "A4", ENGLISH) if sheet.id.startswith("rod-")]
    assert bool(rods) == bool(layout.storey_rod)
    drawn = []
    for sheet in rods:
        scale = float(sheet.scale.removeprefix("1:"))
        root = ElementTree.fromstring(sheet.blocks[0]["svg"])
        drawn += [-corners(line)[0][1] * scale for line in root.iter(f"{SVG}polyline")]
    for course in layout.storey_rod:
        assert any(abs(edge - course.bottom) < WITHIN * scale for edge in drawn)
        for cut_out in course.cut_outs:
            assert any(abs(edge - cut_out.at) < WITHIN * scale for edge in drawn)


@pytest.mark.parametrize("name", NAMES)
def test_the_plan_on_the_cover(name: str) -> None:
    """Each wall is a rectangle on the plan: from its start along its direction, its depth to its left."""
    layout = example(name)
    cover = book_sheets(layout, "A4", ENGLISH)[0]
    root = ElementTree.fromstring(next(block["svg"] for block in cover.blocks if block["kind"] == "picture"))
    drawn = [corners(polygon) for polygon in root.iter(f"{SVG}polygon")]
    for wall in layout.walls:
        (x, y), turn = wall.plan.start, math.radians(wall.plan.direction)
        end = (x + wall.length * math.cos(turn), y + wall.length * math.sin(turn))
        inwards = (-wall.plan.depth * math.sin(turn), wall.plan.depth * math.cos(turn))
        face = [(x, y), end, (end[0] + inwards[0], end[1] + inwards[1]), (x + inwards[0], y + inwards[1])]
        assert any(same(outline, [(a, -b) for a, b in face]) for outline in drawn), wall.name


@pytest.mark.parametrize("paper", PAPERS)
@pytest.mark.parametrize("name", NAMES)
def test_no_words_on_paper_are_cut_off(name: str, paper: PaperName) -> None:
    """A drawing ends where its view does: all of its lettering, of one width a character, lies within.

    Bars of the saw plan are moved into their places as groups, and are looked at in the PDF alone.
    """
    for sheet in book_sheets(example(name), paper, ENGLISH):
        for block in sheet.blocks:
            if block["kind"] == "picture" and sheet.document_type != ENGLISH.sheets.sawing:
                root = ElementTree.fromstring(block["svg"])
                left, top, wide, tall = map(float, root.attrib["viewBox"].split())
                for text, (x0, x1, y0, y1) in lettered(root):
                    assert left - 0.5 <= x0 <= x1 <= left + wide + 0.5, f"{sheet.id}: {text}"
                    assert top - 0.5 <= y0 <= y1 <= top + tall + 0.5, f"{sheet.id}: {text}"


def lettered(root: ElementTree.Element) -> Iterator[tuple[str, tuple[float, float, float, float]]]:
    """Each text with its left, right, top and bottom, capitals and figures without what hangs below."""
    for element, told in inheriting(root, {}):
        text, size = "".join(element.itertext()), float(told["font-size"])
        x, y = float(told["x"]), float(told["y"])
        wide, tall = len(text) * FIGURE_WIDTH * size, CAPITALS[FIGURE_FONT] * size
        start = {"start": 0.0, "middle": -wide / 2, "end": -wide}[told.get("text-anchor", "start")]
        turn = element.get("transform", "")
        if turn.startswith("rotate(-90"):
            _, cx, cy = (float(each) for each in turn[len("rotate(") : -1].replace(",", " ").split())
            along, across = cy - (x - cx) - start, cx + (y - cy)
            yield text, (across - tall, across, along - wide, along)
        else:
            yield text, (x + start, x + start + wide, y - tall, y)


def inheriting(
    element: ElementTree.Element, above: dict[str, str]
) -> Iterator[tuple[ElementTree.Element, dict[str, str]]]:
    """Each text with its attributes and those of the groups around it."""
    told = {**above, **element.attrib}
    if element.tag == f"{SVG}text":
        yield element, told
    for child in element:
        yield from inheriting(child, told)
