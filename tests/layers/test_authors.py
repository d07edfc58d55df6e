"""One door for authors: plugins, guides and the reference know the same names."""

from __future__ import annotations

import ast
import builtins
import collections.abc
import re
import typing
from collections.abc import Iterator
from pathlib import Path

import pytest

from soleplate.engine import rules

ROOT = Path(__file__).parents[2]
DOOR = "soleplate.engine.rules"
IN_TESTS = {DOOR, "soleplate.engine", "soleplate.engine.contract"}
"""An author's tests lay out buildings and hold plugins to the contract besides."""

HOOKS = (ROOT / "engine" / "HOOKS.md").read_text(encoding="utf-8")
GUIDE = (ROOT / "plugins" / "GUIDE.md").read_text(encoding="utf-8")
CODE = re.findall(r"^```python.*?\n(.*?)^```$", GUIDE, re.DOTALL | re.MULTILINE)

FILES = [
    path for folder in ("plugins", "examples") for path in sorted((ROOT / folder).rglob("*.py"))
    if "build" not in path.parts
]  # fmt: skip

NO_AUTHORS = {"PydanticCustomError", "AnyRule", "def"}
"""What stands in signatures and is no name of ours: pydantic's own, and a variable of types."""


def imported(source: str) -> Iterator[tuple[str, str]]:
    """(module, name) of all that is imported from Soleplate."""
    for node in ast.walk(ast.parse(source)):
        if isinstance(node, ast.ImportFrom) and (node.module or "").startswith("soleplate"):
            yield from ((node.module or "", alias.name) for alias in node.names)
        elif isinstance(node, ast.Import):
            assert not any(alias.name.startswith("soleplate") for alias in node.names)


def is_own(module: str, path: Path) -> bool:
    """Whether a module is of the plugin's own folder."""
    return path.parent.name != "plugins" and module.startswith(f"soleplate.plugins.{path.parent.name}.")


@pytest.mark.parametrize("path", FILES, ids=[str(path.relative_to(ROOT)) for path in FILES])
def test_a_plugin_comes_in_by_the_door(path: Path) -> None:
    for module, name in imported(path.read_text(encoding="utf-8")):
        if is_own(module, path):
            continue
        if path.name.startswith("test_") or "client" in path.parts:
            assert module in IN_TESTS, f"{module} is not for authors"
        else:
            assert module == DOOR, f"{module} is not for authors"
        assert module != DOOR or name in rules.__all__, f"{name} is not for authors"


def test_the_guide_comes_in_by_the_door() -> None:
    assert CODE
    for module, name in (each for block in CODE for each in imported(block)):
        assert module in IN_TESTS
        assert module != DOOR or name in rules.__all__


def test_what_the_reference_names_is_there_for_authors() -> None:
    """Base classes, values and models as headings, types in signatures and fields."""
    known = {*rules.__all__, *dir(builtins), *typing.__all__, *collections.abc.__all__, *NO_AUTHORS}
    headings = set(re.findall(r"^### (\w+)$", HOOKS, re.MULTILINE))
    assert {"StudRule", "Rule", "Member", "Battens"} <= headings <= known
    signatures = re.findall(r"`(?:def )?\w+\([^`]*\) -> [^`]+`|^- `\w+: [^`]+`", HOOKS, re.MULTILINE)
    signatures += re.findall(r"^def .*", HOOKS, re.MULTILINE)
    assert len(signatures) > 100
    quoted = re.compile(r"'[^']*'")
    words = {word for each in signatures for word in re.findall(r"\b[A-Z]\w+", quoted.sub("", each))}
    assert words <= known


def test_every_name_for_authors_is_described() -> None:
    for name in rules.__all__:
        heading = re.search(rf"^### {name}\n\n\S", HOOKS, re.MULTILINE)
        helper = re.search(rf"^`def {name}\(.*`\n\n\S", HOOKS, re.MULTILINE)
        other = re.search(rf"^- `{name}`(?: = `[^`]+`)?: \S", HOOKS, re.MULTILINE)
        assert heading or helper or other or name == "Building", name


def test_every_name_for_authors_is_there_once() -> None:
    assert len(rules.__all__) == len(set(rules.__all__))
    assert all(hasattr(rules, name) for name in rules.__all__)
    own = {"families", "hookspecs", "shared_kinds"}
    assert not own & set(rules.__all__), "the engine's own modules are not for authors"
