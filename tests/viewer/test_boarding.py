"""Cladding and lining on elevations: marks on what is seen, fixings where they are, heights clear of it."""

from __future__ import annotations

import json
from collections.abc import Iterator
from dataclasses import replace
from functools import lru_cache
from xml.etree import ElementTree

import pytest

from soleplate.engine.building_file import format_length
from soleplate.engine.layout import Layout, WallOut
from soleplate.engine.shapes import bounds, contains
from soleplate.viewer.drawings.elevation import draw_wall
from soleplate.viewer.drawings.face import Side
from soleplate.viewer.drawings.lettering import LetteringBox
from soleplate.viewer.drawings.tiers import left_edge, tiers
from soleplate.viewer.page.boarding import boarding_tables
from soleplate.viewer.page.view import PageView
from soleplate.viewer.words.texts import ENGLISH
from tests.buildings import HONEY_HOUSE, layout_of, wall_of
from tests.viewer.test_elevation import SVG

LAYER_OF = {None: "of-frame", "outside": "cladding", "inside": "lining"}
EXAMPLES = ("hen_house", "drying_shed", "reading_room", "tool_store", "kiln_shelter")


@lru_cache
def example(name: str) -> Layout:
    return layout_of(json.loads(HONEY_HOUSE.with_name(f"{name}.json").read_text()))


def on_the_page(layout: Layout, wall: WallOut, side: Side = "outside") -> ElementTree.Element:
    return ElementTree.fromstring(draw_wall(wall, PageView(side=side).sheet(layout, wall)))


def groups(root: ElementTree.Element, *classes: str) -> Iterator[ElementTree.Element]:
    for group in root.iter(f"{SVG}g"):
        if set(classes) <= set(group.get("class", "").split()):
            yield group


def boards(name: str) -> Iterator[tuple[Layout, WallOut, Side]]:
    layout = example(name)
    for wall in layout.walls:
        yield layout, wall, "outside"
        yield layout, wall, "inside"


@pytest.mark.parametrize("name", EXAMPLES)
def test_tiers_hold_each_piece_once_from_the_frame_outwards(name: str) -> None:
    for _, wall, side in boards(name):
        laid = tiers(wall, side)
        marks = [piece.mark for tier in laid for piece in tier.pieces]
        assert sorted(marks) == sorted(piece.mark for piece in wall.pieces if piece.face == side)
        away = [max(-tier.pieces[0].depth[1], tier.pieces[0].depth[0]) for tier in laid]
        assert away == sorted(away)
        assert [tier.number for tier in laid] == list(range(1, len(laid) + 1))
        for tier in laid:
            edges = [left_edge(wall, piece, side) for piece in tier.pieces]
            if tier.role == "sheet":
                assert edges == sorted(edges)


def test_boards_on_boards_are_behind_and_the_outer_ones_are_not() -> None:
    laid = tiers(wall_of(example("hen_house"), "front"), "outside")
    assert [(tier.role, tier.is_behind) for tier in laid] == [
        ("batten", True), ("batten", True), ("board", True), ("board", False),
    ]  # fmt: skip


@pytest.mark.parametrize("name", EXAMPLES)
def test_each_board_is_listed_once_with_its_left_edge(name: str) -> None:
    layout = example(name)
    for wall in layout.walls:
        page = ElementTree.fromstring(f"<div>{''.join(boarding_tables(wall, layout.units, ENGLISH))}</div>")
        listed: list[str] = []
        for table in page.iter("table"):
            side, rows = (
                side_of(table),
                [["".join(cell.itertext()) for cell in row] for row in table.iter("tr")],
            )
            if "tier" in table.attrib["class"]:
                for mark, edge, *_ in rows[1:]:
                    (piece,) = [piece for piece in wall.pieces if piece.mark == mark and piece.face == side]
                    assert edge == format_length(left_edge(wall, piece, side), layout.units)
                    listed.append(mark)
            else:
                listed += [board.split()[0] for *_, boards in rows[1:] for board in boards.split(", ")]
        assert sorted(listed) == sorted(piece.mark for piece in wall.pieces if piece.face)


@pytest.mark.parametrize("name", EXAMPLES)
def test_figures_of_lining_say_that_they_are_from_inside(name: str) -> None:
    layout = example(name)
    for wall in layout.walls:
        page = ElementTree.fromstring(f"<div>{''.join(boarding_tables(wall, layout.units, ENGLISH))}</div>")
        for table in page.iter("table"):
            if "tier" in table.attrib["class"]:
                head = "".join(list(table.iter("th"))[1].itertext())
                assert head.startswith("Left edge, from the wall's left end")
                assert head.endswith("seen from inside") == (side_of(table) == "inside")


@pytest.mark.parametrize("name", EXAMPLES)
def test_a_card_says_from_where_its_piece_is_measured(name: str) -> None:
    for layout, wall, side in boards(name):
        pieces = {piece.mark: piece for piece in wall.pieces}
        drawn = [shape for shape in on_the_page(layout, wall, side).iter() if "data-place" in shape.attrib]
        assert {shape.attrib["data-mark"] for shape in drawn} == set(pieces)
        for shape in drawn:
            piece = pieces[shape.attrib["data-mark"]]
            left, right, low, _ = bounds(piece.outline)
            is_lining = piece.face == "inside"
            x, z = (
                format_length(mm, layout.units) for mm in (wall.length - right if is_lining else left, low)
            )
            seen = "inside" if is_lining else "outside"
            assert shape.attrib["data-place"] == f"{x} from the left, seen from {seen}, {z} up"


def side_of(table: ElementTree.Element) -> Side:
    classes = table.attrib["class"].split()
    return "inside" if {"inside", "lining-courses"} & set(classes) else "outside"


@pytest.mark.parametrize("name", EXAMPLES)
def test_a_mark_stands_on_what_is_seen_of_its_board(name: str) -> None:
    for layout, wall, side in boards(name):
        root = on_the_page(layout, wall, side)
        pieces = {piece.mark: piece for piece in wall.pieces}
        tagged: set[str] = set()
        for group in groups(root, "layer", "near"):
            boxes: list[LetteringBox] = []
            for marks in groups(group, "marks"):
                rects = list(marks.iter(f"{SVG}rect"))
                texts = list(marks.iter(f"{SVG}text"))
                assert len(rects) == len(texts)
                for rect, text in zip(rects, texts, strict=True):
                    x, y, wide, tall = (float(rect.attrib[name]) for name in ("x", "y", "width", "height"))
                    piece = pieces["".join(text.itertext())]
                    across = x + wide / 2
                    place = (across if side == "outside" else wall.length - across), -(y + tall / 2)
                    assert any(contains(outline, place) for outline in piece.seen or ())
                    tagged.add(piece.mark)
                    boxes.append(LetteringBox(x, x + wide, y, y + tall))
            for number, box in enumerate(boxes):
                assert all(box.shared(other) < 1.0 for other in boxes[:number])
        near = [piece for piece in wall.pieces if piece.face == side and piece.role != "batten"]
        assert len([piece for piece in near if piece.mark in tagged]) >= 0.9 * len(near)


@pytest.mark.parametrize("name", EXAMPLES)
def test_each_fixing_has_its_dot(name: str) -> None:
    for layout, wall, side in boards(name):
        root = on_the_page(layout, wall, side)
        dots = [
            tuple(float(number) for number in place.removesuffix("h0").split(","))
            for group in groups(root, "near")
            for path in group.iter(f"{SVG}path")
            for place in path.attrib["d"].split("M")[1:]
        ]
        wanted = [
            (x if side == "outside" else wall.length - x, -z)
            for piece in wall.pieces
            if piece.face == side
            for x, z in piece.fixed_at or ()
        ]
        assert sorted(dots) == sorted((round(x, 1), round(z, 1)) for x, z in wanted)


def test_each_fixing_of_a_noggin_has_its_stroke() -> None:
    layout = example("honey_house")
    wall = wall_of(layout, "front")
    (told,) = [
        group for group in groups(on_the_page(layout, wall), "of-frame") if group.get("class") == "of-frame"
    ]
    (path,) = told.iter(f"{SVG}path")
    wanted = sum(fixing.count for piece in wall.pieces for fixing in piece.fixings or ())
    assert wanted > 0
    assert path.attrib["d"].count("M") == wanted


@pytest.mark.parametrize("name", EXAMPLES)
def test_heights_stand_clear_of_boards(name: str) -> None:
    for layout, wall, side in boards(name):
        edges = [
            x if side == "outside" else wall.length - x
            for piece in wall.pieces
            for x in bounds(piece.outline)[:2]
        ]
        root = on_the_page(layout, wall, side)
        uprights = [
            float(line.attrib["x1"])
            for group in groups(root, "dimensions")
            for line in group.findall(f"{SVG}line")
            if line.attrib["x1"] == line.attrib["x2"]
        ]
        assert len(uprights) == 2
        assert uprights[0] < min(edges)
        assert uprights[1] > max(edges)


@pytest.mark.parametrize("name", EXAMPLES)
def test_a_flag_belongs_to_the_layer_that_it_speaks_of(name: str) -> None:
    for layout, wall, side in boards(name):
        root = on_the_page(layout, wall, side)
        layers = {piece.mark: LAYER_OF[piece.face] for piece in wall.pieces}
        told = [finding for finding in layout.findings if finding.wall == wall.name]
        for group in groups(root, "findings"):
            for flag in group.iter(f"{SVG}a"):
                named = told[int(flag.attrib["href"].rpartition("-")[2]) - 1].pieces
                classes = set(group.attrib["class"].split())
                if named:
                    assert classes & {layers[mark] for mark in named}
                else:
                    assert classes == {"layer", "findings"}
        flagged = {flag.attrib["href"] for flag in root.iter(f"{SVG}a")}
        assert len(flagged) == len(told)


def test_no_flag_stands_on_the_height_of_a_ridge() -> None:
    layout = example("tool_store")
    (ridged,) = {wall.name: wall for wall in layout.walls if wall.name == "front"}.values()
    finding = replace(layout.findings[0], part="front", wall="front", pieces=())
    crowded = layout.model_copy(update={"findings": (finding,) * 9})
    root = on_the_page(crowded, ridged)
    height = max(z for _, z in ridged.top_line)
    (figure,) = [text for text in root.iter(f"{SVG}text") if "".join(text.itertext()) == f"{height:.0f}"]
    size = float(figure.attrib["font-size"])
    middle, wide = float(figure.attrib["x"]), 4 * 0.64 * size
    told = LetteringBox.around(middle, float(figure.attrib["y"]) - 0.35 * size, wide, size)
    flags = [text for flag in root.iter(f"{SVG}a") for text in flag.iter(f"{SVG}text")]
    assert len(flags) == 9
    for flag in flags:
        x, y = float(flag.attrib["x"]), float(flag.attrib["y"]) - 0.35 * float(flag.attrib["font-size"])
        assert LetteringBox.around(x, y, 1.5 * size, 1.5 * size).shared(told) == 0.0


def test_marks_of_linings_and_sills_stand_in_the_opening_beside_them() -> None:
    layout = layout_of(json.loads(HONEY_HOUSE.read_text()))
    wall = wall_of(layout, "right")
    (opening,) = wall.openings
    assert opening.finish
    by_mark = {piece.mark: piece for piece in wall.pieces}
    lettered = {text.text: text for text in on_the_page(layout, wall).iter(f"{SVG}text")}
    for mark in opening.finish.pieces:
        assert mark in lettered, by_mark[mark].role
        if by_mark[mark].role in {"jamb lining", "head lining", "sill board"}:
            left, right, bottom, top = bounds(by_mark[mark].outline)
            x, z = float(lettered[mark].attrib["x"]), -float(lettered[mark].attrib["y"])
            assert opening.left < x < opening.right
            assert opening.bottom < z < opening.top
            # Off its piece, and no further than the height of a letter and a half.
            off = max(left - x, x - right, bottom - z, z - top)
            assert 0.0 < off < 100.0
