"""The references are what the code says, and every hook is described and exercised."""

from __future__ import annotations

import inspect
import re
import string
from dataclasses import fields
from functools import lru_cache
from importlib.metadata import version
from pathlib import Path

import pytest

from soleplate.api.document.hook_reference import hook_functions
from soleplate.api.references import DRAWINGS, FINDINGS, HOOKS, RULES, cases, main, references, shipped
from soleplate.engine.finding_kinds import finding_kinds
from soleplate.engine.laying_out import lay_out
from soleplate.engine.registry import Registry, load_registry
from soleplate.engine.rules import Role, families
from tests.buildings import honey_house
from tests.example_package import AS_ONE_FILE

ROOT = Path(__file__).parents[2]
PATHS = sorted({HOOKS, RULES, FINDINGS} | {f"{DRAWINGS}/{path.name}" for path in (ROOT / DRAWINGS).iterdir()})
SECTIONS = ("Called", "Order", "Failure", "Since")


@lru_cache(maxsize=1)
def ours() -> Registry:
    return shipped()


@lru_cache(maxsize=1)
def written() -> dict[str, str]:
    """The references as the code has them now; worked out where they are first asked for."""
    return references(ours())


@pytest.mark.parametrize("path", PATHS)
def test_a_reference_is_current(path: str) -> None:
    """Write them again with `python -m soleplate.api.references`."""
    assert (ROOT / path).read_text(encoding="utf-8") == written()[path]


def test_none_is_left_over_or_out() -> None:
    assert set(PATHS) == written().keys()


def test_the_references_are_written(tmp_path: Path) -> None:
    for folder in ("engine", "plugins"):
        (tmp_path / folder).mkdir()
    assert main([str(tmp_path)]) == 0
    assert (tmp_path / HOOKS).read_text() == written()[HOOKS]
    assert main([str(tmp_path / "engine")]) == 2


@pytest.mark.parametrize("name", sorted(hook_functions()))
def test_a_hook_is_described(name: str) -> None:
    """What it returns with an example, when it is called, in which order, how it fails, since when."""
    text = inspect.getdoc(hook_functions()[name]) or ""
    assert re.search(r"Returns:\n    .*for example `", text, re.DOTALL)
    found = re.findall(rf"^({'|'.join(SECTIONS)}):", text, re.MULTILINE)
    assert tuple(found) == SECTIONS
    since = re.search(r"Since: (\d+)\.(\d+)\.", text)
    assert since is not None
    assert tuple(map(int, since.groups())) <= tuple(map(int, version("soleplate").split(".")[:2]))
    assert f"## {name}\n" in written()[HOOKS]


def test_every_family_is_told_with_its_base_class() -> None:
    for family in families.FAMILIES:
        assert f"### {family.base.__name__}\n" in written()[HOOKS]


def test_the_guide_tells_where_each_family_is_picked() -> None:
    guide = (Path(__file__).parents[2] / "plugins" / "GUIDE.md").read_text(encoding="utf-8")
    for family in families.FAMILIES:
        (row,) = re.findall(
            rf"^\| .* \| `{family.base.__name__}` \| `register_rules` \| (.*) \|$", guide, re.MULTILINE
        )
        assert {pick.member for pick in family.picks} == set(re.findall(r"`(\w+)`", row))


def test_what_a_field_means_is_told_beside_it() -> None:
    told = written()[HOOKS].split("### Role\n")[1].split("###")[0]
    for field in fields(Role):
        assert re.search(rf"^- `{field.name}: [^`]+`: \w", told, re.MULTILINE), field.name


def test_every_code_is_raised_by_a_case() -> None:
    """A kind that no case brings about is one that nobody sees; a code that is no kind is not catalogued."""
    raised = {(each.code, each.level) for layout in cases(ours()) for each in layout.findings}
    codes = {kind.code for _, kind in finding_kinds(ours())}
    assert {code for code, _ in raised} == codes


def test_every_kind_says_what_its_case_needs() -> None:
    for _, kind in finding_kinds(ours()):
        places = {name for _, name, _, _ in string.Formatter().parse(kind.sentence) if name}
        assert "memory" not in kind.basis
        assert f"## {kind.code}\n" in written()[FINDINGS]
        assert kind.sentence in written()[FINDINGS]
        assert all(name.isidentifier() for name in places)


@pytest.fixture
def with_the_example(tmp_path: Path) -> Registry:
    """What ships, and the example package as a plugin in one file."""
    file = tmp_path / "boards.py"
    file.write_text(AS_ONE_FILE)
    return load_registry(files=[file])


def test_every_hook_is_exercised(with_the_example: Registry) -> None:
    """By what ships or by the example: each hook brings something that does its work on one building."""
    registry = with_the_example
    assert {hook for plugin in registry.plugins for hook in plugin.hooks} == set(hook_functions())
    value = honey_house()
    value["outline"] |= {"length": 6000}
    chosen = {
        pick.member: [example] if pick.most else example
        for family, pick in families.choices()
        for example in registry.of_family(family.name)[0].model.examples[:1]
    }
    chosen |= {"studs": {"rule": "equal-bays"}, "adjustments": [{"rule": "backing-board", "height": 1300}]}
    # Boards in the bays leave no room for a brace between studs.
    chosen |= {"bracing": [{"rule": "straps"}]}
    value["defaults"] = chosen
    layout = lay_out(registry.read_building(value), registry)
    back = next(wall for wall in layout.walls if wall.name == "back")
    used = {member: back.rules[member] for member in chosen if member in back.rules}
    assert used == {member: dict(rule)["rule"] for member, rule in chosen.items() if member in used}
    assert set(chosen) - set(used) == {"openings_framing", "adjustments", "bracing"}
    assert back.braces
    assert {opening.framing for wall in layout.walls for opening in wall.openings}
    assert "backing board" in {piece.role for piece in back.pieces}
    assert {"backing-missing"} < {finding.code for finding in layout.findings}
    assert all(layer.draw(back, layout) for _, layer in registry.drawing_layers)
    exports = [each.export(layout) for _, each in registry.exporters if each.lacking(layout) is None]
    assert len(exports) > 1
    assert all(exports)


def test_every_rule_is_in_its_reference_with_each_member() -> None:
    for rule in ours().rules:
        (part,) = re.findall(
            rf"^### {rule.name}\n(.*?)(?=^##|\Z)", written()[RULES], re.DOTALL | re.MULTILINE
        )
        for field in rule.model.model_fields.values():
            assert field.description is None or field.description.split("\n")[0] in part
        # How a wall is raised does not show in a drawing of it.
        is_drawn = f"drawings/{rule.family.replace('_', '-')}-{rule.name}.svg" in part
        assert is_drawn == (rule.family != "raising_rules")
