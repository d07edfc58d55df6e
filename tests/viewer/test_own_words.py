"""What people call things is told as they wrote it, in a building of inches too, wherever it is told."""

from __future__ import annotations

import json
import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any

from starlette.testclient import TestClient

from soleplate.api.app import create_app
from soleplate.engine import lay_out, load_registry
from soleplate.engine.buying import with_saw_plan
from soleplate.viewer.page import page_html
from soleplate.viewer.paper.options import SheetOptions
from soleplate.viewer.sheets.book import job_book
from tests.engine.test_figures import in_inches
from tests.serving import BASE

HUT, BENCH, LARCH, OAK = "hut 2400 mm", "bench 600 mm", "larch 45 x 70 mm", "oak 25 x 145 mm"
PACKS, SOURCE = "packs of 200, 5.0 x 90 mm", "sheet of the maker, 90 mm"
WRITTEN = (HUT, BENCH, LARCH, OAK, PACKS, SOURCE)

PLUGIN = f'''
from typing import Literal
from soleplate.engine.rules import (
    PRACTICE, CannotFrame, DrawingLayer, DrawnText, Finding, FindingKind, Mm, StudRule, hookimpl,
)

NEAR = FindingKind("near", "note", "{SOURCE}", "{{said}} at {{place}}")


class Own(StudRule):
    "Refuses."
    rule: Literal["own"] = "own"
    examples = ({{"rule": "own"}},)

    def place_studs(self, run):
        raise CannotFrame("needs {PACKS}")


class Words(DrawingLayer):
    "A text."
    name = "own"

    def draw(self, wall, layout):
        return [DrawnText((100.0, 100.0), "{PACKS}")]


@hookimpl
def check_layout(layout):
    "Tell in plain words, and with a figure beside them."
    plain = Finding(level="note", code="plain", message="{PACKS}", basis="{SOURCE}", part="front")
    return [plain, NEAR.of(said="{PACKS}", place=Mm(254.0))]


@hookimpl
def register_rules(): return [Own]


@hookimpl
def register_finding_kinds(): return [NEAR]


@hookimpl
def register_drawing_layers(): return [Words]
'''

WINDOW = {
    "name": BENCH, "kind": "window", "width": 40, "height": 20, "sill": 35, "at": {"left": 30},
}  # fmt: skip


def building(**changes: Any) -> dict[str, Any]:
    timber = {"section": ["45 mm", "70 mm"], "material": LARCH}
    return (
        in_inches(
            name=HUT,
            frame=timber,
            walls={"front": {"openings": [WINDOW]}},
            defaults={"cladding": {"rule": "lapped", "material": OAK}},
            stock={"stock": [timber | {"lengths": [{"length": "4.8 m", "price": 3}]}], "time_budget_s": 0},
        )
        | changes
    )


def told(folder: Path) -> Iterator[tuple[str, str, set[str]]]:
    """Each face of the building, what it says, and what it has to say of `WRITTEN`."""
    file = folder / "own.py"
    file.write_text(PLUGIN)
    installed = load_registry(files=[file])
    client = TestClient(create_app(installed), base_url=BASE)

    def said(path: str, body: object) -> str:
        return client.post(path, json=body).text

    request = {"building": building(), "wall": "front"}
    yield "layout", said("/v1/layouts", building()), set(WRITTEN)
    yield "elevation", said("/v1/elevations", request), {BENCH, PACKS}
    yield "board", said("/v1/boards", request | {"saw_plan": True}), {HUT, BENCH, LARCH, OAK, PACKS}
    yield "cutting list", said("/v1/exports/cutting-list", building()), {LARCH, OAK}
    yield "buying list", said("/v1/exports/buying-list", building()), {LARCH, OAK}
    yield "saw plan", said("/v1/exports/saw-plan", building()), {LARCH}
    twice = {"front": {"openings": [WINDOW, WINDOW | {"at": {"left": 90}}]}}
    yield "fault of a name", said("/v1/layouts", building(walls=twice)), {BENCH}
    refusing = building(defaults={"studs": {"rule": "own"}})
    yield "fault of a rule", said("/v1/layouts", refusing), {PACKS}
    asked = installed.read_building(building())
    layout = with_saw_plan(lay_out(asked, installed), asked)
    yield "page", page_html(layout, files=""), {HUT, BENCH, LARCH, OAK, PACKS, SOURCE}
    sheets = json.dumps(job_book(layout, SheetOptions()), default=str, ensure_ascii=False)
    yield "sheets", sheets, {HUT, BENCH, LARCH, OAK, PACKS}


def changed(text: str) -> list[str]:
    """Places where the first word of something is not followed by the rest, or by an ellipsis in it."""
    starts = {HUT: "hut ", BENCH: "bench (?=[0-9])", LARCH: "larch ", OAK: "oak ", PACKS: "packs of "}
    found: list[str] = []
    for written, start in starts.items():
        for match in re.finditer(rf"\b{start}", text):
            said = text[match.start() : match.start() + len(written)]
            kept, cut, _ = said.partition("\N{HORIZONTAL ELLIPSIS}")
            if said != written and not (cut and written.startswith(kept)):
                found.append(said)
    return found


def test_what_somebody_wrote_is_told_as_it_was_written(tmp_path: Path) -> None:
    for face, text, expected in told(tmp_path):
        assert {written for written in expected if written not in text} == set(), face
        assert changed(text) == [], face


def test_a_figure_beside_it_is_told_in_the_buildings_unit(tmp_path: Path) -> None:
    _, layout, _ = next(told(tmp_path))
    assert f"{PACKS} at 10 in" in layout


def test_words_turned_into_inches_would_be_seen() -> None:
    assert changed("a bench 1 ft 11 5/8 in wide") == ["bench 1 ft 1"]
    assert changed(
        "a bench 600 mm wide, or bench 6\N{HORIZONTAL ELLIPSIS}, or bench 7\N{HORIZONTAL ELLIPSIS} of it"
    ) == ["bench 7\N{HORIZONTAL ELLIPSIS} of "]
