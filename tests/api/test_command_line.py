"""The installed command: what it prints, its exit codes, and its words for what is wrong."""

from __future__ import annotations

import csv
import json
import signal
import subprocess
from collections.abc import Iterator
from functools import partial
from importlib.metadata import version
from pathlib import Path
from urllib.request import Request, urlopen

import pytest
from typer.testing import CliRunner

from soleplate.api.command_line import app
from soleplate.engine.laying_out import layout_json
from soleplate.engine.registry import Patience
from soleplate.engine.work_order import with_work_order
from tests.api import plugin_files
from tests.buildings import BARE_HONEY_HOUSE, HONEY_HOUSE, honey_house, layout_of, registry
from tests.serving import COMMAND, run, serving
from tests.viewer.sheets.reading_pdf import read

WALLS = ["front", "right", "back", "left"]
HOSTILE = "../<script>alert(1)</script>\"'&"


def refused(done: subprocess.CompletedProcess[str], *words: str) -> None:
    """Exit 2, nothing on stdout, and the words on stderr."""
    assert (done.returncode, done.stdout) == (2, ""), done.stderr
    for word in words:
        assert word in done.stderr
    assert "Traceback" not in done.stderr


def file_of(folder: Path, value: object) -> Path:
    file = folder / "building.json"
    file.write_text(value if isinstance(value, str) else json.dumps(value))
    return file


def test_version_and_help() -> None:
    assert run("--version").stdout == f"soleplate {version('soleplate')}\n"
    shown = run("--help")
    assert shown.returncode == 0
    for command in ("serve", "layout", "check", "rules", "schema"):
        assert command in shown.stdout


def test_help_loads_nothing_heavy() -> None:
    script = (
        "import sys, soleplate.api.command_line\n"
        "print(sorted({'pydantic', 'starlette', 'uvicorn', 'svg'} & set(sys.modules)))"
    )
    done = subprocess.run(
        [COMMAND.with_name("python"), "-c", script], capture_output=True, text=True, check=True
    )
    assert done.stdout == "[]\n"


def test_layout_as_json() -> None:
    done = run("layout", BARE_HONEY_HOUSE, "--json")
    assert (done.returncode, done.stderr) == (0, "")
    layout, asked = layout_of(honey_house()), registry().read_building(honey_house())
    assert done.stdout.encode() == layout_json(with_work_order(layout, asked, registry()))


def test_layout_writes_a_folder_and_says_where_to_look(tmp_path: Path) -> None:
    done = run("layout", BARE_HONEY_HOUSE, folder=tmp_path)
    assert (done.returncode, done.stderr) == (0, "")
    folder = tmp_path / "honey_house-layout"
    assert str(Path("honey_house-layout", "page.html")) in done.stdout
    assert [path.name for path in tmp_path.iterdir()] == ["honey_house-layout"]
    assert [path.name for path in sorted(folder.glob("wall-*.svg"))] == [
        f"wall-{number}-{wall}.svg" for number, wall in enumerate(WALLS, 1)
    ]
    assert json.loads((folder / "layout.json").read_text())["name"] == "Honey house"
    page = (folder / "page.html").read_text()
    assert 'href="soleplate.css"' in page
    assert (folder / "soleplate.css").is_file()
    assert '"/static/' not in page


def test_the_cutting_list_holds_every_piece_once(tmp_path: Path) -> None:
    run("layout", BARE_HONEY_HOUSE, "--out", tmp_path / "made")
    with (tmp_path / "made" / "cutting-list.csv").open(encoding="utf-8-sig", newline="") as file:
        rows = list(csv.DictReader(file))
    marks = [mark for row in rows for mark in row["marks"].split()]
    pieces = [piece.mark for wall in layout_of(honey_house()).walls for piece in wall.pieces]
    assert sorted(marks) == sorted(pieces)
    assert sum(int(row["count"]) for row in rows) == len(pieces)


def test_no_cell_of_the_cutting_list_is_a_formula(tmp_path: Path) -> None:
    building = honey_house()
    building["frame"]["material"] = "=HYPERLINK(1)"
    run("layout", file_of(tmp_path, building), "--out", tmp_path / "made")
    with (tmp_path / "made" / "cutting-list.csv").open(encoding="utf-8-sig", newline="") as file:
        cells = {row["material"] for row in csv.DictReader(file)}
    assert cells == {"'=HYPERLINK(1)", "plywood"}


def test_the_job_book_is_on_the_paper_and_has_the_date_asked_for(tmp_path: Path) -> None:
    partition = HONEY_HOUSE.with_name("partition.json")
    done = run("layout", partition, "--out", tmp_path / "made", "--paper", "Letter", "--date", "2031-04-05")
    assert (done.returncode, done.stderr) == (0, "")
    pages = read((tmp_path / "made" / "job-book.pdf").read_bytes())
    assert {round(page.width, 1) for page in pages} <= {215.9, 279.4}
    assert all("2031-04-05" in page.text for page in pages)
    refused(
        run("layout", partition, "--out", tmp_path / "other", "--paper", "A3"), "--paper", "'A4' or 'Letter'"
    )
    assert not (tmp_path / "other").exists()


def test_a_folder_of_an_earlier_layout_is_replaced_whole(tmp_path: Path) -> None:
    folder = tmp_path / "made"
    run("layout", BARE_HONEY_HOUSE, "--out", folder)
    partition = HONEY_HOUSE.with_name("partition.json")
    assert run("layout", partition, "--out", folder).returncode == 0
    assert [path.name for path in folder.glob("wall-*.svg")] == ["wall-1-partition.svg"]
    assert [path.name for path in folder.glob("inside-*.svg")] == ["inside-1-partition.svg"]
    assert [path.name for path in tmp_path.iterdir()] == ["made"]


def test_what_is_not_of_a_layout_is_left_alone(tmp_path: Path) -> None:
    (tmp_path / "notes.txt").write_text("mine")
    refused(run("layout", BARE_HONEY_HOUSE, "--out", tmp_path), str(tmp_path), "notes.txt", "accepted")
    refused(run("layout", BARE_HONEY_HOUSE, "--out", tmp_path / "notes.txt"), "no folder", "accepted")
    assert [path.name for path in tmp_path.iterdir()] == ["notes.txt"]


def test_what_can_be_no_folder_is_refused_before_any_work(tmp_path: Path) -> None:
    """A building that is none is not even read."""
    (tmp_path / "notes.txt").write_text("mine")
    for place in (tmp_path / "notes.txt", tmp_path / "notes.txt" / "made"):
        refused(run("layout", tmp_path / "none.json", "--out", place), "notes.txt", "no folder", "accepted")


def test_hostile_names_stay_in_the_folder(tmp_path: Path) -> None:
    building = honey_house() | {"name": HOSTILE}
    building["outline"] = {"walls": [{"name": HOSTILE, "length": 3000}]}
    building["roof"] = {"form": "level", "height": 2400}
    del building["walls"]
    file = file_of(tmp_path, building)
    done = run("layout", file, "--out", tmp_path / "made")
    assert done.returncode == 0, done.stderr
    assert sorted(path.name for path in tmp_path.iterdir()) == ["building.json", "made"]
    (drawing,) = (tmp_path / "made").glob("wall-*.svg")
    assert "<script" not in drawing.read_text()
    assert "<script>alert" not in (tmp_path / "made" / "page.html").read_text()


def test_control_characters_stay_off_the_terminal(tmp_path: Path) -> None:
    building = honey_house() | {"\x1b[2J\u202e": 1}
    refused(run("check", file_of(tmp_path, building)), "unknown member")
    assert not {"\x1b", "\u202e"} & set(run("check", file_of(tmp_path, building)).stderr)


def test_check_prints_findings_and_cautions() -> None:
    done = run("check", BARE_HONEY_HOUSE)
    assert (done.returncode, done.stderr) == (0, "")
    assert "local codes" in done.stdout


def test_check_exits_1_on_a_stop(tmp_path: Path) -> None:
    plugin = tmp_path / "strict.py"
    plugin.write_text(
        "from soleplate.engine.rules import hookimpl\n"
        "from soleplate.engine.rules import Finding\n\n"
        "@hookimpl\ndef check_layout(layout):\n"
        "    return [Finding(level='stop', code='no', message='Not so.', basis='common practice')]\n"
    )
    done = run("check", BARE_HONEY_HOUSE, "--plugin", plugin)
    assert done.returncode == 1
    assert "stop: Not so." in done.stdout


def test_rules_and_schema(tmp_path: Path) -> None:
    plugin = tmp_path / "barn.py"
    plugin.write_text(plugin_files.SOUND)
    assert "equal-bays" in run("rules").stdout
    assert "lonely" in run("rules", "--plugin", plugin).stdout
    assert "straight" not in run("rules", "--without", "noggins").stdout
    assert json.loads(run("schema").stdout)["additionalProperties"] is False
    assert "Lonely" in json.loads(run("schema", "--plugin", plugin).stdout)["$defs"]


def test_exports_of_plugins_are_in_the_folder(tmp_path: Path) -> None:
    plugin = tmp_path / "barn.py"
    plugin.write_text(plugin_files.layer())
    run("layout", BARE_HONEY_HOUSE, "--out", tmp_path / "made", "--plugin", plugin)
    assert (tmp_path / "made" / "wall-names.txt").read_text() == " ".join(WALLS)
    assert "level line" in (tmp_path / "made" / "wall-1-front.svg").read_text()


@pytest.mark.parametrize("export", ["return 1 / 0", "return 'text'"])
def test_a_faulty_export_is_named_and_nothing_is_written(tmp_path: Path, export: str) -> None:
    plugin = tmp_path / "barn.py"
    plugin.write_text(plugin_files.layer(export=export))
    done = run("layout", BARE_HONEY_HOUSE, "--out", tmp_path / "made", "--plugin", plugin)
    refused(done, "plugin barn", "wall-names")
    assert not (tmp_path / "made").exists()


@pytest.mark.parametrize("command", ["layout", "check", "serve"])
def test_a_bad_file_is_told_with_its_place(tmp_path: Path, command: str) -> None:
    file = file_of(tmp_path, BARE_HONEY_HOUSE.read_text().replace('"pitch": 6', '"pitch": 90'))
    refused(run(command, file), f"{file}: /roof/pitch: a pitch of 90 degrees", "accepted")


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("{", "not JSON at line 1"),
        ("[" * 1000, "levels deep"),
        ('{"a": 1, "a": 2}', "given twice"),
        ('{"a": NaN}', "not a number"),
        ('{"\\ud800": 1}', "Unicode"),
    ],
)
def test_an_unreadable_file(tmp_path: Path, text: str, words: str) -> None:
    file = file_of(tmp_path, text)
    refused(run("layout", file), f"{file}: ", words)


def test_fifty_megabytes(tmp_path: Path) -> None:
    file = tmp_path / "large.json"
    with file.open("wb") as opened:
        opened.truncate(50_000_000)
    refused(run("layout", file), str(file), "accepted is at most")


def test_a_missing_file_and_a_folder(tmp_path: Path) -> None:
    refused(run("layout", tmp_path / "none.json"), "none.json", "no such file")
    refused(run("check", tmp_path), str(tmp_path), "is a directory")


def test_a_folder_that_cannot_be_written() -> None:
    refused(
        run("layout", BARE_HONEY_HOUSE, "--out", "/dev/null/made"), "/dev/null: is there and is no folder"
    )


def test_a_wrong_option() -> None:
    refused(run("layout", BARE_HONEY_HOUSE, "--paint"), "--paint")
    refused(run("layout"), "BUILDING.json")


@pytest.mark.parametrize("command", [["rules"], ["schema"], ["layout", BARE_HONEY_HOUSE], ["serve"]])
def test_a_plugin_that_cannot_be_loaded_is_named(tmp_path: Path, command: list[str | Path]) -> None:
    plugin = tmp_path / "wonky.py"
    plugin.write_text("1 / 0\n")
    refused(run(*command, "--plugin", plugin), "plugin wonky: cannot be imported: ZeroDivisionError")
    refused(run(*command, "--plugin", tmp_path / "none.py"), "plugin none")


def test_a_rule_that_fails_is_named(tmp_path: Path) -> None:
    plugin = tmp_path / "barn.py"
    plugin.write_text(plugin_files.FAILING)
    building = honey_house()
    building["defaults"]["studs"] = {"rule": "lonely"}
    done = run("layout", file_of(tmp_path, building), "--json", "--plugin", plugin)
    refused(done, "plugin barn: rule lonely")


def test_a_reader_that_goes_away_is_no_fault() -> None:
    with subprocess.Popen(
        [COMMAND, "layout", BARE_HONEY_HOUSE, "--json"], stdout=subprocess.PIPE, stderr=subprocess.PIPE
    ) as process:
        assert process.stdout is not None
        assert process.stderr is not None
        process.stdout.close()
        assert process.stderr.read() == b""
        assert process.wait(20) != 0


def test_it_goes_on_without_a_broken_plugin_and_says_so(tmp_path: Path) -> None:
    plugin = tmp_path / "wonky.py"
    plugin.write_text("1 / 0\n")
    done = run("check", BARE_HONEY_HOUSE, "--plugin", plugin, "--without-broken")
    assert done.returncode == 0
    assert "left out: plugin wonky: cannot be imported: ZeroDivisionError" in done.stderr
    with (
        serving(BARE_HONEY_HOUSE, "--plugin", plugin, "--without-broken") as server,
        urlopen(f"{server.address}health") as answer,
    ):
        assert json.load(answer)["left_out"] == ["wonky"]


@pytest.fixture
def ctrl_c_heeded() -> Iterator[None]:
    """Commands heed Ctrl+C, also where a shell without job control runs the tests in the background.

    What such a shell starts inherits that SIGINT is ignored (POSIX.1-2017, XCU 2.11), and so on down.
    """
    before = signal.signal(signal.SIGINT, signal.default_int_handler)
    yield
    signal.signal(signal.SIGINT, before)


@pytest.mark.usefixtures("ctrl_c_heeded")
def test_ctrl_c_names_the_rule_that_was_asked(tmp_path: Path) -> None:
    plugin = tmp_path / "barn.py"
    plugin.write_text(
        plugin_files.STUDS.replace("BODY", "print('asked', flush=True)\n        while True: pass")
    )
    building = honey_house()
    building["defaults"]["studs"] = {"rule": "lonely"}
    command = [COMMAND, "layout", file_of(tmp_path, building), "--json", "--plugin", plugin]
    with subprocess.Popen(command, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True) as process:
        assert process.stdout is not None
        assert process.stderr is not None
        assert process.stderr.readline() == "asked\n"
        process.send_signal(signal.SIGINT)
        said = process.stderr.read()
        assert process.wait(20) == 130
    assert said == (
        "stopped while plugin barn, rule lonely in wall front, was asked; where it never returns, leave it"
        " out (--without barn)\n"
    )


def test_a_rule_that_never_returns_is_stopped(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    plugin = tmp_path / "barn.py"
    plugin.write_text(plugin_files.STUDS.replace("BODY", "while True: pass"))
    building = honey_house()
    building["defaults"]["studs"] = {"rule": "lonely"}
    monkeypatch.setattr("soleplate.engine.registry.Patience", partial(Patience, 0.2))
    registry()  # The plugins that ship are imported before, so that none of them takes as long.
    done = CliRunner().invoke(app, ["check", str(file_of(tmp_path, building)), "--plugin", str(plugin)])
    assert done.exit_code == 2
    assert "barn: rule lonely in wall front: has not answered after 0.2 s of processor time" in done.stderr


CHATTY = """
print("chatter at import")
from typing import Literal
from pydantic import model_validator
from soleplate.engine.rules import StudRule, hookimpl

class Chatty(StudRule):
    "Studs with a word on each."
    rule: Literal["chatty"] = "chatty"
    examples = ({"rule": "chatty"},)

    @model_validator(mode="after")
    def check(self):
        print("chatter while reading")
        return self

    def place_studs(self, run):
        print("chatter in a rule")
        return []

@hookimpl
def register_rules():
    print("chatter at a start")
    return [Chatty]

@hookimpl
def check_layout(layout):
    "Tell nothing."
    print("chatter in a check")
    return []
"""


@pytest.mark.parametrize(
    ("command", "start", "last"),
    [
        (["layout", "BUILDING", "--json"], "{", "in a check"),
        (["what-if", "BUILDING", "--json", "--length=0", "--width=0", "--height=0"], "{", "in a rule"),
        (["check", "BUILDING"], "warn: front: ", "in a check"),
        (["schema"], "{", "at a start"),
        (["rules"], "bracing_rules ", "at a start"),
    ],
    ids=["layout", "what-if", "check", "schema", "rules"],
)
def test_what_a_plugin_prints_goes_to_stderr(
    tmp_path: Path, command: list[str], start: str, last: str
) -> None:
    """Standard output is for what was asked for."""
    plugin = tmp_path / "chatty.py"
    plugin.write_text(CHATTY)
    value = honey_house()
    value["defaults"] = {"studs": {"rule": "chatty"}}
    value["stock"] = {"stock": [{"section": [45, 70], "lengths": [{"length": 4800}]}], "time_budget_s": 0}
    asked = [str(file_of(tmp_path, value)) if word == "BUILDING" else word for word in command]
    done = run(*asked, "--plugin", plugin)
    assert "chatter" not in done.stdout
    assert done.stdout.startswith(start)
    if start == "{":
        json.loads(done.stdout)
    assert "chatter at import" in done.stderr
    assert f"chatter {last}" in done.stderr


def test_what_a_plugin_prints_is_not_in_what_a_server_says(tmp_path: Path) -> None:
    plugin = tmp_path / "chatty.py"
    plugin.write_text(CHATTY)
    value = honey_house()
    value["defaults"]["studs"] = {"rule": "chatty"}
    with serving("--plugin", plugin) as server:
        body = json.dumps(value).encode()
        call = Request(f"{server.address}v1/layouts", body, {"Content-Type": "application/json"})
        with urlopen(call) as answer:
            assert answer.status == 200
        server.process.send_signal(signal.SIGINT)
        said, aside = server.process.communicate(timeout=60)
    assert said == ""
    assert "chatter in a rule" in aside
