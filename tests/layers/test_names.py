"""One name, one thing: no two public classes of the four rooms share one."""

from __future__ import annotations

import ast
from collections import defaultdict
from collections.abc import Iterable
from pathlib import Path

ROOT = Path(__file__).parents[2]
ROOMS = ("engine", "plugins", "api", "viewer")


def shared(files: Iterable[Path]) -> dict[str, list[str]]:
    """The public classes whose name another has too, each with the files of both."""
    homes: dict[str, list[str]] = defaultdict(list)
    for path in files:
        for node in ast.parse(path.read_text()).body:
            if isinstance(node, ast.ClassDef) and not node.name.startswith("_"):
                homes[node.name].append(str(path))
    return {name: paths for name, paths in homes.items() if len(paths) > 1}


def test_no_two_public_classes_share_a_name() -> None:
    files = [path for room in ROOMS for path in sorted((ROOT / room).rglob("*.py"))]
    assert files
    assert shared(files) == {}


def test_a_name_that_two_share_is_found(tmp_path: Path) -> None:
    one, other = tmp_path / "one.py", tmp_path / "other.py"
    one.write_text("class Box: ...\nclass _Own: ...\nclass Lid: ...\n")
    other.write_text("class Box: ...\nclass _Own: ...\n")
    assert shared([one, other]) == {"Box": [str(one), str(other)]}
