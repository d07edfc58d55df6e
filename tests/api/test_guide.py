"""The guide for plugin authors, followed from an empty folder: each block saved or run, each line said."""

from __future__ import annotations

import os
import re
import subprocess
from collections.abc import Mapping
from pathlib import Path

import pytest

from tests.example_package import Environment, install
from tests.serving import serving

ROOT = Path(__file__).parents[2]
GUIDE = (ROOT / "plugins" / "GUIDE.md").read_text(encoding="utf-8")
BLOCKS = re.findall(r"^```(\w+)(?: (\S+))?\n(.*?)^```$", GUIDE, re.DOTALL | re.MULTILINE)

OFFLINE = {"PIP_NO_INDEX": "1", "PIP_NO_BUILD_ISOLATION": "0"}
"""What makes pip use what is installed; a 0 here turns isolation off."""


@pytest.fixture(scope="module")
def environment(tmp_path_factory: pytest.TempPathFactory) -> Environment:
    return install(tmp_path_factory.mktemp("guide"), example=False)


def test_the_guide_is_followed_from_an_empty_folder(environment: Environment, tmp_path: Path) -> None:
    variables = {
        **{name: value for name, value in os.environ.items() if not name.startswith(("PIP_", "PYTHON"))},
        **OFFLINE,
        "PATH": f"{environment.folder / 'bin'}{os.pathsep}{os.environ['PATH']}",
    }
    said = 0
    for language, name, text in BLOCKS:
        if name:
            (tmp_path / name).write_text(text, encoding="utf-8")
        elif language == "console":
            for command, lines in commands(text):
                check(command, lines, environment, variables, tmp_path)
                said += len(lines)
        else:
            pytest.fail(f"a block of {language} that is neither saved nor run")
    assert said > 15


def commands(text: str) -> list[tuple[str, list[str]]]:
    """Each command with the lines that follow it."""
    found: list[tuple[str, list[str]]] = []
    for line in text.splitlines():
        if line.startswith("$ "):
            found.append((line.removeprefix("$ "), []))
        else:
            found[-1][1].append(line)
    return found


def check(
    command: str, lines: list[str], environment: Environment, variables: Mapping[str, str], folder: Path
) -> None:
    """Run a command, and find each line that it is told to say."""
    if command.startswith("soleplate serve "):
        words = [str(folder / word) if "." in word else word for word in command.split()[2:]]
        with serving(*words[: words.index("--port")], command=environment.command) as server:
            opened = re.sub(r":\d+/", ":8017/", server.address)
            assert [f"Open {opened} (Ctrl+C stops it)"] == lines
        return
    done = subprocess.run(
        command, shell=True, capture_output=True, encoding="utf-8", check=False, cwd=folder, env=variables
    )
    answer = done.stdout + done.stderr
    assert "Traceback" not in answer, answer
    for line in lines:
        assert line in answer, f"{command}\n{answer}"
    if not lines:
        assert done.returncode == 0, f"{command}\n{answer}"


def test_the_rule_of_the_guide_is_the_example() -> None:
    (rule,) = [text for _, name, text in BLOCKS if name == "even_bays.py"]
    assert rule == (ROOT / "examples" / "one_file_rule.py").read_text(encoding="utf-8")


def test_links_lead_somewhere() -> None:
    links = re.findall(r"\]\(([^)#]+)\)", GUIDE)
    assert links
    assert all((ROOT / "plugins" / link).exists() for link in links)
