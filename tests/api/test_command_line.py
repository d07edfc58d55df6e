"""The installed command, run as a user runs it."""

from __future__ import annotations

import json
import subprocess
import sysconfig
from pathlib import Path

from tests.buildings import HONEY_HOUSE

COMMAND = Path(sysconfig.get_path("scripts")) / "soleplate"


def run(*arguments: str) -> subprocess.CompletedProcess[str]:
    return subprocess.run([COMMAND, *arguments], capture_output=True, text=True, check=False)


def test_layout_prints_four_walls() -> None:
    done = run("layout", str(HONEY_HOUSE))
    assert (done.returncode, done.stderr) == (0, "")
    walls = json.loads(done.stdout)["walls"]
    assert [wall["name"] for wall in walls] == ["front", "right", "back", "left"]


def test_check_prints_the_cautions() -> None:
    done = run("check", str(HONEY_HOUSE))
    assert done.returncode == 0
    assert "local codes" in done.stdout


def test_rules_and_schema() -> None:
    assert "equal-bays" in run("rules").stdout
    assert json.loads(run("schema").stdout)["additionalProperties"] is False


def test_a_bad_file_exits_2_with_its_place(tmp_path: Path) -> None:
    file = tmp_path / "bad.json"
    file.write_text(HONEY_HOUSE.read_text().replace('"pitch": 6', '"pitch": 90'))
    done = run("layout", str(file))
    assert (done.returncode, done.stdout) == (2, "")
    assert f"{file}: /roof: a pitch of 90 degrees" in done.stderr
    assert "Traceback" not in done.stderr


def test_a_broken_plugin_is_named(tmp_path: Path) -> None:
    plugin = tmp_path / "wonky.py"
    plugin.write_text("1 / 0\n")
    done = run("rules", "--plugin", str(plugin))
    assert done.returncode == 2
    assert "plugin wonky: cannot be imported: ZeroDivisionError" in done.stderr
