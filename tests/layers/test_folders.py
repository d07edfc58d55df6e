"""Folders of a room are its stages: each imports only those before it, and only their faces."""

from __future__ import annotations

import ast
import tomllib
from collections.abc import Iterator
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
STAGES = {
    "engine": (
        "shapes", "building_file", "sawing", "layout", "rules", "registry", "framing", "covering", "listing",
        "buying", "finding_kinds", "laying_out", "what_if", "contract",
    ),
    "viewer": ("markup", "words", "lists", "drawings", "paper", "sheets", "page", "exports"),
    "api": (
        "limits", "store", "http", "work", "guard", "calls", "document", "terminal", "written",
        "serving", "app", "environment", "references", "command_line",
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
        is_own = parts[:2] == [room, own]
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


def test_every_folder_is_a_package_that_is_installed() -> None:
    setup = tomllib.loads((ROOT / "pyproject.toml").read_text())["tool"]["setuptools"]
    folders = {path.parent.relative_to(ROOT) for path in FILES}
    folders |= {Path(room) for room in ("viewer", "examples")}
    assert setup["package-dir"] == {"soleplate." + ".".join(each.parts): str(each) for each in folders}
    assert set(setup["packages"]) == set(setup["package-dir"])
