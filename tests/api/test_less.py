"""Layouts with less in them: one part, or some members; what is not asked for is empty."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest
from starlette.testclient import TestClient

from soleplate.api.work.messages import EXAMPLE_BUILDING, EXAMPLE_STOCK, EXAMPLE_WALL
from soleplate.engine.layout import Layout
from tests.buildings import building

HOUSE: dict[str, Any] = json.loads((Path(__file__).parents[1] / "honey_house.json").read_text())
WHOLE = ("format", "name", "units", "findings", "cautions", "weight_kg")


@pytest.fixture(scope="module")
def whole(client: TestClient) -> dict[str, Any]:
    answer = client.post("/v1/layouts", json=HOUSE)
    assert answer.status_code == 200, answer.text
    held: dict[str, Any] = answer.json()
    return held


def asked(client: TestClient, query: str) -> dict[str, Any]:
    answer = client.post(f"/v1/layouts?{query}", json=HOUSE)
    assert answer.status_code == 200, answer.text
    held: dict[str, Any] = answer.json()
    return held


def test_one_wall(client: TestClient, whole: dict[str, Any]) -> None:
    less = asked(client, "part=front&members=walls")
    assert less["walls"] == [wall for wall in whole["walls"] if wall["name"] == "front"]
    assert less["cutting_list"] == less["buying_list"] == []
    assert less["building"] == {}
    assert "floors" not in less
    for name in WHOLE:
        assert less[name] == whole[name]


def test_every_part_by_its_name(client: TestClient, whole: dict[str, Any]) -> None:
    kinds = [kind for kind in ("walls", "floors", "roofs") if kind in whole]
    names = {part["name"]: kind for kind in kinds for part in whole[kind]}
    for name, kind in names.items():
        less = asked(client, f"part={name}&members=walls,floors,roofs")
        assert [part["name"] for each in kinds for part in less.get(each, ())] == [name]
        assert [part["name"] for part in less[kind]] == [name]


def test_lists_alone(client: TestClient, whole: dict[str, Any]) -> None:
    less = asked(client, "members=cutting_list,buying_list")
    assert less["walls"] == []
    assert less["cutting_list"] == whole["cutting_list"]
    assert less["buying_list"] == whole["buying_list"]


def test_any_member_by_itself_is_as_in_the_whole(client: TestClient) -> None:
    sent = HOUSE | {"stock": EXAMPLE_STOCK, "fixings": [{"rule": "framing-nails"}]}
    whole = client.post("/v1/layouts", json=sent).json()
    assert {"saw_plan", "fixings"} <= set(whole)
    needed = set(Layout.model_json_schema(mode="serialization")["required"])
    for name in set(whole) - set(WHOLE):
        less = client.post(f"/v1/layouts?members={name}", json=sent).json()
        assert less[name] == whole[name]
        assert needed <= set(less)


def test_one_wall_alone_and_a_kept_design(client: TestClient) -> None:
    lists = client.post("/v1/walls?members=cutting_list", json=EXAMPLE_WALL).json()
    assert lists["walls"] == []
    assert lists["cutting_list"]
    design = client.post("/v1/designs", json=building()).headers["location"]
    first, again = (client.get(f"{design}/layout{query}") for query in ("", "?part=left&members=walls"))
    assert [wall["name"] for wall in again.json()["walls"]] == ["left"]
    assert again.headers["etag"] != first.headers["etag"]


def test_a_part_that_there_is_not(client: TestClient) -> None:
    answer = client.post("/v1/layouts?part=attic", json=EXAMPLE_BUILDING)
    assert answer.status_code == 404
    assert answer.json()["type"].endswith("/problems/not-found")
    assert answer.json()["detail"] == (
        "the layout has no part called 'attic'; accepted are front, right, back, left"
    )


@pytest.mark.parametrize(
    ("query", "words"),
    [
        ("part=", "part"),
        ("members=marks", "accepted are building, walls, floors"),
        ("members=walls,", "accepted are building, walls"),
        ("walls=front", "no parameter is called 'walls'; accepted are part, members"),
        ("part=front&part=left", "'part' is given twice"),
    ],
)
def test_a_faulty_query(client: TestClient, query: str, words: str) -> None:
    answer = client.post(f"/v1/layouts?{query}", json=EXAMPLE_BUILDING)
    assert answer.status_code == 400
    assert answer.json()["type"].endswith("/problems/parameter")
    assert words in answer.json()["detail"]
