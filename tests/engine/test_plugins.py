"""Faulty plugins: each ends in a message that names plugin and rule, and nothing wrong is drawn."""

from __future__ import annotations

import textwrap
from importlib.metadata import version
from pathlib import Path

import pytest

from soleplate.engine.building_file import SchemaError
from soleplate.engine.laying_out import lay_out
from soleplate.engine.registry import PluginLoadError, RuleError, load_registry
from soleplate.engine.registry.errors import PluginClashError
from tests.buildings import building

HEAD = """
from collections.abc import Sequence
from typing import Literal
from soleplate.engine.rules import hookimpl
from soleplate.engine.rules import StudRule, Run
"""
RULE = """
class Odd(StudRule):
    '''Studs in odd places.'''
    rule: Literal["odd"] = "odd"
    examples = ({{'rule': 'odd'}},)
    def place_studs(self, run: Run) -> Sequence[float]:
        {body}

@hookimpl
def register_rules():
    return [Odd]
"""
VALUE = building(defaults={"studs": {"rule": "odd"}})


def plugin(folder: Path, text: str) -> list[Path]:
    path = folder / "odd_plugin.py"
    path.write_text(HEAD + textwrap.dedent(text))
    return [path]


def with_body(folder: Path, body: str) -> list[Path]:
    return plugin(folder, RULE.format(body=body))


def test_a_rule_in_one_file_is_used_by_its_name(tmp_path: Path) -> None:
    registry = load_registry(files=with_body(tmp_path, "return [run.left + 300.0]"))
    layout = lay_out(registry.read_building(VALUE), registry)
    assert layout.walls[0].rules["studs"] == "odd"
    assert [mark.at for mark in layout.walls[0].marks["sole plate"]] == [0.0, 345.0, 4455.0]


@pytest.mark.parametrize(
    ("body", "words"),
    [
        ("raise KeyError('x')", "KeyError"),
        ("return 7", "returned one int; a list of them is needed"),
        ("return '70'", "returned one str; a list of them is needed"),
        ("return [run.left + 100, run.left + 110]", "overlap"),
        ("return [float('nan')]", "not a number"),
        ("return [run.right + 500.0]", "outside the run"),
    ],
)
def test_a_rule_that_fails_is_named(tmp_path: Path, body: str, words: str) -> None:
    registry = load_registry(files=with_body(tmp_path, body))
    with pytest.raises(RuleError, match=words) as raised:
        lay_out(registry.read_building(VALUE), registry)
    assert str(raised.value).startswith("plugin odd_plugin: rule odd in wall front: ")


def test_a_stud_over_the_end_of_its_run_is_left_out(tmp_path: Path) -> None:
    registry = load_registry(files=with_body(tmp_path, "return [run.left - 5.0, run.right - 40.0]"))
    layout = lay_out(registry.read_building(VALUE), registry)
    assert [mark.at for mark in layout.walls[0].marks["sole plate"]] == [0.0, 4455.0]


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("1 / 0", "ZeroDivisionError.*--without odd_plugin"),
        ("x = 1", "no hook"),
        ("@hookimpl\ndef register_rules(): return [int]", "not a class derived from Rule"),
        (
            "@hookimpl\ndef register_rules(): raise OSError('x')",
            "register_rules failed: OSError: x",
        ),
        ("@hookimpl\ndef register_roofs(): return []", "does not exist"),
        (
            "class A(StudRule):\n    '''A.'''\n@hookimpl\ndef register_rules(): return [A]",
            "lacks place_studs",
        ),
        (RULE.format(body="return []").replace("'''Studs in odd places.'''", ""), "no docstring"),
        (RULE.format(body="return []").replace("    examples = ({'rule': 'odd'},)\n", ""), "no `examples`"),
        (RULE.format(body="return []").replace('"odd"', '"Odd Rule"'), "kebab-case"),
        (
            RULE.format(body="return []").replace("    examples", "    size: float = 1.0\n    examples"),
            "not described",
        ),
    ],
)
def test_a_half_made_plugin_stops_the_start(tmp_path: Path, text: str, words: str) -> None:
    with pytest.raises(PluginLoadError, match=words) as raised:
        load_registry(files=plugin(tmp_path, text))
    assert raised.value.plugin == "odd_plugin"


def test_a_name_that_is_taken(tmp_path: Path) -> None:
    text = RULE.format(body="return []").replace("odd", "equal-bays")
    files = plugin(tmp_path, text)
    shipped = version("soleplate")
    with pytest.raises(PluginClashError) as raised:
        load_registry(files=files)
    assert str(raised.value) == (
        f"plugin odd_plugin: the rule name 'equal-bays' is taken by plugin studs {shipped}; choose another"
        " name; mend it, or leave it out (--without odd_plugin)"
    )
    registry = load_registry(files=files, keep_going=True)
    assert [each.name for each in registry.plugins if each.problem] == ["odd_plugin"]
    assert "equal-bays" in {rule.name for rule in registry.of_family("stud_rules")}


def test_classes_of_two_plugins_may_have_one_name(tmp_path: Path) -> None:
    """Each is told apart by its rule's name, in the schema and in a building that uses both."""
    text = RULE.format(body="return []")
    files = [tmp_path / "even.py", tmp_path / "odd.py"]
    files[0].write_text(HEAD + text.replace('"odd"', '"even"').replace("'odd'", "'even'"))
    files[1].write_text(HEAD + text)
    registry = load_registry(files=files)
    assert len({rule.model.__name__ for rule in registry.rules if rule.name in ("even", "odd")}) == 1
    value = building(defaults={"studs": {"rule": "even"}}, walls={"front": {"studs": {"rule": "odd"}}})
    layout = lay_out(registry.read_building(value), registry)
    assert {wall.name: wall.rules["studs"] for wall in layout.walls}["front"] == "odd"
    assert {wall.name: wall.rules["studs"] for wall in layout.walls}["back"] == "even"
    picked = [
        schema["properties"]["rule"]["const"]
        for schema in registry.building_schema()["$defs"].values()
        if "rule" in schema.get("properties", {})
    ]
    assert {"even", "odd"} <= set(picked)


def test_going_on_without_a_broken_plugin(tmp_path: Path) -> None:
    registry = load_registry(files=plugin(tmp_path, "1 / 0"), keep_going=True)
    broken = [each for each in registry.plugins if each.problem]
    assert [each.name for each in broken] == ["odd_plugin"]
    with pytest.raises(SchemaError, match="equal-bays"):
        registry.read_building(VALUE)


def test_leaving_out_what_is_not_there() -> None:
    with pytest.raises(PluginLoadError, match=r"plugin stud: is not there.*studs"):
        load_registry(blocked=["stud"])


def test_a_file_that_is_not_there(tmp_path: Path) -> None:
    with pytest.raises(PluginLoadError, match="not a Python file"):
        load_registry(files=[tmp_path / "none.py"])
