"""Every bad request gets a problem with its type, its place and what would be accepted."""

from __future__ import annotations

import copy
import json
from collections.abc import Iterator
from typing import Any

import pytest
from starlette.testclient import TestClient

from soleplate.api.http.problem_types import PROBLEMS
from soleplate.api.http.problems import MEDIA_TYPE
from soleplate.engine.building_file import LARGEST
from soleplate.engine.building_file.reading import DEEPEST
from tests.buildings import PLAIN

JSON = {"content-type": "application/json"}
WINDOW = {"name": "w", "kind": "window", "width": 600, "height": 500, "sill": 900, "at": {"left": 800}}


def problem(answer: Any, name: str) -> dict[str, Any]:
    """The problem that an answer holds, once all that every problem has is found."""
    kind = PROBLEMS[name]
    assert (answer.status_code, answer.headers["content-type"]) == (kind.status, MEDIA_TYPE), answer.text
    held: dict[str, Any] = answer.json()
    assert (held["title"], held["status"]) == (kind.title, kind.status)
    # Who called a server of another name is not led there.
    base = "" if name == "wrong-host" else str(answer.request.url.join("/")).rstrip("/")
    assert held["type"] == base + kind.uri
    assert held["detail"]
    assert (kind.status == 503) <= answer.headers.get("retry-after", "").isdecimal()
    assert "Traceback" not in answer.text
    return held


def changed(pointer: str, value: Any) -> dict[str, Any]:
    """The plain building with a member set, and an opening in its front and left wall."""
    building = copy.deepcopy(PLAIN)
    building["walls"] = {name: {"openings": [dict(WINDOW)]} for name in ("front", "left")}
    *steps, last = pointer.strip("/").split("/")
    at: Any = building
    for step in steps:
        at = at[int(step)] if isinstance(at, list) else at[step]
    at[last] = value
    return building


SHORT_WALLS = {"walls": [{"name": "w", "length": 3000}, {"name": "v", "length": -5}]}
ONLY_WALL = {"walls": [{"name": "v", "length": -5}]}
FRONT, LEFT = "/walls/front/openings/0", "/walls/left/openings/0"
TWICE = [WINDOW, WINDOW | {"name": "v", "at": {"left": 900}}]
CASES = [
    ("wider-than-the-wall", f"{FRONT}/width", 5000, "unbuildable", f"{FRONT}/width", "wider"),
    ("beyond-the-end", f"{FRONT}/at", {"left": 4200}, "unbuildable", f"{FRONT}/at", "accepted"),
    ("overlapping", "/walls/front/openings", TWICE, "unbuildable", "/walls/front/openings/1/at", "overlap"),
    ("over-the-rake", f"{LEFT}/height", 1240, "unbuildable", f"{LEFT}/height", "over the top"),
    ("heights-contradict", "/roof/high_height", 3000, "unbuildable", "/roof", "contradict"),
    ("negative", "/outline/length", -1, "unbuildable", "/outline/length", "accepted"),
    ("negative-wall", "/outline", SHORT_WALLS, "unbuildable", "/outline/walls/1/length", "accepted"),
    (
        "only-wall",
        "/outline",
        {"walls": SHORT_WALLS["walls"][1:]},
        "unbuildable",
        "/outline/walls/0/length",
        "-5",
    ),
    ("zero", "/outline/width", 0, "unbuildable", "/outline/width", "accepted"),
    ("ten-kilometres", "/outline/length", 10_000_000, "unbuildable", "/outline/length", "accepted"),
    ("pitch-of-90", "/roof/pitch", 90, "unbuildable", "/roof/pitch", "accepted"),
    ("thin-plate", "/frame/section", [0.5, 70], "unbuildable", "/frame/section/0", "accepted"),
    (
        "doubled-name",
        "/walls/front/openings",
        [WINDOW] * 2,
        "unbuildable",
        f"{FRONT[:-1]}1/name",
        "its own",
    ),
    ("no-such-wall", "/walls/north", {}, "unbuildable", "/walls/north", "front, right, back, left"),
    ("unknown-rule", "/defaults/studs", {"rule": "x"}, "schema", "/defaults/studs", "'equal-bays'"),
    ("unknown-member", "/paint", 1, "schema", "/paint", "unknown member"),
    ("a-text-for-a-length", "/outline/length", "long", "schema", "/outline/length", "8 ft 6 1/2 in"),
    ("true-for-a-length", "/outline/length", True, "schema", "/outline/length", "accepted"),
    ("wrong-format", "/format", "soleplate.building/9", "schema", "/format", "soleplate.building/1"),
]


@pytest.mark.parametrize(
    ("at", "value", "name", "pointer", "words"), [c[1:] for c in CASES], ids=[c[0] for c in CASES]
)
def test_a_faulty_building(
    client: TestClient, at: str, value: Any, name: str, pointer: str, words: str
) -> None:
    building = changed(at, value)
    held = problem(client.post("/v1/layouts", json=building), name)
    assert held["errors"][0]["pointer"] == pointer
    assert words in held["errors"][0]["detail"]
    drawing = client.post("/v1/elevations", json={"building": building, "wall": "front"})
    assert problem(drawing, name)["errors"][0]["pointer"] == f"/building{pointer}"


def test_a_hundred_faults_are_listed_and_the_rest_counted(client: TestClient) -> None:
    members = {f"paint {number}": 1 for number in range(150)}
    held = problem(client.post("/v1/layouts", json=PLAIN | members), "schema")
    assert (len(held["errors"]), held["more_errors"]) == (100, 50)
    assert held["detail"].endswith("; and 147 more")
    asked = {"building": PLAIN | members, "faults": True}
    told = client.post("/v1/boards", json=asked).json()
    assert (len(told["errors"]), told["more_errors"]) == (100, 50)
    few = problem(client.post("/v1/layouts", json=PLAIN | {"paint": 1}), "schema")
    assert "more_errors" not in few


WALL = {"name": "a/b", "frame": {"section": [45, 70]}, "length": 3000, "height": 2400}


@pytest.mark.parametrize(
    ("changes", "pointer", "words"),
    [
        ({"studs": {"rule": "equal-bays", "number": 90}}, "/studs", "no room for 90 studs"),
        ({"openings": [WINDOW | {"width": 4000}]}, "/openings/0/width", "wider"),
        ({"length": 60}, "/length", "60 mm"),
        ({"height": 20}, "/height", "accepted"),
        ({"measured": {"length": 50}}, "/measured", "accepted"),
    ],
)
def test_a_faulty_wall_has_its_faults_where_they_were_sent(
    client: TestClient, changes: dict[str, Any], pointer: str, words: str
) -> None:
    held = problem(client.post("/v1/walls", json=WALL | changes), "unbuildable")
    assert held["errors"][0]["pointer"] == pointer
    assert words in held["errors"][0]["detail"]


def test_an_unknown_wall_of_an_elevation(client: TestClient) -> None:
    held = problem(client.post("/v1/elevations", json={"building": PLAIN, "wall": "north"}), "unbuildable")
    assert held["errors"] == [
        {"pointer": "/wall", "detail": "no wall is called 'north'; accepted are front, right, back, left"}
    ]


@pytest.mark.parametrize(("member", "value"), [("layers", ["paint"]), ("side", "above"), ("paint", 1)])
def test_a_faulty_request_for_an_elevation(client: TestClient, member: str, value: Any) -> None:
    held = problem(
        client.post("/v1/elevations", json={"building": PLAIN, "wall": "front", member: value}), "schema"
    )
    assert held["errors"][0]["pointer"].startswith(f"/{member}")


@pytest.mark.parametrize(
    ("body", "pointer", "words"),
    [
        (b"", "", "not JSON"),
        (b"{", "", "not JSON at line 1"),
        (b"\xff\xfe", "", "UTF-8"),
        (b'{"name": "a", "name": "b"}', "/name", "given twice"),
        (b'{"length": NaN}', "/length", "not a number"),
        (b'{"length": -Infinity}', "/length", "not a number"),
        (b'{"length": 1e999}', "/length", "too large"),
        (b'{"length": ' + b"9" * 5000 + b"}", "/length", "too large"),
        (b"[" * (DEEPEST + 1) + b"]" * (DEEPEST + 1), "", "levels deep"),
        (b'{"a":' * 100_000, "", "levels deep"),
    ],
    ids=[
        "empty",
        "cut-off",
        "utf-16",
        "doubled-key",
        "nan",
        "infinity",
        "overflow",
        "digits",
        "deep",
        "deeper",
    ],
)
@pytest.mark.parametrize("path", ["/v1/layouts", "/v1/walls", "/v1/elevations"])
def test_an_unreadable_body(client: TestClient, path: str, body: bytes, pointer: str, words: str) -> None:
    held = problem(client.post(path, content=body, headers=JSON), "unreadable")
    assert held["errors"][0]["pointer"] == pointer
    assert words in held["errors"][0]["detail"]


@pytest.mark.parametrize("value", [None, 1, "text", [], [1]])
@pytest.mark.parametrize("path", ["/v1/layouts", "/v1/walls", "/v1/elevations"])
def test_a_body_that_is_no_object(client: TestClient, path: str, value: Any) -> None:
    held = problem(client.post(path, content=json.dumps(value), headers=JSON), "schema")
    assert held["errors"][0]["pointer"] == ""


def test_text_that_no_answer_can_carry(client: TestClient) -> None:
    for text in (b'{"\\ud800": 1}', json.dumps(PLAIN).replace("Plain", "a\\ud800").encode()):
        problem(client.post("/v1/layouts", content=text, headers=JSON), "schema")


def test_fifty_megabytes(client: TestClient) -> None:
    body = b" " * 50_000_000
    held = problem(client.post("/v1/layouts", content=body, headers=JSON), "too-large")
    assert str(LARGEST) in held["detail"]


@pytest.mark.parametrize("is_streamed", [False, True], ids=["declared", "streamed"])
@pytest.mark.parametrize(("over", "is_read"), [(0, True), (1, False)])
def test_a_body_may_be_as_large_as_is_told_and_no_larger(
    client: TestClient, over: int, is_read: bool, is_streamed: bool
) -> None:
    text = json.dumps(PLAIN).encode()
    body = text + b" " * (LARGEST + over - len(text))
    sent = iter([body[:-1], body[-1:]]) if is_streamed else body
    answer = client.post("/v1/layouts", content=sent, headers=JSON)
    if is_read:
        assert answer.status_code == 200
    else:
        told = "over 1000000 bytes" if is_streamed else "1000001 bytes"
        assert problem(answer, "too-large")["detail"] == f"{told}; accepted is at most " + (
            "that" if is_streamed else "1000000"
        )


def test_a_stream_is_bounded_while_it_is_read(client: TestClient) -> None:
    def chunks() -> Iterator[bytes]:
        for _ in range(100):
            yield b" " * 100_000

    held = problem(client.post("/v1/layouts", content=chunks(), headers=JSON), "too-large")
    assert held["detail"].startswith("over ")


@pytest.mark.parametrize(
    "headers",
    [
        {},
        {"content-type": "text/plain"},
        {"content-type": "application/x-www-form-urlencoded"},
        {"content-type": "application/json; charset=latin-1"},
        {"content-type": "application/jsonx"},
        {"content-type": "application/json", "content-encoding": "gzip"},
    ],
)
def test_a_body_not_declared_as_json(client: TestClient, headers: dict[str, str]) -> None:
    answer = client.post("/v1/layouts", content=json.dumps(PLAIN), headers=headers)
    assert "application/json" in problem(answer, "media-type")["detail"]


@pytest.mark.parametrize(
    "media_type", ["application/json; charset=utf-8", 'Application/JSON; charset="UTF-8"']
)
def test_other_spellings_of_json(client: TestClient, media_type: str) -> None:
    answer = client.post("/v1/layouts", content=json.dumps(PLAIN), headers={"content-type": media_type})
    assert answer.status_code == 200


@pytest.mark.parametrize(
    "path",
    [
        "/nope",
        "/health/",
        "/v1",
        "/static/nope",
        "/static/%2e%2e/page.py",
        "/static/__init__.py",
        "/problems/x",
    ],
)
def test_nothing_there(client: TestClient, path: str) -> None:
    problem(client.get(path), "not-found")


@pytest.mark.parametrize(
    ("method", "path", "allowed"),
    [
        ("GET", "/v1/layouts", "POST"),
        ("DELETE", "/health", "GET, HEAD"),
        ("POST", "/", "GET, HEAD"),
        ("OPTIONS", "/v1/walls", "POST"),
        ("PATCH", "/openapi.json", "GET, HEAD"),
    ],
)
def test_a_wrong_method_is_told_of_the_right_ones(
    client: TestClient, method: str, path: str, allowed: str
) -> None:
    answer = client.request(method, path)
    problem(answer, "method")
    assert answer.headers["allow"] == allowed


@pytest.mark.parametrize(
    ("method", "path"),
    [
        ("GET", "/"), ("GET", "/health"), ("GET", "/v1/rules"), ("GET", "/openapi.json"), ("GET", "/docs"),
        ("GET", "/static/soleplate.css"), ("POST", "/v1/layouts"), ("POST", "/v1/exports/cutting-list"),
        ("GET", "/v1/designs"), ("POST", "/v1/designs"), ("GET", "/problems/schema"),
    ],
)  # fmt: skip
def test_no_call_takes_a_parameter_that_it_does_not_know(client: TestClient, method: str, path: str) -> None:
    held = problem(client.request(method, f"{path}?colour=red", json=PLAIN), "parameter")
    assert "no parameter is called 'colour'" in held["detail"]


@pytest.mark.parametrize(
    ("query", "said"),
    [
        ("after=zzz", "after: accepted is the `next` of the page before"),
        ("limit=0", "limit: accepted is a whole number from 1 to 100"),
        ("limit=ten", "limit: accepted is a whole number from 1 to 100"),
        ("show=some", "show: accepted are kept, deleted, all"),
        ("limit=5&limit=6", "'limit' is given twice; accepted is each parameter once"),
        ("page=2", "no parameter is called 'page'; accepted are limit, after, show"),
    ],
)
def test_a_parameter_says_what_it_takes(client: TestClient, query: str, said: str) -> None:
    answer = client.get(f"/v1/designs?{query}")
    problem(answer, "parameter")
    assert answer.json()["detail"] == said


def test_half_a_character_is_told_as_such(client: TestClient) -> None:
    body = json.dumps(PLAIN).replace('"Plain"', '"\\ud800"')
    answer = client.post("/v1/layouts", content=body, headers={"content-type": "application/json"})
    assert "accepted is Unicode text" in answer.json()["errors"][0]["detail"]


HOSTILE = "<script>alert(1)</script>\"'&=1+1"


def test_hostile_names_are_inert_in_a_drawing(client: TestClient) -> None:
    building = changed("/walls/front/openings/0/name", HOSTILE) | {"name": HOSTILE}
    answer = client.post("/v1/elevations", json={"building": building, "wall": "front"})
    assert answer.status_code == 200
    assert "<script" not in answer.text


def test_a_hostile_name_in_a_problem_is_only_text(client: TestClient) -> None:
    answer = client.post("/v1/elevations", json={"building": PLAIN, "wall": HOSTILE})
    assert answer.text.isascii()
    problem(answer, "unbuildable")
    assert answer.headers["x-content-type-options"] == "nosniff"
