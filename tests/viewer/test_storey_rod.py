"""The storey rod and the cladding on drawings."""

from __future__ import annotations

from xml.etree import ElementTree

import pytest

from soleplate.engine.layout import Layout
from soleplate.viewer.drawings.elevation import elevation_svg
from soleplate.viewer.drawings.layers import LAYERS
from soleplate.viewer.drawings.storey_rod import storey_rod_svg
from tests.buildings import honey_house, layout_of, wall_of

SVG = "{http://www.w3.org/2000/svg}"


def clad() -> Layout:
    value = honey_house()
    value["defaults"]["cladding"] = {"rule": "lapped", "width": 150}
    return layout_of(value)


def bare() -> Layout:
    value = honey_house()
    value["defaults"].pop("cladding", None)
    return layout_of(value)


def test_the_rod_has_every_course() -> None:
    layout = clad()
    texts = [text.text for text in ElementTree.fromstring(storey_rod_svg(layout)).iter(f"{SVG}text")]
    for course in layout.storey_rod:
        assert f"{course.number}" in texts
        assert any(text and text.startswith(course.display) for text in texts)
    notched = [cut for course in layout.storey_rod for cut in course.cut_outs]
    assert notched
    for cut in notched:
        assert any(text and cut.opening in text and cut.display in text for text in texts)


def test_walls_with_other_courses_have_their_own_rod() -> None:
    value = honey_house()
    value["defaults"]["cladding"] = {"rule": "lapped", "width": 150}
    value["walls"]["left"] = {"cladding": {"rule": "rebated", "cover": 130}}
    texts = [t.text for t in ElementTree.fromstring(storey_rod_svg(layout_of(value))).iter(f"{SVG}text")]
    assert "front, right, back" in texts
    assert "left" in texts


def test_a_building_without_courses_has_no_rod() -> None:
    with pytest.raises(ValueError, match="no wall is clad or lined in courses"):
        storey_rod_svg(bare())


def test_the_cladding_layer_draws_each_piece_once_with_its_course() -> None:
    layout = clad()
    root = ElementTree.fromstring(elevation_svg(layout, "right", layers=LAYERS))
    (group,) = root.findall(f".//{SVG}g[@class='layer cladding near top']")
    drawn = {polygon.get("data-mark"): polygon for polygon in group.iter(f"{SVG}polygon")}
    pieces = {piece.mark: piece for piece in wall_of(layout, "right").pieces if piece.course is not None}
    assert drawn.keys() == pieces.keys()
    for mark, piece in pieces.items():
        assert drawn[mark].get("data-course") == f"{piece.course}"


def test_cladding_is_drawn_when_asked_for_only() -> None:
    layout = clad()
    assert "layer cladding" not in elevation_svg(layout, "right")
    frames = [elevation_svg(each, "right", layers=["frame"]) for each in (layout, bare())]
    marks = [
        [p.get("data-mark") for p in ElementTree.fromstring(drawn).iter(f"{SVG}polygon")] for drawn in frames
    ]
    assert marks[0] == marks[1]
