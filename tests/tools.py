"""Tools that are no packages of the tests' own environment, as `.ci/run` installs them.

Each is in a folder that a variable names. Where one is missing the test is skipped and says how it is
installed; with `CI` set it fails.
"""

from __future__ import annotations

import os
from pathlib import Path
from typing import Final

import pytest

NPM: Final = "SOLEPLATE_NPM_TOOLS"
"""A folder into which npm installed them."""

PIP: Final = "SOLEPLATE_PIP_TOOLS"
"""A virtual environment, for what asks for other versions than the tests do."""


def npm_tool(name: str, package: str) -> Path:
    """The program of a package of npm's."""
    return _found(NPM, Path("node_modules", ".bin", name), f'npm install --prefix "${NPM}" {package}')


def pip_tool(name: str, package: str) -> Path:
    """The program of a package of pip's."""
    install = f'python3 -m venv "${PIP}" && "${PIP}/bin/pip" install {package}'
    return _found(PIP, Path("bin", name), install)


def _found(variable: str, place: Path, install: str) -> Path:
    folder = os.environ.get(variable)
    tool = Path(folder, place) if folder else None
    if tool is not None and tool.exists():
        return tool
    told = f"{place.name} is not installed: set {variable} to a folder, and run {install}"
    if os.environ.get("CI"):
        pytest.fail(told)
    pytest.skip(told)
