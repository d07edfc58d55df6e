"""Elevations: what is drawn is what the layout says, to the figure."""

from __future__ import annotations

import json
from collections.abc import Collection
from xml.etree import ElementTree

import pytest

from soleplate.engine.layout import Layout, WallOut
from soleplate.engine.rules import Drawn, DrawnArea, DrawnLine, DrawnText
from soleplate.viewer.drawings.elevation import elevation_svg
from soleplate.viewer.drawings.face import Side
from soleplate.viewer.drawings.layers import SHOWN
from soleplate.viewer.drawings.tones import TONES, role_class
from soleplate.viewer.markup.serialise import carriable
from tests.buildings import HONEY_HOUSE, building, layout_of, wall_of
from tests.viewer.sample import HOSTILE, honey_house, one_piece

SVG = "{http://www.w3.org/2000/svg}"
WALLS = ["front", "right", "back", "left"]


def parsed(
    layout: Layout, wall: str, side: Side = "outside", layers: Collection[str] = SHOWN
) -> ElementTree.Element:
    return ElementTree.fromstring(elevation_svg(layout, wall, side=side, layers=layers))


def polygons(root: ElementTree.Element) -> dict[str, list[tuple[float, float]]]:
    found: dict[str, list[tuple[float, float]]] = {}
    for polygon in root.iter(f"{SVG}polygon"):
        if "piece" in polygon.get("class", "").split():
            mark = polygon.attrib["data-mark"]
            assert mark not in found, "drawn twice"
            points = [point.split(",") for point in polygon.attrib["points"].split()]
            found[mark] = [(float(x), float(y)) for x, y in points]
    return found


def texts(root: ElementTree.Element) -> list[str]:
    return ["".join(text.itertext()) for text in root.iter(f"{SVG}text")]


def wall_named(layout: Layout, name: str) -> WallOut:
    return next(wall for wall in layout.walls if wall.name == name)


@pytest.mark.parametrize("name", WALLS)
def test_outside_polygons_are_the_layouts_outlines(name: str) -> None:
    wall = wall_named(honey_house(), name)
    assert polygons(parsed(honey_house(), name)) == {
        piece.mark: [(x, -z) for x, z in piece.outline] for piece in wall.pieces
    }


@pytest.mark.parametrize("name", WALLS)
def test_inside_mirrors_x(name: str) -> None:
    wall = wall_named(honey_house(), name)
    drawn = polygons(parsed(honey_house(), name, "inside"))
    assert drawn.keys() == {piece.mark for piece in wall.pieces}
    for piece in wall.pieces:
        expected = [number for x, z in piece.outline for number in (wall.length - x, -z)]
        assert [number for point in drawn[piece.mark] for number in point] == pytest.approx(
            expected, abs=5e-4
        )


def test_the_side_is_said() -> None:
    assert "front: seen from outside" in texts(parsed(honey_house(), "front"))
    assert "front: seen from inside" in texts(parsed(honey_house(), "front", "inside"))


@pytest.mark.parametrize("side", ["outside", "inside"])
def test_everything_lies_on_the_sheet(side: Side) -> None:
    for wall in honey_house().walls:
        root = parsed(honey_house(), wall.name, side)
        left, top, width, height = map(float, root.attrib["viewBox"].split())
        for text in root.iter(f"{SVG}text"):
            assert left < float(text.attrib["x"]) < left + width
            assert top < float(text.attrib["y"]) < top + height
        for outline in polygons(root).values():
            assert all(left < x < left + width and top < y < top + height for x, y in outline)


@pytest.mark.parametrize("side", ["outside", "inside"])
@pytest.mark.parametrize(("units", "step", "long"), [("mm", 100.0, 500.0), ("in", 76.2, 304.8)])
def test_the_tape_is_divided_as_tapes_are(units: str, step: float, long: float, side: Side) -> None:
    """Each 100 mm, longer each half metre; or each 3 in, longer each foot; from the wall's left end."""
    value = building(units=units, outline={"walls": [{"name": "wall", "length": "3048 mm"}]})
    value |= {"roof": {"form": "level", "height": "2400 mm"}, "frame": {"section": ["45 mm", "70 mm"]}}
    value["defaults"] = {"studs": {"rule": "equal-bays"}}
    root = parsed(layout_of(value), "wall", side)
    (tape,) = [group for group in root.iter(f"{SVG}g") if any(r.get("class") == "tape" for r in group)]
    strokes = {}
    for line in tape.findall(f"{SVG}g")[0]:
        at = {float(line.attrib[name]) for name in ("x1", "x2")}
        assert len(at) == 1
        place = at.pop() if side == "outside" else 3048.0 - at.pop()
        strokes[round(place, 3)] = float(line.attrib["y2"]) - float(line.attrib["y1"])
    assert sorted(strokes) == pytest.approx([step * number for number in range(1, int(3047.9 // step) + 1)])
    assert len(set(strokes.values())) == 2
    longest = max(strokes.values())
    assert [at for at, reach in sorted(strokes.items()) if reach == longest] == pytest.approx(
        [long * number for number in range(1, int(3047.9 // long) + 1)]
    )


def test_tape_stands_in_step_with_the_drawing() -> None:
    wall = wall_named(honey_house(), "front")
    root = parsed(honey_house(), "front")
    lines = [line.attrib["points"].split() for line in root.iter(f"{SVG}polyline")]
    leaders = {float(points[0].split(",")[0]) for points in lines if len(points) == 3}
    assert leaders == {mark.at for mark in wall.marks["sole plate"]}
    for mark in wall.marks["sole plate"]:
        assert f"{mark.mark}  {mark.display}" in texts(root)


def test_dimensions_and_opening_sizes_are_written() -> None:
    written = texts(parsed(honey_house(), "right"))
    assert {"2560", "2236", "1967", "900 × 700", "sill 950", "window"} <= set(written)


def test_each_piece_has_its_title_and_tag() -> None:
    root = parsed(honey_house(), "back")
    titles = {title.text for title in root.iter(f"{SVG}title")}
    for piece in wall_named(honey_house(), "back").pieces:
        assert f"{piece.mark}, {piece.role}, {piece.display}" in titles
        assert piece.mark in texts(root)


def test_a_piece_behind_another_is_in_brackets() -> None:
    """The lintel stands at the outer face, its packer behind it."""
    wall = wall_named(honey_house(), "front")
    lintel = next(piece for piece in wall.pieces if piece.role == "lintel")
    packer = next(piece for piece in wall.pieces if piece.role == "packer")
    assert lintel.outline == packer.outline
    outside, inside = (texts(parsed(honey_house(), "front", side)) for side in ("outside", "inside"))
    assert {lintel.mark, f"({packer.mark})"} <= set(outside)
    assert {packer.mark, f"({lintel.mark})"} <= set(inside)


def test_cautions_stand_on_the_sheet() -> None:
    shown = " ".join(texts(parsed(honey_house(), "left")))
    for caution in honey_house().cautions:
        assert caution in shown


@pytest.mark.parametrize("layer", SHOWN)
def test_layers_can_be_left_out(layer: str) -> None:
    rest = [name for name in SHOWN if name != layer]
    classes = {group.get("class") for group in parsed(honey_house(), "front", layers=rest).iter(f"{SVG}g")}
    assert f"layer {layer}" not in classes
    assert {f"layer {name}" for name in rest if (layer, name) != ("frame", "marks")} <= classes


def test_layers_of_plugins_are_drawn() -> None:
    added: dict[str, list[Drawn]] = {
        "straps": [DrawnLine(((0.0, 100.0), (500.0, 200.0)), HOSTILE), DrawnText((250.0, 300.0), "strap")],
        "zones": [DrawnArea(((0.0, 0.0), (100.0, 0.0), (100.0, 50.0)), "wet")],
    }
    drawn = elevation_svg(honey_house(), "front", layers=["straps", "zones"], added=added)
    root = ElementTree.fromstring(drawn)
    (line,) = root.findall(f".//{SVG}g[@class='layer straps']/{SVG}polyline")
    (area,) = root.findall(f".//{SVG}g[@class='layer zones']/{SVG}polygon")
    assert line.attrib["points"] == "0,-100 500,-200"
    assert area.attrib["points"] == "0,0 100,0 100,-50"
    assert "strap" in texts(root)


def test_what_is_not_there_is_refused() -> None:
    with pytest.raises(ValueError, match="no wall 'roof'; the walls are front, right, back, left"):
        elevation_svg(honey_house(), "roof")
    with pytest.raises(ValueError, match="no layer 'rafters'; the layers are frame, openings"):
        elevation_svg(honey_house(), "front", layers=["rafters"])
    with pytest.raises(ValueError, match="no side 'above'; the sides are outside, inside"):
        elevation_svg(honey_house(), "front", side="above")  # type: ignore[arg-type]


def test_same_layout_same_bytes() -> None:
    again = Layout.model_validate_json(honey_house().model_dump_json())
    for name in WALLS:
        assert elevation_svg(again, name) == elevation_svg(honey_house(), name)


def test_roles_are_told_apart_without_colour() -> None:
    """By their strokes, or by a tenth of the whole range of relative luminance (as WCAG 2.2 defines it)."""
    roles = [role for role in TONES if role not in {"head plate", "corner stud", "batten", "board", "sheet"}]
    for index, one in enumerate(roles):
        for other in roles[index + 1 :]:
            assert (
                TONES[one].strokes != TONES[other].strokes
                or abs(luminance(TONES[one].ground) - luminance(TONES[other].ground)) > 0.1
            ), (one, other)


def luminance(colour: str) -> float:
    parts = [int(colour[index : index + 2], 16) / 255 for index in (1, 3, 5)]
    red, green, blue = (
        part / 12.92 if part <= 0.03928 else ((part + 0.055) / 1.055) ** 2.4 for part in parts
    )
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def test_a_role_of_a_plugin_has_a_neutral_class() -> None:
    root = parsed(one_piece("A", role="x\" onload='y'"), "A")
    (piece,) = [
        polygon for polygon in root.iter(f"{SVG}polygon") if "piece" in polygon.get("class", "").split()
    ]
    assert piece.attrib["class"] == "piece other"
    assert piece.attrib["fill"] == "url(#tone-other)"
    assert role_class("sole plate") == "sole-plate"
    assert root.find(f".//{SVG}pattern[@id='tone-other']") is not None


@pytest.mark.parametrize("name", [HOSTILE, "\x00\x1b]0;x\x07", "‮desrever", "🐝" * 30, "W" * 60, "a\rb"])
def test_hostile_names_stay_inert(name: str) -> None:
    root = parsed(one_piece(name), name)
    tags = {element.tag.removeprefix(SVG) for element in root.iter()}
    assert tags <= {"svg", "title", "defs", "pattern", "rect", "line", "g", "polygon", "polyline", "text"}
    assert not [
        key for element in root.iter() for key in element.attrib if key.startswith("on") or key == "style"
    ]
    assert list(polygons(root)) == [carriable(name)]
    assert carriable(name) in texts(root)


def test_boards_hide_the_frame_from_their_own_side_alone() -> None:
    value = json.loads((HONEY_HOUSE.parent / "reading_room.json").read_text())
    layout = layout_of(value)
    wall = wall_of(layout, "south")
    faces = {piece.mark: piece.face for piece in wall.pieces}
    seen: dict[Side, list[str | None]] = {
        "outside": ["inside", None, "outside"],
        "inside": ["outside", None, "inside"],
    }
    for side, order in seen.items():
        drawn = polygons(parsed(layout, "south", side, (*SHOWN, "cladding", "lining")))
        assert list(dict.fromkeys(faces[mark] for mark in drawn)) == order
        assert set(drawn) == set(faces)
