"""What a file of IFC4 has to be besides right: valid by IfcOpenShell's validator, and by its letter."""

from __future__ import annotations

import json
import subprocess
import sys
from collections.abc import Mapping
from pathlib import Path
from typing import Any

import ifcopenshell

VALIDATOR = Path(__file__).with_name("validate_ifc.py")


def issues(files: Mapping[str, bytes], folder: Path) -> dict[str, list[str]]:
    """What the validator says against each file, the schema's rules among it."""
    paths = [folder / f"{number}.ifc" for number in range(len(files))]
    for path, content in zip(paths, files.values(), strict=True):
        path.write_bytes(content)
    asked = [sys.executable, str(VALIDATOR), *map(str, paths)]
    done = subprocess.run(asked, capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stderr
    return dict(zip(files, json.loads(done.stdout), strict=True))


def rewritten_otherwise(data: bytes) -> list[str]:
    """The lines of a file's instances that are not what is written of what was read of them.

    The validator may pass a value that no enumeration has, and an attribute too few or too many: they are
    read as something else.
    """
    text = data.decode("ascii")
    read: Any = ifcopenshell.file.from_string(text)
    lines = [line for line in text.splitlines() if line.startswith("#")]
    numbers = [int(line[1 : line.index("=")]) for line in lines]
    again = [f"{read.by_id(number).to_string(True)};" for number in numbers]
    return [line for line, other in zip(lines, again, strict=True) if line != other]
