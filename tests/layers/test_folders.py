"""Folders of the engine are its stages: each imports only those before it, and only their faces."""

from __future__ import annotations

import ast
import tomllib
from collections.abc import Iterator
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
ENGINE = "soleplate.engine."
STAGES = (
    "shapes",
    "building_file",
    "sawing",
    "layout",
    "rules",
    "registry",
    "framing",
    "covering",
    "listing",
    "buying",
    "finding_kinds",
    "laying_out",
    "what_if",
    "contract",
)
"""Folders and modules of the engine, in the order of the data."""

FILES = sorted((ROOT / "engine").rglob("*.py"))
OTHERS = sorted(path for room in ("plugins", "viewer", "api") for path in (ROOT / room).rglob("*.py"))
OPEN = {"contract": {"buildings", "rules", "breach"}, "sawing": {"plan"}, "building_file": {"model"}}
"""Modules that may be imported by themselves: what is loaded late, and what references describe."""


def imported(path: Path) -> Iterator[list[str]]:
    """The parts of each name of the engine that a file imports, behind `soleplate.engine`."""
    for node in ast.walk(ast.parse(path.read_text())):
        if isinstance(node, ast.ImportFrom) and (node.module or "").startswith(ENGINE):
            yield (node.module or "").removeprefix(ENGINE).split(".")


def stage(path: Path) -> str:
    return path.relative_to(ROOT / "engine").parts[0].removesuffix(".py")


def test_every_stage_is_in_the_order() -> None:
    there = {stage(path) for path in FILES} - {"__init__"}
    assert there == set(STAGES)


@pytest.mark.parametrize("path", FILES, ids=[str(path.relative_to(ROOT)) for path in FILES])
def test_a_stage_imports_only_those_before_it_and_their_faces(path: Path) -> None:
    own = stage(path)
    if own == "__init__":
        return
    for parts in imported(path):
        assert STAGES.index(parts[0]) <= STAGES.index(own), f"{own} imports {'.'.join(parts)}"
        if parts[0] != own:
            assert len(parts) == 1 or parts[1] in OPEN.get(parts[0], ()), ".".join(parts)


@pytest.mark.parametrize("path", OTHERS, ids=[str(path.relative_to(ROOT)) for path in OTHERS])
def test_other_rooms_see_faces_alone(path: Path) -> None:
    for parts in imported(path):
        assert len(parts) == 1 or parts[1] in OPEN.get(parts[0], ()), ".".join(parts)
        if path.is_relative_to(ROOT / "plugins"):
            assert parts == ["rules"], "a rule that ships imports what any author may"


def test_every_folder_with_a_face_is_a_package() -> None:
    listed = set(tomllib.loads((ROOT / "pyproject.toml").read_text())["tool"]["setuptools"]["packages"])
    faces = [
        path.parent for room in ("engine", "viewer", "api") for path in (ROOT / room).rglob("__init__.py")
    ]
    named = {"soleplate." + ".".join(face.relative_to(ROOT).parts) for face in faces}
    data = {name for name in named if name.endswith(".static")}
    assert named - data <= listed
