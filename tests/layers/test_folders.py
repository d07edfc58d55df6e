"""Folders of a room are its stages: each imports only those before it, and only their faces."""

from __future__ import annotations

import ast
import tomllib
from collections.abc import Iterator
from functools import cache
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
STAGES = {
    "engine": (
        "on_first_use", "at_rest", "shapes", "building_file", "sawing", "layout", "rules", "registry",
        "framing", "covering", "floors", "roofs", "finishing", "listing", "fixing", "buying", "raising",
        "finding_kinds", "laying_out", "what_if", "work_order", "contract",
    ),
    "viewer": (
        "markup", "words", "lists", "drawings", "pictures", "paper", "sheets", "bodies", "page", "exports",
    ),
    "api": (
        "limits", "store", "http", "work", "guard", "calls", "document", "terminal", "written",
        "connections", "serving", "app", "environment", "references", "command_line",
    ),
}  # fmt: skip
"""Folders and modules of each room, in the order of the data."""

OPEN = {
    ("engine", "contract"): {"buildings", "rules", "breach"},
    ("engine", "sawing"): {"plan"},
    ("engine", "building_file"): {"model"},
}
"""Modules that may be imported by themselves: what is loaded late, and what references describe."""

FILES = [
    path
    for room in ("engine", "plugins", "viewer", "api")
    for path in sorted((ROOT / room).rglob("*.py"))
    if path.parent != ROOT / room or path.name != "__init__.py"
]


def imported(path: Path) -> Iterator[list[str]]:
    """The room of each import and the parts behind it, such as `viewer`, `drawings`."""
    for node in ast.walk(ast.parse(path.read_text())):
        if isinstance(node, ast.ImportFrom) and (node.module or "").startswith("soleplate."):
            yield (node.module or "").split(".")[1:]


def stage(path: Path) -> tuple[str, str]:
    room, own, *_ = path.relative_to(ROOT).parts
    return room, own.removesuffix(".py")


def misplaced(room: str, own: str, parts: list[str]) -> bool:
    """Whether a file of that stage imports a later one, or goes past the face of another."""
    of, *inner = parts
    if not inner or (of, inner[0]) == (room, own):
        return False
    late = of == room and STAGES[room].index(inner[0]) > STAGES[room].index(own)
    return late or (len(inner) > 1 and inner[1] not in OPEN.get((of, inner[0]), ()))


@pytest.mark.parametrize("room", STAGES)
def test_every_stage_is_in_the_order(room: str) -> None:
    assert {own for of, own in map(stage, FILES) if of == room} == set(STAGES[room])


@pytest.mark.parametrize("path", FILES, ids=[str(path.relative_to(ROOT)) for path in FILES])
def test_a_stage_imports_only_those_before_it_and_their_faces(path: Path) -> None:
    room, own = stage(path)
    for parts in imported(path):
        assert not misplaced(room, own, parts), f"{own} imports {'.'.join(parts)}"
        # A plugin of several modules imports its own; that it knows no other one, `test_imports.py` holds.
        is_own = parts[:2] == ["plugins", path.parent.name]
        assert room != "plugins" or is_own or parts == ["engine", "rules"], "rules import what any author may"


@pytest.mark.parametrize(
    ("name", "wrong"),
    [
        ("viewer.page", True),
        ("viewer.lists.buying", True),
        ("engine.shapes.outlines", True),
        ("viewer.lists", False),
        ("viewer.drawings.face", False),
        ("engine.laying_out", False),
    ],
)
def test_what_is_misplaced_is_found(name: str, wrong: bool) -> None:
    assert misplaced("viewer", "drawings", name.split(".")) == wrong


@cache
def nodes(path: Path) -> tuple[ast.AST, ...]:
    return tuple(ast.walk(ast.parse(path.read_text())))


def taken(path: Path) -> dict[str, dict[str, str]]:
    """What a file imports from each module: its own name for it, by the module's."""
    names: dict[str, dict[str, str]] = {}
    for node in nodes(path):
        if isinstance(node, ast.ImportFrom):
            each = {alias.name: alias.asname or alias.name for alias in node.names}
            names.setdefault(node.module or "", {}).update(each)
    return names


def handed_on(path: Path) -> set[str]:
    """The names that a face takes from the modules of its folder."""
    own = module_of(path)
    return {
        name
        for module, names in taken(path).items()
        if module == own or module.startswith(f"{own}.")
        for name in names.values()
    }


def asked_of(module: str, path: Path) -> set[str]:
    """The names that a file takes from a module: by themselves, or as `sizes.EDGE` of the whole module."""
    above, _, name = module.rpartition(".")
    whole = taken(path).get(above, {}).get(name)
    attributes = (each for each in nodes(path) if isinstance(each, ast.Attribute)) if whole else ()
    return {*taken(path).get(module, {}), *(each.attr for each in attributes)}


def module_of(path: Path) -> str:
    return "soleplate." + ".".join(path.parent.relative_to(ROOT).parts)


FACES = [path for path in FILES if path.name == "__init__.py" and "__all__" not in path.read_text()]
"""Faces that say what they hand on by importing it; `__all__` stands where other packages may import too."""


@pytest.mark.parametrize("path", FACES, ids=[str(path.parent.relative_to(ROOT)) for path in FACES])
def test_a_face_hands_on_only_what_is_asked_of_it(path: Path) -> None:
    others = [each for each in (*FILES, *(ROOT / "tests").rglob("*.py")) if path.parent not in each.parents]
    asked = {name for other in others for name in asked_of(module_of(path), other)}
    assert not handed_on(path) - asked


def test_every_folder_is_a_package_that_is_installed() -> None:
    setup = tomllib.loads((ROOT / "pyproject.toml").read_text())["tool"]["setuptools"]
    folders = {path.parent.relative_to(ROOT) for path in FILES}
    folders |= {Path(room) for room in ("viewer", "examples")}
    assert set(setup["packages"]) == {"soleplate." + ".".join(each.parts) for each in folders}
    assert setup["package-dir"] == {
        "soleplate." + room: room for room in map(str, folders) if "/" not in room
    }
