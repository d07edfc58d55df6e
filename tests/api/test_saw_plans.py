"""Saw plans and variants over HTTP and on the command line."""

from __future__ import annotations

import copy
import json
import subprocess
import sysconfig
from pathlib import Path
from typing import Any

import pytest
from jsonschema import Draft202012Validator
from starlette.testclient import TestClient

from soleplate.api.work.messages import EXAMPLE_BUILDING, EXAMPLE_SAW_PLAN, EXAMPLE_STOCK, EXAMPLE_WHAT_IF
from soleplate.engine.sawing import SawPlan, check_plan, read_request
from tests.api.test_bad_requests import problem

COMMAND = Path(sysconfig.get_path("scripts")) / "soleplate"


def changed(**changes: Any) -> dict[str, Any]:
    return copy.deepcopy(EXAMPLE_SAW_PLAN) | changes


def parts(**changes: Any) -> dict[str, Any]:
    """The example with its first part changed."""
    value = changed()
    value["parts"][0] |= changes
    return value


def stock(**changes: Any) -> dict[str, Any]:
    """The example with its stock changed."""
    value = changed()
    value["stock"][0] |= changes
    return value


def test_a_plan_is_sound_and_the_same_every_time(client: TestClient) -> None:
    answer = client.post("/v1/saw-plans", json=EXAMPLE_SAW_PLAN)
    assert answer.status_code == 200
    plan = SawPlan.model_validate_json(answer.content)
    check_plan(read_request(EXAMPLE_SAW_PLAN), plan)
    assert plan.proven
    assert client.post("/v1/saw-plans", json=EXAMPLE_SAW_PLAN).content == answer.content


def test_an_answer_without_sections_or_materials_is_as_described(client: TestClient) -> None:
    request = {"parts": [{"name": "P1", "length": 900}], "stock": [{"lengths": [{"length": 2400}]}]}
    document = client.get("/openapi.json").json()
    plan = client.post("/v1/saw-plans", json={**request, "objective": "lengths"}).json()
    assert "material" not in plan["lengths"][0]
    Draft202012Validator({**document, "$ref": "#/components/schemas/SawPlan"}).validate(plan)


def test_no_time_gives_a_plan_that_is_not_proven(client: TestClient) -> None:
    request = changed(time_budget_s=0)
    plan = SawPlan.model_validate_json(client.post("/v1/saw-plans", json=request).content)
    check_plan(read_request(request), plan)
    assert not plan.proven


@pytest.mark.parametrize(
    ("request_", "kind", "pointer", "words"),
    [
        (parts(length=9000), "unbuildable", "/parts/0", "P1"),
        (parts(length=0), "schema", "/parts/0/length", "P1"),
        (parts(length=-5), "schema", "/parts/0/length", "45 x 70 C16"),
        (parts(count=10_000), "schema", "/parts/0/count", "P1"),
        (parts(section=[38, 63]), "unbuildable", "/parts/0", "38 x 63"),
        (parts(length=2), "unbuildable", "/", "kerf"),
        (
            stock(lengths=[{"length": 2400, "price": 0}]),
            "schema",
            "/stock/0/lengths/0/price",
            "at least 0.01",
        ),
        (stock(lengths=[{"length": 2400}]), "unbuildable", "/stock/0/lengths/0", "price"),
        (changed(parts=7), "schema", "/parts", "accepted is a list"),
        (changed(parts=[]), "schema", "/parts", "at least 1"),
        (changed(kerf=-1), "schema", "/kerf", "at least 0"),
    ],
)
def test_a_bad_request(client: TestClient, request_: Any, kind: str, pointer: str, words: str) -> None:
    held = problem(client.post("/v1/saw-plans", json=request_), kind)
    assert held["errors"][0]["pointer"].startswith(pointer)
    assert words in held["errors"][0]["detail"]


def test_a_layout_has_its_plan_where_the_building_lists_stock(client: TestClient) -> None:
    with_stock = client.post("/v1/layouts", json=EXAMPLE_BUILDING | {"stock": EXAMPLE_STOCK}).json()
    cut = sorted(cut["mark"] for length in with_stock["saw_plan"]["lengths"] for cut in length["cuts"])
    assert cut == sorted(piece["mark"] for wall in with_stock["walls"] for piece in wall["pieces"])
    assert "saw_plan" not in client.post("/v1/layouts", json=EXAMPLE_BUILDING).json()


def test_variants(client: TestClient) -> None:
    answer = client.post("/v1/what-if", json=EXAMPLE_WHAT_IF).json()
    assert answer["as_drawn"]["cost"] > 0
    assert [variant["change"] for variant in answer["sizes"]] == [-50.0, 50.0, -50.0, 50.0]


def test_faults_of_the_building_in_a_question_have_their_place(client: TestClient) -> None:
    problem = client.post("/v1/what-if", json={"building": EXAMPLE_BUILDING}).json()
    assert problem["errors"][0]["pointer"] == "/building/stock/stock"


def run(*arguments: str) -> subprocess.CompletedProcess[str]:
    return subprocess.run([COMMAND, *arguments], capture_output=True, text=True, check=False)


def test_the_command_prints_the_plan(tmp_path: Path) -> None:
    file = tmp_path / "request.json"
    file.write_text(json.dumps(EXAMPLE_SAW_PLAN))
    done = run("saw-plan", str(file))
    assert (done.returncode, done.stderr) == (0, "")
    assert "proven best: no plan has less cost" in done.stdout
    assert "1873.0 to   3743.0    1870.0 mm  P1" in done.stdout
    plan = SawPlan.model_validate_json(run("saw-plan", str(file), "--json").stdout)
    check_plan(read_request(EXAMPLE_SAW_PLAN), plan)


def test_the_command_says_what_is_wrong(tmp_path: Path) -> None:
    file = tmp_path / "request.json"
    file.write_text(json.dumps(parts(length=9000)))
    done = run("saw-plan", str(file))
    assert (done.returncode, done.stdout) == (2, "")
    assert f"{file}: /parts/0" in done.stderr


def test_the_command_compares_variants(tmp_path: Path) -> None:
    file = tmp_path / "building.json"
    file.write_text(json.dumps(EXAMPLE_BUILDING | {"stock": EXAMPLE_STOCK}))
    done = run("what-if", str(file), "--length", "50", "--width", "0", "--height", "0")
    assert done.returncode == 0, done.stderr
    assert "length 50 mm less" in done.stdout


def test_the_example_request_is_planned() -> None:
    file = Path(__file__).parents[2] / "examples" / "requests" / "saw_plan.json"
    done = run("saw-plan", str(file), "--json")
    assert (done.returncode, done.stderr) == (0, "")
    plan = SawPlan.model_validate_json(done.stdout)
    assert check_plan(read_request(json.loads(file.read_text())), plan) == []
    assert plan.proven
    assert sum(len(length.cuts) for length in plan.lengths) == 8 + 2 + 7


def test_a_folder_with_a_plan_is_replaced_by_one_without(tmp_path: Path) -> None:
    file, folder = tmp_path / "building.json", tmp_path / "out"
    for stock, there in ((EXAMPLE_STOCK, True), (None, False), (EXAMPLE_STOCK, True)):
        file.write_text(json.dumps(EXAMPLE_BUILDING | ({"stock": stock} if stock else {})))
        done = run("layout", str(file), "--out", str(folder))
        assert done.returncode == 0, done.stderr
        for name in ("saw-plan.svg", "saw-plan.csv"):
            assert (folder / name).exists() is there
