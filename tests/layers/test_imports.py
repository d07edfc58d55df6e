"""Who may import whom: `engine` none of the others, `plugins` and `viewer` only `engine`, `api` all."""

from __future__ import annotations

import ast
import re
import subprocess
import sys
from pathlib import Path

import pytest

from soleplate.engine import load_registry
from soleplate.engine.rules import ROLES

ROOT = Path(__file__).parents[2]
MAY_IMPORT = {
    "engine": {"engine"},
    "plugins": {"engine", "plugins"},
    "viewer": {"engine", "viewer"},
    "api": {"engine", "viewer", "api"},
}
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
        own = f"soleplate.plugins.{path.parent.name}." if path.parent.name != "plugins" else None
        known = {name for name in names if name.startswith("soleplate.plugins")}
        assert all(own and name.startswith(own) for name in known), "rules know no other rule"


NAMES = {rule.name for rule in load_registry().rules}
ASKING = ("api/work/starting.py", "api/work/boards.py", *(f"plugins/{name}.py" for name in (
    "board_fixing_checks", "cautions/__init__", "cautions/lifting", "cladding_checks",
)))  # fmt: skip


def named_rules(path: Path) -> set[str]:
    """The rules whose names a file has as texts, but for keys of mappings."""
    tree = ast.parse(path.read_text())
    keys = {id(key) for node in ast.walk(tree) if isinstance(node, ast.Dict) for key in node.keys}
    texts = {n.value for n in ast.walk(tree) if isinstance(n, ast.Constant) and id(n) not in keys}
    return {text for text in texts if isinstance(text, str)} & NAMES


@pytest.mark.parametrize("name", ASKING)
def test_checks_and_the_start_of_the_page_name_no_rule(name: str) -> None:
    """They ask the rules, so that another plugin's is treated alike."""
    assert named_rules(ROOT / name) == set()


def test_a_rule_that_is_named_would_be_found() -> None:
    assert named_rules(ROOT / "plugins" / "cladding_lapped.py") == {"lapped"}


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


def test_no_script_of_the_page_names_a_role() -> None:
    """The page's data says what there is to know of a role, so that a plugin's is treated alike."""
    # A drawing's frame is of that class.
    roles = set(ROLES) - {"board"}
    for path in sorted((ROOT / "viewer" / "static").glob("*.js")):
        assert not roles & set(re.findall(r"[\"'`]([a-z ]+)[\"'`]", path.read_text())), path.name
