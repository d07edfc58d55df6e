"""What the README files and DEVELOPERS.md say is true: commands, examples and links."""

from __future__ import annotations

import json
import re
from pathlib import Path
from typing import Any

import pytest
from starlette.testclient import TestClient

from tests.serving import run

ROOT = Path(__file__).parents[2]
README = (ROOT / "README.md").read_text(encoding="utf-8")
DEVELOPERS = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")


def blocks(text: str, language: str) -> list[str]:
    return re.findall(rf"```{language}\n(.*?)```", text, re.DOTALL)


def test_the_checks_end_with_the_test_command() -> None:
    last = (ROOT / ".ci" / "run").read_text().strip().splitlines()[-1]
    assert last.endswith("-m pytest")
    assert f"    {last}\n" in README


def test_every_command_is_listed() -> None:
    listed = set(re.findall(r"^    soleplate ([a-z-]+)", README, re.MULTILINE))
    assert listed == set(re.findall(r"^  ([a-z][a-z-]*)  ", run("--help").stdout, re.MULTILINE))


def test_the_building_file_is_laid_out(client: TestClient) -> None:
    (building,) = blocks(README, "json")
    answer = client.post("/v1/layouts", json=json.loads(building))
    assert answer.status_code == 200
    assert answer.json()["walls"][0]["openings"][0]["name"] == "door"


def test_the_call_with_curl_is_answered(client: TestClient) -> None:
    (command,) = blocks(README, "sh")
    body: Any = re.search(r"-d '(.*)'", command, re.DOTALL)
    path: Any = re.search(r"http://127\.0\.0\.1:8017(\S+)", command)
    assert client.post(path[1], json=json.loads(body[1])).status_code == 200


@pytest.mark.parametrize("name", ["README.md", "DEVELOPERS.md", "CHANGELOG.md", "api/README.md"])
def test_links_lead_somewhere(name: str) -> None:
    links = re.findall(r"\]\(([^)#]+)\)", (ROOT / name).read_text(encoding="utf-8"))
    assert links
    for link in links:
        assert link.startswith("https://") or (ROOT / name).parent.joinpath(link).exists(), link
