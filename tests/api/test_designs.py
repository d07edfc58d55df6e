"""Kept designs, as another program keeps, reads, changes and deletes them."""

from __future__ import annotations

import json
from collections.abc import Iterator
from typing import Any
from xml.etree import ElementTree

import pytest
from starlette.testclient import TestClient

from soleplate.api.app import create_app
from soleplate.api.guard.security import Access
from soleplate.api.http.refusals import OverCapacity
from soleplate.api.store.place import Place
from soleplate.api.work.jobs import Job
from soleplate.api.work.workshop import Workshop
from soleplate.engine.registry import load_registry
from tests.api.test_bad_requests import JSON, problem
from tests.buildings import PLAIN, building, registry
from tests.serving import BASE

NOWHERE = "0" * 32
UNBUILDABLE = building(roof=PLAIN["roof"] | {"high_height": 3000})
TEXT = json.dumps(building(name="Caf\u00e9 \u2713"), indent=3, ensure_ascii=False).replace("\n", "\r\n")


@pytest.fixture
def kept(place: Place) -> Iterator[TestClient]:
    with TestClient(create_app(registry(), designs=place), base_url=BASE) as client:
        yield client


def added(client: TestClient, **changes: Any) -> str:
    """The address of a design that was kept just now."""
    answer = client.post("/v1/designs", json=building(**changes))
    assert answer.status_code == 201, answer.text
    return answer.headers["location"]


def test_a_design_comes_back_to_the_letter(kept: TestClient) -> None:
    answer = kept.post("/v1/designs", content=TEXT.encode(), headers=JSON)
    assert (answer.status_code, answer.headers["etag"]) == (201, '"1"')
    said = answer.json()
    assert (said["name"], said["revision"], said["faults"]) == ("Caf\u00e9 \u2713", 1, [])
    assert answer.headers["location"] == f"/v1/designs/{said['id']}"
    got = kept.get(answer.headers["location"])
    assert (got.status_code, got.headers["etag"]) == (200, '"1"')
    assert got.text.endswith(f'"building":{TEXT}}}')
    assert got.json()["building"] == json.loads(TEXT)


def test_revisions(kept: TestClient) -> None:
    address = added(kept, name="First")
    for number in range(1, 4):
        answer = kept.put(address, json=building(name=f"R{number + 1}"), headers={"if-match": f'"{number}"'})
        assert (answer.status_code, answer.headers["etag"]) == (200, f'"{number + 1}"')
    page = kept.get(f"{address}/revisions?limit=3").json()
    assert [(row["revision"], row["name"]) for row in page["revisions"]] == [(4, "R4"), (3, "R3"), (2, "R2")]
    last = kept.get(f"{address}/revisions?limit=3&after={page['next']}").json()
    assert [row["revision"] for row in last["revisions"]] == [1]
    assert "next" not in last
    second = kept.get(f"{address}/revisions/2")
    assert (second.json()["name"], second.json()["revision"], second.headers["etag"]) == ("R2", 2, '"2"')
    problem(kept.get(f"{address}/revisions/5"), "not-found")


def test_what_is_sent_again_with_its_key_is_kept_once(kept: TestClient) -> None:
    headers = JSON | {"idempotency-key": '"8e03978e"'}
    first, again = (kept.post("/v1/designs", content=TEXT.encode(), headers=headers) for _ in range(2))
    assert (again.status_code, again.content) == (first.status_code, first.content)
    assert [again.headers[name] for name in ("location", "etag")] == [
        first.headers[name] for name in ("location", "etag")
    ]
    problem(kept.post("/v1/designs", json=PLAIN, headers=headers), "key-reused")
    assert len(kept.get("/v1/designs").json()["designs"]) == 1


@pytest.mark.parametrize(
    "key", ["8e03978e", '""', '"a"b"', '"a\\\\b"', '"' + "a" * 201 + '"', '"caf\u00e9"', ""]
)
def test_a_key_that_is_no_text(kept: TestClient, key: str) -> None:
    headers = JSON | {"idempotency-key": key.encode("latin-1")}
    held = problem(kept.post("/v1/designs", content=TEXT.encode(), headers=headers), "parameter")
    assert "Idempotency-Key" in held["detail"]


def test_nobody_overwrites_unseen(kept: TestClient) -> None:
    address = added(kept)
    assert kept.put(address, json=PLAIN, headers={"if-match": '"1"'}).status_code == 200
    for call in (
        kept.put(address, json=PLAIN, headers={"if-match": '"1"'}),
        kept.delete(address, headers={"if-match": '"1"'}),
    ):
        held = problem(call, "moved-on")
        assert "revision 2" in held["detail"]
        assert call.headers["etag"] == '"2"'
    problem(kept.put(address, json=PLAIN), "no-if-match")
    problem(kept.delete(address), "no-if-match")
    assert kept.get(address).json()["revision"] == 2


@pytest.mark.parametrize(
    ("header", "status"),
    [
        ('"1"', 200),
        ('"9", "1"', 200),
        ("*", 200),
        ('W/"1"', 412),
        ('"9"', 412),
        ('"x"', 412),
        ('""', 412),
        ("1", 400),
        ('"1" "2"', 400),
        ("", 400),
    ],
)
def test_if_match(client: TestClient, header: str, status: int) -> None:
    address = added(client)
    answer = client.put(address, json=PLAIN, headers={"if-match": header})
    assert answer.status_code == status, answer.text


def test_a_deletion_is_undone(kept: TestClient) -> None:
    address = added(kept)
    before = kept.get(address)
    gone = kept.delete(address, headers={"if-match": '"1"'})
    assert gone.status_code == 200
    assert gone.json()["deleted"]
    for path in ("", "/layout", "/revisions", "/revisions/1", "/elevations/front.svg"):
        assert "restore" in problem(kept.get(address + path), "deleted")["detail"] or path
    problem(kept.put(address, json=PLAIN, headers={"if-match": '"1"'}), "deleted")
    problem(kept.delete(address, headers={"if-match": "*"}), "deleted")
    assert kept.get("/v1/designs").json() == {"designs": []}
    assert len(kept.get("/v1/designs?show=deleted").json()["designs"]) == 1
    for _ in range(2):
        back = kept.post(f"{address}/restore")
        assert (back.status_code, back.headers["etag"]) == (200, '"1"')
    assert kept.get(address).content == before.content


def test_pages(kept: TestClient) -> None:
    addresses = [added(kept, name=f"D{number}") for number in range(5)]
    found: list[str] = []
    after = ""
    while True:
        page = kept.get(f"/v1/designs?limit=2{after}").json()
        found += [row["id"] for row in page["designs"]]
        if "next" not in page:
            break
        after = f"&after={page['next']}"
    assert len(found) == 5
    assert {f"/v1/designs/{key}" for key in found} == set(addresses)


@pytest.mark.parametrize(
    ("query", "words"),
    [
        ("limit=0", "limit"),
        ("limit=101", "limit"),
        ("limit=x", "whole number"),
        ("limit=1_0", "whole number"),
        ("limit=+5", "whole number"),
        ("limit=", "whole number"),
        ("limit=1&limit=2", "twice"),
        ("after=x", "after"),
        ("show=none", "show"),
        ("paint=red", "accepted are limit, after, show"),
    ],
)
def test_a_faulty_query(client: TestClient, query: str, words: str) -> None:
    assert words in problem(client.get(f"/v1/designs?{query}"), "parameter")["detail"]


def test_what_is_not_there(client: TestClient) -> None:
    known = added(client)
    for path in (NOWHERE, "x", NOWHERE.upper(), "%00"):
        problem(client.get(f"/v1/designs/{path}"), "not-found")
        problem(client.post(f"/v1/designs/{path}/restore"), "not-found")
        problem(client.delete(f"/v1/designs/{path}", headers={"if-match": "*"}), "not-found")
        problem(client.put(f"/v1/designs/{path}", json=PLAIN, headers={"if-match": "*"}), "not-found")
        problem(client.get(f"/v1/designs/{path}/layout"), "not-found")
    for number in ("0", "2", "-1", "x", "1.0", "9" * 30):
        problem(client.get(f"{known}/revisions/{number}"), "not-found")
    problem(client.get(f"/v1/designs?after={NOWHERE}"), "not-found")


def test_work_in_progress_is_kept_with_its_faults(client: TestClient) -> None:
    answer = client.post("/v1/designs", json=UNBUILDABLE)
    assert answer.status_code == 201
    (fault,) = answer.json()["faults"]
    assert fault["pointer"] == "/roof"
    address = answer.headers["location"]
    assert client.get(address).json()["building"] == UNBUILDABLE
    for path in ("layout", "elevations/front.svg"):
        held = problem(client.get(f"{address}/{path}"), "unbuildable-design")
        assert held["errors"] == [fault]
    mended = client.put(address, json=PLAIN, headers={"if-match": '"1"'})
    assert mended.json()["faults"] == []
    assert client.get(f"{address}/layout").status_code == 200


@pytest.mark.parametrize("method", ["post", "put"])
def test_what_breaks_the_schema_is_refused(client: TestClient, method: str) -> None:
    address = added(client) if method == "put" else "/v1/designs"
    headers = JSON | {"if-match": "*"}
    for body, name in ((b"{", "unreadable"), (b"[]", "schema"), (json.dumps(PLAIN | {"paint": 1}), "schema")):
        problem(client.request(method, address, content=body, headers=headers), name)
    problem(client.request(method, address, content=b"{}", headers={"if-match": "*"}), "media-type")
    problem(client.request(method, address, content=b" " * 2_000_000, headers=headers), "too-large")
    if method == "put":
        assert client.get(address).json()["revision"] == 1


def test_a_layout_is_that_of_the_building(client: TestClient) -> None:
    layout = client.get(f"{added(client)}/layout")
    assert (layout.status_code, layout.headers["content-type"]) == (200, "application/json")
    assert layout.json() == client.post("/v1/layouts", json=PLAIN).json()


def test_a_drawing_is_that_of_the_building(client: TestClient) -> None:
    address = added(client, outline=WALLS, roof={"form": "level", "height": 2400})
    drawing = client.get(f"{address}/elevations/a%2Fb.svg?layers=frame,marks&side=inside")
    assert (drawing.status_code, drawing.headers["content-type"]) == (200, "image/svg+xml")
    asked = {"layers": ["frame", "marks"], "side": "inside"}
    body = building(outline=WALLS, roof={"form": "level", "height": 2400})
    assert drawing.text == client.post("/v1/elevations", json={"building": body, "wall": "a/b", **asked}).text
    ElementTree.fromstring(drawing.text)
    held = problem(client.get(f"{address}/elevations/front.svg"), "not-found")
    assert "accepted are a/b" in held["detail"]
    for query in ("layers=paint", "side=above", "paint=1"):
        problem(client.get(f"{address}/elevations/a%2Fb.svg?{query}"), "parameter")


WALLS = {"walls": [{"name": "a/b", "length": 3000}]}


@pytest.mark.parametrize("path", ["layout", "elevations/front.svg"])
def test_what_is_made_is_not_sent_twice(client: TestClient, path: str) -> None:
    address = f"{added(client)}/{path}"
    plain = client.get(address, headers={"accept-encoding": "identity"})
    small = client.get(address, headers={"accept-encoding": "gzip"})
    assert "content-encoding" not in plain.headers
    assert small.headers["content-encoding"] == "gzip"
    assert small.content == plain.content
    assert int(small.headers["content-length"]) < len(plain.content) / 3
    assert plain.headers["vary"] == small.headers["vary"] == "Accept-Encoding"
    assert small.headers["etag"] == f"W/{plain.headers['etag']}"
    for tag in (plain.headers["etag"], small.headers["etag"], '"x", ' + plain.headers["etag"]):
        known = client.get(address, headers={"if-none-match": tag})
        assert (known.status_code, known.content) == (304, b"")
    assert client.get(address, headers={"if-none-match": '"x"'}).status_code == 200


def test_a_tag_is_of_one_revision(client: TestClient) -> None:
    address = added(client)
    headers = {"if-none-match": '"1"', "accept-encoding": "gzip"}
    known = client.get(address, headers=headers)
    assert (known.status_code, known.content, known.headers["etag"]) == (304, b"", '"1"')
    before = client.get(f"{address}/layout").headers["etag"]
    client.put(address, json=building(name="Other"), headers={"if-match": '"1"'})
    # Strong, also for who takes it compressed: If-Match takes no other.
    assert client.get(address, headers=headers).headers["etag"] == '"2"'
    assert client.get(f"{address}/layout", headers={"if-none-match": before}).status_code == 200


@pytest.mark.parametrize(
    ("accept", "status"),
    [
        ("image/svg+xml", 200),
        ("image/*", 200),
        ("*/*", 200),
        ("text/html, */*;q=0.1", 200),
        ("image/png, image/svg+xml;q=0.5", 200),
        ("image/png", 406),
        ("image/*, image/svg+xml;q=0", 406),
        ("image/svg+xml;q=x", 406),
        ("application/json", 406),
    ],
)
def test_drawings_are_svg(client: TestClient, accept: str, status: int) -> None:
    drawing = client.get(f"{added(client)}/elevations/front.svg", headers={"accept": accept})
    sent = client.post(
        "/v1/elevations", json={"building": PLAIN, "wall": "front"}, headers={"accept": accept}
    )
    assert (drawing.status_code, sent.status_code) == (status, status)
    if status == 406:
        assert "image/svg+xml" in problem(drawing, "not-acceptable")["detail"]


def test_a_design_outlives_the_plugin_that_it_was_made_for(place: Place) -> None:
    value = building(defaults={"studs": {"rule": "equal-bays"}, "noggins": {"rule": "staggered", "rows": 1}})
    with TestClient(create_app(registry(), designs=place), base_url=BASE) as client:
        address = client.post("/v1/designs", json=value).headers["location"]
        assert client.get(f"{address}/layout").status_code == 200
    without = create_app(load_registry(blocked=["noggins"]), designs=place)
    with TestClient(without, base_url=BASE) as client:
        assert client.get(address).json()["building"] == value
        for path in ("layout", "elevations/front.svg"):
            held = problem(client.get(f"{address}/{path}"), "missing-rules")
            assert held["errors"][0]["pointer"].startswith("/defaults/noggins")
        assert address.rpartition("/")[2] in client.get("/v1/archive").text
        assert client.put(address, json=PLAIN, headers={"if-match": '"1"'}).status_code == 200
        assert client.get(f"{address}/layout").status_code == 200


LINES = {"content-type": "application/jsonl"}


def test_all_designs_move_to_another_server(kept: TestClient, tmp_path: Any) -> None:
    first, second = added(kept, name="A"), added(kept, name="B")
    kept.put(first, json=building(name="A2"), headers={"if-match": '"1"'})
    kept.delete(second, headers={"if-match": '"1"'})
    archive = kept.get("/v1/archive")
    assert archive.headers["content-type"] == "application/jsonl"
    assert "designs.jsonl" in archive.headers["content-disposition"]
    elsewhere = create_app(registry(), designs=Place(str(tmp_path / "elsewhere.sqlite")))
    with TestClient(elsewhere, base_url=BASE) as other:
        assert other.post("/v1/archive", content=archive.content, headers=LINES).json() == {
            "added": 2,
            "unchanged": 0,
        }
        assert other.get(first).content == kept.get(first).content
        assert other.get("/v1/designs?show=all").json() == kept.get("/v1/designs?show=all").json()
        assert other.get("/v1/archive").content == archive.content
        assert other.post("/v1/archive", content=archive.content, headers=LINES).json() == {
            "added": 0,
            "unchanged": 2,
        }
        other.put(first, json=building(name="A3"), headers={"if-match": '"2"'})
        kept.put(first, json=building(name="A4"), headers={"if-match": '"2"'})
        before = other.get("/v1/archive").content
        newer = kept.get("/v1/archive").content
        held = problem(other.post("/v1/archive", content=newer, headers=LINES), "archive-clash")
        assert first.rpartition("/")[2] in held["errors"][0]["detail"]
        assert other.get("/v1/archive").content == before


def test_a_faulty_archive(client: TestClient) -> None:
    before = client.get("/v1/archive").content
    whole = before.splitlines(keepends=True)
    cut = client.post("/v1/archive", content=b"".join(whole[:-1]), headers=LINES)
    assert "cut off" in problem(cut, "archive")["errors"][0]["detail"]
    problem(client.post("/v1/archive", content=b"x" * 7_000_000, headers=LINES), "archive")
    problem(client.post("/v1/archive", content=before, headers=JSON), "media-type")
    assert client.get("/v1/archive").content == before


def test_a_server_without_a_place_for_designs() -> None:
    with TestClient(create_app(registry()), base_url=BASE) as client:
        for answer in (
            client.get("/v1/designs"),
            client.post("/v1/designs", json=PLAIN),
            client.get("/v1/archive"),
        ):
            assert "keeps no designs" in problem(answer, "designs-unavailable")["detail"]


def test_off_loopback_changing_and_listing_need_the_token(place: Place) -> None:
    app = create_app(registry(), access=Access("store.example", "sesame"), designs=place)
    token = {"authorization": "Bearer sesame"}
    with TestClient(app, base_url="http://store.example") as far:
        address = far.post("/v1/designs", json=PLAIN, headers=token).headers["location"]
        for method, path in (
            ("POST", "/v1/designs"),
            ("PUT", address),
            ("DELETE", address),
            ("POST", f"{address}/restore"),
            ("POST", "/v1/archive"),
            ("GET", "/v1/designs"),
            ("GET", "/v1/archive"),
            ("HEAD", "/v1/designs"),
        ):
            problem_or_empty = far.request(method, path, json=PLAIN, headers={"if-match": "*"})
            assert problem_or_empty.status_code == 401, (method, path)
        assert far.get("/v1/designs", headers=token).status_code == 200
        # Who was told the id may look.
        assert far.get(address).status_code == 200
        assert far.get(f"{address}/elevations/front.svg").status_code == 200


def test_whether_it_can_be_built_is_no_reason_not_to_keep_it(place: Place) -> None:
    class Full(Workshop):
        async def do(self, job: Job, request: Any) -> Any:
            raise OverCapacity("busy")

    app = create_app(registry(), designs=place, workshop=Full([], []))
    with TestClient(app, base_url=BASE) as client:
        answer = client.post("/v1/designs", json=UNBUILDABLE)
        assert answer.status_code == 201
        assert "faults" not in answer.json()


def test_nobody_waits_for_a_large_building_to_be_looked_into(client: TestClient) -> None:
    walls = [{"name": f"w{number}", "length": 20_000} for number in range(40)]
    large = building(outline={"walls": walls}, roof={"form": "level", "height": 2400})
    answer = client.post("/v1/designs", json=large)
    assert answer.status_code == 201
    assert "faults" not in answer.json()


def test_what_changed_between_two_revisions_is_told_piece_by_piece(client: TestClient) -> None:
    """Ten mm more of length is in the plates, and with equal bays it moves every stud but the first."""
    address = added(client, outline={"length": 4500, "width": 3000})
    client.put(address, json=building(outline={"length": 4510, "width": 3000}), headers={"if-match": '"1"'})
    answer = client.get(f"{address}/changes")
    assert answer.json() == client.get(f"{address}/changes?since=1&until=2").json()
    found = answer.json()
    assert (found["since"], found["until"]) == (1, 2)
    walls = {wall["wall"]: wall for wall in found["walls"]}
    assert set(walls) == {"front", "back"}
    assert {wall["what"] for wall in walls.values()} == {"kept"}
    plates = [change for change in walls["back"]["changes"] if change["what"] == "length"]
    assert {(change["before"], change["after"]) for change in plates} == {(4500.0, 4510.0)}
    assert plates[0]["display"].endswith(" 4510 mm long, 10.0 mm longer than in revision 1")
    places = [change for change in walls["back"]["changes"] if change["what"] == "place"]
    first = places[0]
    told = f"at {first['after']:.0f} mm, in revision 1 at {first['before']:.0f} mm"
    assert first["display"] == f"{first['mark']}, a stud: {told}"
    back = client.get(f"{address}/changes?since=2&until=1").json()
    assert back["walls"][0]["changes"][0]["after"] == 4500.0


def test_walls_that_came_and_went_are_told_whole(client: TestClient) -> None:
    one, two = ({"name": name, "length": 1800} for name in ("a", "b"))
    level = {"form": "level", "height": 2400}
    address = added(client, outline={"walls": [one]}, roof=level)
    client.put(address, json=building(outline={"walls": [two]}, roof=level), headers={"if-match": '"1"'})
    came, went = client.get(f"{address}/changes").json()["walls"]
    assert [(wall["wall"], wall["what"]) for wall in (came, went)] == [("b", "added"), ("a", "gone")]
    (layout,) = client.get(f"{address}/layout").json()["walls"]
    assert {change["mark"] for change in came["changes"]} == {piece["mark"] for piece in layout["pieces"]}
    assert {change["what"] for change in went["changes"]} == {"gone"}


def test_alike_revisions_have_no_changes(client: TestClient) -> None:
    address = added(client)
    assert client.get(f"{address}/changes").json() == {"since": 1, "until": 1, "walls": []}
    client.put(address, json=building(name="Other"), headers={"if-match": '"1"'})
    assert client.get(f"{address}/changes").json() == {"since": 1, "until": 2, "walls": []}
    tag = client.get(f"{address}/changes").headers["etag"]
    assert client.get(f"{address}/changes", headers={"if-none-match": tag}).status_code == 304


@pytest.mark.parametrize(
    ("query", "type_"),
    [("since=9", "not-found"), ("until=9", "not-found"), ("since=0", "parameter"), ("from=1", "parameter")],
)
def test_revisions_that_are_not_there_have_no_changes(client: TestClient, query: str, type_: str) -> None:
    problem(client.get(f"{added(client)}/changes?{query}"), type_)


def test_a_revision_that_cannot_be_built_is_named(client: TestClient) -> None:
    address = added(client)
    client.put(address, json=UNBUILDABLE, headers={"if-match": '"1"'})
    for query in ("", "?since=2&until=1"):
        held = problem(client.get(f"{address}/changes{query}"), "unbuildable-design")
        assert held["detail"].startswith("revision 2: ")
        assert held["errors"][0]["pointer"].startswith("/roof")
