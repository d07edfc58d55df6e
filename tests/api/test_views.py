"""Pictures of the whole over HTTP: what is served, and what is refused."""

from __future__ import annotations

import json
from typing import Any
from xml.etree import ElementTree

import pytest
from starlette.testclient import TestClient

from soleplate.api.work import viewing
from soleplate.api.work.viewing import view
from soleplate.engine.building_file import UnbuildableError
from soleplate.viewer.pictures import MOST_PICTURED, Look
from tests.api.test_bad_requests import problem
from tests.buildings import building, honey_house, layout_of
from tests.roofs import mono

SVG = "{http://www.w3.org/2000/svg}"


def ask(client: TestClient, **asked: Any) -> Any:
    return client.post("/v1/views", json={"building": honey_house()} | asked)


def marks(svg: str) -> set[str]:
    groups = ElementTree.fromstring(svg).iter(f"{SVG}g")
    return {group.attrib["data-mark"] for group in groups if "data-mark" in group.attrib}


def test_a_picture_is_svg_whose_pieces_have_their_marks(client: TestClient) -> None:
    answer = ask(client, azimuth=300, elevation=30)
    assert answer.status_code == 200
    assert answer.headers["content-type"] == "image/svg+xml"
    layout = layout_of(honey_house())
    assert len(marks(answer.text)) > 40
    assert marks(answer.text) <= {piece.mark for piece in layout.pieces}


def test_layers_a_part_and_parts_apart(client: TestClient) -> None:
    built = mono()
    layout = layout_of(built)
    roof = {piece.mark for slope in layout.roofs for piece in slope.pieces}
    assert marks(ask(client, building=built, layers=["roof"], elevation=-30).text) <= roof
    (front,) = (wall for wall in layout.walls if wall.name == "front")
    assert marks(ask(client, building=built, part="front").text) == {piece.mark for piece in front.pieces}
    together, apart = (ask(client, building=built, apart=by).text for by in (0, 300))
    high, higher = (
        float(ElementTree.fromstring(svg).attrib["viewBox"].split()[3]) for svg in (together, apart)
    )
    assert higher > high + 200


def test_a_cut_has_filled_faces_and_one_that_misses_says_so(client: TestClient) -> None:
    cut = ask(client, cut={"across": "left-right", "at": 1350})
    assert 'class="cut"' in cut.text
    assert 'class="cut"' not in ask(client).text
    missed = ask(client, cut={"across": "level", "at": -5000})
    assert missed.status_code == 200
    assert marks(missed.text) == set()
    assert "cuts nothing" in (ElementTree.fromstring(missed.text).findtext(f"{SVG}desc") or "")


def test_a_script_gets_pieces_and_faces(client: TestClient) -> None:
    answer = ask(client, form="tree", azimuth=10)
    assert answer.headers["content-type"].startswith("application/json")
    told = answer.json()
    assert {piece["mark"] for piece in told["pieces"]} == {
        piece.mark for piece in layout_of(honey_house()).pieces
    }
    assert told["look"] == {"azimuth": 10.0, "elevation": 30.0}
    rows = json.loads(client.post("/v1/layouts", json=honey_house()).text)["cutting_list"]
    by_mark = {mark: place for place, row in enumerate(rows) for mark in row["marks"]}
    assert all(by_mark[piece["mark"]] == piece["cut"] for piece in told["pieces"] if piece["mark"] in by_mark)


@pytest.mark.parametrize(
    ("member", "value", "place"),
    [
        ("layers", ["frame", "cladding"], "/layers/1"),
        ("layers", [], "/layers"),
        ("elevation", 90.5, "/elevation"),
        ("elevation", -91, "/elevation"),
        ("azimuth", "north", "/azimuth"),
        ("apart", -1, "/apart"),
        ("apart", 1e9, "/apart"),
        ("cut", {"across": "slanted", "at": 0}, "/cut/across"),
        ("cut", {"across": "level"}, "/cut/at"),
        ("cut", {"across": "level", "at": 1e300}, "/cut/at"),
        ("form", "png", "/form"),
        ("zoom", 2, "/zoom"),
    ],
)
def test_bad_input_is_told_with_its_place(client: TestClient, member: str, value: Any, place: str) -> None:
    held = problem(ask(client, **{member: value}), "schema")
    assert [error["pointer"] for error in held["errors"]] == [place]


def test_an_unknown_part_and_a_faulty_building_are_told_with_their_places(client: TestClient) -> None:
    held = problem(ask(client, part="north"), "unbuildable")
    assert held["errors"][0]["pointer"] == "/part"
    assert "accepted are front, right, back, left" in held["errors"][0]["detail"]
    broken = building() | {"frame": {"section": [45]}}
    assert problem(ask(client, building=broken), "schema")["errors"][0]["pointer"].startswith(
        "/building/frame"
    )


@pytest.mark.parametrize("elevation", [-90, -0.0, 0, 90])
@pytest.mark.parametrize("azimuth", [-720, 0, 90, 1e300])
def test_any_direction_is_served(client: TestClient, azimuth: float, elevation: float) -> None:
    answer = ask(client, building=building(), azimuth=azimuth, elevation=elevation)
    assert answer.status_code == 200
    assert marks(answer.text)


def test_more_pieces_than_a_picture_may_have_are_refused_and_fewer_layers_served(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    layout = layout_of(mono())
    assert len(layout.pieces) < MOST_PICTURED
    monkeypatch.setattr(viewing, "MOST_PICTURED", len(layout.pieces) - 1)
    with pytest.raises(UnbuildableError) as held:
        view(layout, Look(), "svg")
    assert held.value.faults[0].pointer == "/layers"
    assert "ask for fewer layers" in held.value.faults[0].message
    assert marks(view(layout, Look(layers=("roof",)), "svg").decode())


def test_hostile_names_are_told_and_never_become_elements(client: TestClient) -> None:
    name = '"><script>alert(1)</script><g onload="x'
    answer = ask(client, building=building() | {"name": name})
    assert "<script" not in answer.text
    assert name in (ElementTree.fromstring(answer.text).findtext(f"{SVG}title") or "")
    assert all(
        not key.startswith("on") for each in ElementTree.fromstring(answer.text).iter() for key in each.attrib
    )
