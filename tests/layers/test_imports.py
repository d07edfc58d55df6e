"""Who may import whom: rooms, within a room its folders, and of a folder its face alone."""

from __future__ import annotations

import ast
import subprocess
import sys
import tomllib
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
MAY_IMPORT = {
    "engine": {"engine"},
    "plugins": {"engine", "plugins"},
    "viewer": {"engine", "viewer"},
    "api": {"engine", "viewer", "api"},
}
ORDER = {
    "engine": [
        "shapes", "building_file", "sawing", "layout", "rules", "registry", "framing", "covering", "listing",
        "buying", "laying_out", "what_if", "contract",
    ],
    "viewer": ["markup", "words", "lists", "drawings", "paper", "sheets", "page", "exports"],
    "api": [
        "limits", "store", "http", "work", "guard", "calls", "document", "terminal", "written", "serving", "app",
        "environment", "references", "command_line",
    ],
}  # fmt: skip
"""The folders and loose modules of each room, lower ones first."""

MODULES = [(room, path) for room in MAY_IMPORT for path in sorted((ROOT / room).rglob("*.py"))]


def imported(path: Path) -> set[str]:
    """The names of Soleplate's modules that a file imports, anywhere in it."""
    names: set[str] = set()
    for node in ast.walk(ast.parse(path.read_text())):
        if isinstance(node, ast.Import):
            names |= {alias.name for alias in node.names}
        elif isinstance(node, ast.ImportFrom):
            assert node.level == 0, f"{path} has a relative import"
            names.add(node.module or "")
    return names


@pytest.mark.parametrize(("room", "path"), MODULES, ids=[str(path.relative_to(ROOT)) for _, path in MODULES])
def test_a_module_imports_only_what_its_room_may(room: str, path: Path) -> None:
    names = imported(path)
    assert not names & set(MAY_IMPORT), "the rooms are imported as soleplate.<room>"
    rooms = {name.split(".")[1] for name in names if name.startswith("soleplate.")}
    assert rooms <= MAY_IMPORT[room]
    if room == "plugins":
        assert not any(name.startswith("soleplate.plugins") for name in names), "rules know no other rule"


def part_of(path: Path) -> str:
    """The folder or loose module of its room that a file belongs to."""
    return path.relative_to(ROOT).parts[1].removesuffix(".py")


def misplaced(room: str, part: str, names: set[str]) -> list[str]:
    """Imports of a higher part of the room, or past the face of another folder."""
    found = []
    for name in names:
        root, of, *inner = [*name.split("."), ""]
        inner = [each for each in inner if each]
        if root != "soleplate" or not inner or (of, inner[0]) == (room, part):
            continue
        order = ORDER.get(room, [])
        higher = of == room and part in order and order.index(inner[0]) > order.index(part)
        if higher or len(inner) > 1:
            found.append(name)
    return sorted(found)


@pytest.mark.parametrize(("room", "path"), MODULES, ids=[str(path.relative_to(ROOT)) for _, path in MODULES])
def test_a_folder_imports_lower_ones_by_their_faces(room: str, path: Path) -> None:
    assert misplaced(room, part_of(path), imported(path)) == []


@pytest.mark.parametrize("room", ORDER)
def test_every_folder_and_module_has_its_place_in_the_order(room: str) -> None:
    parts = {part_of(path) for of, path in MODULES if of == room} - {"__init__"}
    assert parts == set(ORDER[room])


@pytest.mark.parametrize(
    ("name", "wrong"),
    [
        ("soleplate.viewer.page", True),
        ("soleplate.viewer.lists.buying", True),
        ("soleplate.engine.shapes.outlines", True),
        ("soleplate.viewer.lists", False),
        ("soleplate.viewer.drawings.face", False),
        ("soleplate.engine.laying_out", False),
    ],
)
def test_a_misplaced_import_is_found(name: str, wrong: bool) -> None:
    assert misplaced("viewer", "drawings", {name}) == [name] * wrong


def test_every_package_is_installed() -> None:
    setup = tomllib.loads((ROOT / "pyproject.toml").read_text())["tool"]["setuptools"]
    folders = {path.parent.relative_to(ROOT) for _, path in MODULES} | {Path("examples")}
    assert setup["package-dir"] == {f"soleplate.{'.'.join(folder.parts)}": str(folder) for folder in folders}
    assert set(setup["packages"]) == set(setup["package-dir"])


@pytest.mark.parametrize(
    ("module", "kept_out"),
    [
        ("soleplate.engine.laying_out", {"highspy", "numpy", "starlette", "svg", "uvicorn"}),
        ("soleplate.api.app", {"highspy", "numpy", "platformdirs", "psycopg", "sqlalchemy"}),
        (
            "soleplate.api.command_line",
            {"highspy", "numpy", "pydantic", "sqlalchemy", "starlette", "svg", "uvicorn"},
        ),
    ],
)
def test_what_is_imported_on_first_use_only(module: str, kept_out: set[str]) -> None:
    script = f"import sys, {module}; print(sorted({kept_out!r} & set(sys.modules)))"
    done = subprocess.run([sys.executable, "-c", script], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "[]"
