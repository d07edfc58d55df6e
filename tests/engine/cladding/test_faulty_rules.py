"""Faulty cladding rules: each ends in a message that names plugin, rule and wall."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from soleplate.engine.building_file import SchemaError, UnbuildableError
from soleplate.engine.laying_out import lay_out
from soleplate.engine.registry import RuleError, load_registry
from tests.buildings import building, layout_of

PLUGIN = """
import math
from dataclasses import replace
from typing import Literal
from soleplate.engine.rules import Clad, CladdingRule, Course, Span, Strip
from soleplate.engine.rules import hookimpl
from soleplate.engine.rules import CannotFrame
from soleplate.engine.rules import Section

def strip(left, right, bottom, top, depth=(-20.0, 0.0), seen=None):
    whole = Span(left, right, bottom, top)
    return Strip("board", Section(20.0, 145.0), "softwood", whole, seen or whole, depth)

class Odd(CladdingRule):
    '''Odd cladding.'''
    rule: Literal["odd"] = "odd"
    examples = ({{'rule': 'odd'}},)

    @property
    def build_out(self):
        return 20.0

    def choose_courses(self, faces):
        {courses}

    def lay(self, face, courses):
        {body}

@hookimpl
def register_rules():
    return [Odd]
"""


def laid_out(folder: Path, body: str, courses: str = "return ()") -> Any:
    path = folder / "odd_plugin.py"
    path.write_text(PLUGIN.format(body=body, courses=courses))
    registry = load_registry(files=[path])
    return lay_out(registry.read_building(building(defaults={"cladding": {"rule": "odd"}})), registry)


def test_a_rule_in_one_file_is_used(tmp_path: Path) -> None:
    layout = laid_out(tmp_path, "return Clad((strip(face.left, face.right, 0.0, 145.0),))")
    assert all(wall.rules["cladding"] == "odd" for wall in layout.walls)
    assert all(any(piece.face == "outside" for piece in wall.pieces) for wall in layout.walls)


@pytest.mark.parametrize(
    ("body", "words"),
    [
        ("raise KeyError('x')", "KeyError"),
        ("return 7", "returned int where Clad belongs"),
        ("return Clad((7,))", r"a Clad whose strips\[0\] is 7, not Strip"),
        ("return Clad((strip(0.0, math.nan, 0.0, 100.0),))", "not a finite number"),
        ("return Clad((strip(0.0, 100.0, 50.0, 50.0),))", "no area"),
        ("return Clad((strip(0.0, 100.0, 0.0, 90.0, (-5.0, -5.0)),))", "no thickness"),
        (
            "return Clad((replace(strip(0.0, 100.0, 0.0, 90.0), solid=1.5),))",
            "solid by 1.5; accepted",
        ),
        ("return Clad((strip(face.left - 5, 100.0, 0.0, 90.0),))", "leaves the face"),
        ("return Clad((strip(0.0, 100.0, 0.0, 90.0, (-5.0, 5.0)),))", "outside the frame"),
        ("return Clad((strip(0.0, 100.0, 0.0, 90.0, (-25.0, 0.0)),))", "outside the frame"),
        ("return Clad((strip(0.0, 90.0, 0.0, 90.0, seen=Span(0.0, 90.0, 0.0, 95.0)),))", "does not reach"),
        ("return Clad((strip(0.0, 90.0, 0.0, 90.0), strip(50.0, 140.0, 50.0, 140.0)))", "covers a board"),
        ("return Clad(tuple(strip(0.0, 9.0, 9.0 * i, 9.0 * i + 8.0) for i in range(4000)))", "4000 strips"),
    ],
)
def test_a_rule_that_fails_is_named(tmp_path: Path, body: str, words: str) -> None:
    with pytest.raises(RuleError, match=words) as raised:
        laid_out(tmp_path, body)
    assert "odd_plugin" in str(raised.value)
    assert "rule odd in wall front" in str(raised.value)


def test_courses_that_are_none_are_named(tmp_path: Path) -> None:
    with pytest.raises(RuleError, match="returned int where Course belongs"):
        laid_out(tmp_path, "return Clad(())", "return [7]")


def test_what_cannot_be_clad_is_a_verdict_on_the_building(tmp_path: Path) -> None:
    with pytest.raises(UnbuildableError, match="too steep") as raised:
        laid_out(tmp_path, "raise CannotFrame('too steep')")
    assert raised.value.faults[0].pointer == "/defaults/cladding"


@pytest.mark.parametrize(
    ("cladding", "words"),
    [
        ({"rule": "rebated", "width": 120, "cover": 130}, "cover is 130 mm; accepted is up to the width"),
        ({"rule": "rebated", "cover": 130, "least_drop": 90}, "least_drop is 90 mm; accepted is up to"),
        ({"rule": "lapped", "exposure": 140}, "exposure is 140 mm; accepted is up to 125 mm"),
        ({"rule": "lapped", "width": 40}, "accepted is 20 mm and more"),
        ({"rule": "lapped", "exposure": 120, "greatest_exposure": 100}, "accepted is up to the greatest"),
        ({"rule": "lapped", "exposure": 70}, "exposure is 70 mm; accepted is 75 mm and more, half the width"),
        ({"rule": "rebated", "width": 145, "cover": 60}, "accepted is 72.5 mm and more, half the width"),
        ({"rule": "lapped", "narrowest_rip": 130}, "narrowest_rip is 130 mm; accepted is up to the greatest"),
        ({"rule": "rebated", "cover": 130, "narrowest_rip": 66}, "accepted is up to 65 mm, half"),
        (
            {"rule": "rebated", "cover": 130, "lengths": [900], "least_board": 1000},
            "least_board is 1000 mm; accepted is up to the longest of lengths, 900 mm",
        ),
        ({"rule": "lapped", "battens": {"section": [5, 5]}}, "accepted is 25 to 150 mm"),
        ({"rule": "lapped", "thin_edge": 40}, "thin_edge is 40 mm; accepted is up to 25 mm"),
        ({"rule": "board-on-board", "width": 60}, "accepted is 20 mm and more"),
        ({"rule": "board-and-batten", "cover_width": 50}, "accepted is 60 mm and more"),
        ({"rule": "board-and-batten", "width": 60}, "accepted is 110 mm and more"),
    ],
)
def test_parameters_that_contradict_each_other(cladding: dict[str, Any], words: str) -> None:
    with pytest.raises(UnbuildableError, match=words) as raised:
        layout_of(building(defaults={"cladding": cladding}))
    assert raised.value.faults[0].pointer.startswith("/defaults/cladding")


def test_too_many_courses() -> None:
    value = building(defaults={"cladding": {"rule": "rebated", "width": 20, "cover": 20}})
    value["roof"] = {"form": "level", "height": 9000}
    with pytest.raises(UnbuildableError, match="courses; accepted are up to 400"):
        layout_of(value)


def test_an_unknown_rule_lists_those_there_are() -> None:
    with pytest.raises(SchemaError, match="board-on-board"):
        layout_of(building(defaults={"cladding": {"rule": "thatch"}}))


def test_a_wall_that_is_not_there_has_no_room() -> None:
    with pytest.raises(UnbuildableError, match="there is no wall 'north'") as raised:
        layout_of(building(site={"room": {"north": 400}}))
    assert raised.value.faults[0].pointer == "/site/room/north"
