"""The contract: what ships keeps it, and each way of breaking it is found in a faulty plugin."""

from __future__ import annotations

import random
import time
from collections.abc import Iterable, Sequence
from dataclasses import replace
from pathlib import Path
from typing import Annotated, Any, Literal, get_args

import pytest
from pydantic import Field

from soleplate.engine import contract
from soleplate.engine.building_file import AnyLength, Limits
from soleplate.engine.contract.__main__ import main, offers_of
from soleplate.engine.contract.breach import REMEDIES, Fault, Unkept
from soleplate.engine.contract.buildings import buildings
from soleplate.engine.contract.members import members_told
from soleplate.engine.contract.values import parameter_sets, values_of
from soleplate.engine.layout import Layout
from soleplate.engine.registry import Breakage
from soleplate.engine.rules import (
    Adjustment,
    CannotFrame,
    DrawingLayer,
    DrawnLine,
    DrawnText,
    Exporter,
    Finding,
    NogginPlace,
    NogginRule,
    Run,
    StudRule,
    Wall,
)
from soleplate.engine.shapes import UPRIGHT, EndFixing, Member, rectangle
from soleplate.plugins import cladding_bare, noggins
from soleplate.plugins.studs import EqualBays
from tests.api import plugin_files
from tests.buildings import registry

FEW = 9
"""Cases: the buildings that are written, not drawn."""

LONG = 10_000.0
"""mm. One generated wall is longer, so that what is slow is slow there alone."""


class Sound(StudRule):
    """A stud in the middle, kept clear of the ends."""

    rule: Literal["tried"] = "tried"
    examples = ({"rule": "tried"},)

    def place_studs(self, run: Run) -> Sequence[float]:
        return [(run.left + run.right - run.breadth) / 2]


class Outside(Sound):
    """Studs past the end."""

    def place_studs(self, run: Run) -> Sequence[float]:
        return [run.right + 500.0]


class Overlapping(Sound):
    """Studs in each other."""

    def place_studs(self, run: Run) -> Sequence[float]:
        return [run.left + 100.0, run.left + 110.0]


class Failing(Sound):
    """Forgets that a run may be short."""

    def place_studs(self, run: Run) -> Sequence[float]:
        return [[run.left + 100.0][int(run.clear < 400)]]


class Chancy(Sound):
    """Studs by chance."""

    def place_studs(self, run: Run) -> Sequence[float]:
        return [run.left + random.random()]


class Meddling(Sound):
    """Changes the run that it is given."""

    def place_studs(self, run: Run) -> Sequence[float]:
        object.__setattr__(run, "stud_lines", (1.0,))
        return []


def busy(seconds: float) -> None:
    """Use so much processor time, however long that takes."""
    end = time.thread_time() + seconds
    while time.thread_time() < end:
        pass


class Slow(Sound):
    """Takes its time."""

    def place_studs(self, run: Run) -> Sequence[float]:
        busy(0.03 if run.length > LONG else 0.0)
        return []


class Endless(Sound):
    """Never comes to an end."""

    def place_studs(self, run: Run) -> Sequence[float]:
        while run.length > LONG:
            pass
        return []


class Refusing(Sound):
    """Serves nobody."""

    def place_studs(self, run: Run) -> Sequence[float]:
        raise CannotFrame("not today; accepted is tomorrow")


class HalfMade(StudRule):
    """Lacks its method."""

    rule: Literal["tried"] = "tried"
    examples = ({"rule": "tried"},)


class Taken(Sound):
    """Has a name that is taken."""

    rule: Literal["at"] = "at"  # type: ignore[assignment]
    examples = ({"rule": "at"},)


class Undocumented(Sound):
    """Has a field that says nothing."""

    largest: Annotated[AnyLength, Limits(100.0, 900.0)] = 600.0


class Unlimited(Sound):
    """Has a field that takes anything."""

    count: int = 3
    """How many."""


class WithoutExample(Sound):
    """Shows nobody how it is asked for."""

    examples = ()


class Nonsense(NogginRule):
    """Returns something else."""

    rule: Literal["tried"] = "tried"
    examples = ({"rule": "tried"},)

    def place_noggins(self, wall: Any) -> Any:
        return [3]


class Adding(Adjustment):
    """Adds a post in the middle of the wall."""

    rule: Literal["tried"] = "tried"
    examples = ({"rule": "tried"},)

    def adjust_wall(self, wall: Wall) -> Sequence[Member]:
        return [*wall.members, self.post(wall)]

    def post(self, wall: Wall) -> Member:
        raise NotImplementedError


class Hanging(Adding):
    """Adds a stud that stands on nothing, outside of the frame's face so that it overlaps nothing."""

    def adjust_wall(self, wall: Wall) -> Sequence[Member]:
        kept = [member for member in wall.members if not (member.is_upright and member.left > 100.0)]
        return [m for m in kept if m.role != "noggin"] + [self.post(wall)]

    def post(self, wall: Wall) -> Member:
        outline = rectangle(wall.length - 50.0, wall.length, 200.0, 400.0)
        return Member("stud", wall.section, outline, (0.0, 1.0), UPRIGHT)


class Flat(Adding):
    """Adds a piece without a thickness."""

    def post(self, wall: Wall) -> Member:
        return replace(wall.members[0], depth=(1.0, 1.0))


FAULTY: list[tuple[type[Any], contract.Fault, str]] = [
    (Outside, "outside the wall", "outside the run"),
    (Overlapping, "overlap", "overlap"),
    (Hanging, "unsupported end", "stands on nothing"),
    (Flat, "misshapen", "no thickness"),
    (Failing, "failure", "IndexError"),
    (Nonsense, "nonsense", "int where NogginPlace belongs"),
    (Chancy, "not the same twice", "place_studs returned"),
    (Meddling, "changes what it is given", "place_studs changed"),
    (Slow, "too slow", "of processor time; accepted is up to 0.01 s"),
    (Endless, "too slow", "has not answered after 0.1 s of processor time"),
    (Refusing, "refuses everything", "not today"),
    (HalfMade, "half made", "lacks place_studs"),
    (Taken, "half made", "'at' is taken"),
    (Undocumented, "undocumented field", "largest has no docstring"),
    (Unlimited, "no limits", "count takes numbers without limits"),
    (WithoutExample, "no example", "no examples"),
]


# Python swallows what a signal raises in a callback of the garbage collector, and warns; it comes again.
SWALLOWED = pytest.mark.filterwarnings("ignore::pytest.PytestUnraisableExceptionWarning")

SHIPPED: list[Any] = [offer for plugin in registry().plugins for offer in offers_of(registry(), plugin.name)]


@pytest.mark.parametrize("offer", SHIPPED, ids=lambda offer: f"{offer.__module__}-{offer.__name__}")
def test_what_ships_keeps_the_contract(offer: Any) -> None:
    contract.check(offer, seconds=60.0)


def test_all_that_ships_is_held_to_it() -> None:
    installed = registry()
    every = (installed.rules, installed.checks, installed.drawing_layers, installed.exporters)
    assert len(SHIPPED) == sum(map(len, every))


def test_a_sound_rule_keeps_it() -> None:
    contract.check(Sound, cases=FEW)


class Far(NogginRule):
    """Noggins that no wall has room for."""

    rule: Literal["tried"] = "tried"
    examples = ({"rule": "tried"},)

    def place_noggins(self, wall: Wall) -> Sequence[NogginPlace]:
        fixing = EndFixing(2, "through")
        return [NogginPlace(bay, -5000.0, (fixing, fixing)) for bay in wall.bays_at(900.0)]


def test_noggins_that_never_have_room_are_told() -> None:
    with pytest.raises(contract.ContractBroken, match="outside the wall: none of its noggins has room"):
        contract.check(Far, cases=FEW)


def test_a_slow_rule_is_told_after_its_first_call() -> None:
    calls: list[int] = []

    class Dawdling(Sound):
        """Takes its time."""

        def place_studs(self, run: Run) -> Sequence[float]:
            calls.append(1)
            busy(0.02)
            return []

    with pytest.raises(contract.ContractBroken, match="too slow"):
        contract.check(Dawdling, seconds=0.01, cases=FEW)
    assert len(calls) == 2  # The second, to be sure.


def name_of(value: Any) -> str | None:
    return getattr(value, "__name__", None)


@SWALLOWED
@pytest.mark.parametrize(("rule", "fault", "words"), FAULTY, ids=name_of)
def test_a_faulty_rule_breaks_it_in_one_way(rule: type[Any], fault: contract.Fault, words: str) -> None:
    seconds = 0.01 if rule in (Slow, Endless) else contract.SECONDS
    with pytest.raises(contract.ContractBroken) as raised:
        contract.check(rule, seconds=seconds, cases=FEW)
    assert {breach.fault for breach in raised.value.breaches} == {fault}
    told = str(raised.value)
    assert words in told
    assert REMEDIES[fault] in told


def test_every_fault_is_provoked() -> None:
    assert {fault for _, fault, _ in FAULTY} == set(get_args(contract.Fault)) == set(REMEDIES)


def test_a_breach_brings_what_shows_it_again() -> None:
    (breach,) = contract.breaches(Overlapping, cases=FEW)
    assert breach.parameters == {"rule": "tried"}
    assert breach.building is not None
    assert breach.building["defaults"]["studs"] == {"rule": "tried"}
    assert "in a shed under a mono-pitch roof" in str(breach)


def test_the_same_is_found_every_time() -> None:
    assert contract.breaches(Failing, cases=FEW) == contract.breaches(Failing, cases=FEW)
    assert buildings() == buildings()


def test_parameters_are_tried_at_their_limits() -> None:
    sets = parameter_sets(EqualBays)
    assert sets[: len(EqualBays.examples)] == [dict(example) for example in EqualBays.examples]
    assert {0, 100, 200} <= {one["number"] for one in sets if "number" in one}
    assert {50.0, 3000.0} <= {one["largest_bay"] for one in sets if "largest_bay" in one}
    for one in sets:
        EqualBays.model_validate(one)


@pytest.mark.parametrize(
    ("schema", "values"),
    [
        ({"type": "integer", "minimum": 1, "maximum": 10}, [1, 6, 10]),
        ({"type": "number", "exclusiveMinimum": 0.5, "maximum": 1000}, [0.5, 22.361, 1000]),
        ({"enum": ["left", "right"]}, ["left", "right"]),
        ({"anyOf": [{"type": "boolean"}, {"type": "null"}]}, [False, True]),
        ({"$ref": "#/$defs/Size"}, [1.0, 2.0, 3.0]),
        (
            {"type": "array", "items": {"type": "boolean"}, "maxItems": 2},
            [[], [False, True], [False], [True]],
        ),
        (
            {"type": "object", "properties": {"a": {"const": 1}, "b": {"type": "boolean"}},
             "required": ["a"]},
            [{"a": 1}, {"a": 1}, {"a": 1, "b": False}, {"a": 1, "b": True}],
        ),
        ({"type": "array", "prefixItems": [{"const": 1}, {"type": "boolean"}]}, [[1, False], [1, True]]),
    ],
)  # fmt: skip
def test_values_of_a_schema(schema: dict[str, Any], values: list[Any]) -> None:
    definitions = {"Size": {"type": "number", "x-least-mm": 1.0, "x-most-mm": 3.0}}
    assert values_of(schema, definitions) == values


class Line(DrawingLayer):
    """A line at 1 m."""

    name = "level-line"

    def draw(self, wall: Any, layout: Layout) -> Sequence[Any]:
        return [DrawnLine(((0.0, 1000.0), (wall.length, 1000.0)))]


class WrongLine(Line):
    """Returns a line that is none."""

    def draw(self, wall: Any, layout: Layout) -> Sequence[Any]:
        return [DrawnText((0.0, "x"), "1 m")]  # type: ignore[arg-type]


class MeddlingLine(Line):
    """Changes the layout that it is given."""

    def draw(self, wall: Any, layout: Layout) -> Sequence[Any]:
        object.__setattr__(layout, "name", f"{layout.name}!")
        return []


class Table(Exporter):
    """The names of the walls."""

    name = "wall-names"
    media_type = "text/plain"
    suffix = ".txt"

    def export(self, layout: Layout) -> bytes:
        return " ".join(wall.name for wall in layout.walls).encode()


class WrongTable(Table):
    """Returns text."""

    def export(self, layout: Layout) -> Any:
        return "names"


class HalfTable(Table):
    """Has a media type that is none."""

    media_type = "text"


def wrong_check(layout: Layout) -> Iterable[Finding]:
    """Point to a piece that is not there."""
    return [Finding(level="note", code="x", message="x", basis="common practice", pieces=("Z99",))]


def emptying_check(building: Any, layout: Layout) -> Iterable[Finding]:
    """Empty the building file that the layout tells."""
    layout.building.clear()
    return []


def failing_check(building: Any, layout: Layout) -> Iterable[Finding]:
    """Fail."""
    raise KeyError("x")


@pytest.mark.parametrize(
    ("offer", "faults"),
    [
        (Line, set()),
        (WrongLine, {"nonsense"}),
        (MeddlingLine, {"changes what it is given"}),
        (Table, set()),
        (WrongTable, {"nonsense"}),
        (HalfTable, {"half made"}),
        (wrong_check, {"nonsense"}),
        (emptying_check, {"changes what it is given"}),
        (failing_check, {"failure"}),
    ],
    ids=name_of,
)
def test_layers_exporters_and_checks(offer: Any, faults: set[str]) -> None:
    assert {breach.fault for breach in contract.breaches(offer)} == faults


def test_what_no_plugin_offers() -> None:
    with pytest.raises(TypeError, match="is no rule, drawing layer, exporter or check_layout function"):
        contract.check(int)  # type: ignore[arg-type]


def test_a_file_is_held_to_it(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    sound, faulty = tmp_path / "sound.py", tmp_path / "faulty.py"
    sound.write_text(plugin_files.layer())
    faulty.write_text(plugin_files.layer(draw="return 1 / 0"))
    assert main([str(sound)]) == 0
    assert "Level: keeps the contract\nNames: keeps the contract\n" in capsys.readouterr().out
    assert main([str(faulty)]) == 1
    assert "Level: breaks the contract\n- failure: " in capsys.readouterr().out
    assert main([str(tmp_path / "none.py")]) == 2
    assert "plugin none" in capsys.readouterr().err
    assert main(["none_such"]) == 2
    assert "plugin none_such: cannot be imported: ModuleNotFoundError" in capsys.readouterr().err
    assert main([str(sound), "--without", "nogins"]) == 2
    assert "plugin nogins: is not there to be left out" in capsys.readouterr().err


@pytest.mark.parametrize("asked", ["--help", ""])
def test_its_usage_is_told(asked: str, capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(SystemExit) as ended:
        main([asked] if asked else [])
    told = capsys.readouterr()
    assert ended.value.code == (0 if asked else 2)
    assert "--without NAME" in told.out + told.err


@pytest.mark.parametrize(
    "target", ["cladding-bare", "soleplate.plugins.cladding_bare", str(cladding_bare.__file__)]
)
def test_an_installed_plugin_is_held_to_it_by_name_module_or_its_own_file(
    target: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main([target, "--members", "--without", "cladding-lapped"]) == 0
    told = capsys.readouterr().out.splitlines()
    assert told[0] == "Bare: keeps the contract"
    assert "  clearance: from 0 to 50 mm; usually 5.0; tried with 0.0, 25.0, 50.0" in told
    assert "  joints_apart: from 1 to 10; usually 2; tried with 1, 6, 10" in told


def test_a_module_is_held_to_it(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    (tmp_path / "tried_package").mkdir()
    (tmp_path / "tried_package" / "__init__.py").write_text(plugin_files.layer())
    monkeypatch.syspath_prepend(str(tmp_path))
    assert main(["tried_package"]) == 0
    assert "Level: keeps the contract" in capsys.readouterr().out


def test_a_copy_takes_the_place_of_the_plugin_that_is_left_out(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    copy = tmp_path / "other_noggins.py"
    copy.write_text(Path(str(noggins.__file__)).read_text(encoding="utf-8"))
    assert main([str(copy)]) == 2
    assert "is taken by plugin noggins" in capsys.readouterr().err
    assert main([str(copy), "--without", "noggins", "--cases", "2"]) == 0
    assert "Straight: keeps the contract" in capsys.readouterr().out


def test_a_plugin_that_has_nothing_to_try_is_no_success(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["noggins", "--without", "noggins"]) == 2
    assert "plugin noggins: is left out" in capsys.readouterr().err
    file = tmp_path / "posts.py"
    file.write_text(
        "from soleplate.engine.rules import Role, hookimpl\n"
        "@hookimpl\ndef register_roles(): return [Role('stilt', 'upright')]\n"
    )
    assert main([str(file)]) == 2
    assert "plugin posts: has no rule, layer, exporter or check" in capsys.readouterr().err


def test_what_a_rule_does_wrong_while_it_is_asked_is_named_once() -> None:
    assert set(get_args(Breakage)).isdisjoint(get_args(Unkept))
    assert set(get_args(Fault)) == {*get_args(Breakage), *get_args(Unkept)}


def test_members_are_told_with_defaults_limits_and_what_is_tried() -> None:
    told = list(members_told(EqualBays))
    assert "largest_bay: from 50 to 3000 mm; usually null; tried with 50.0, 1525.0, 3000.0" in told
    assert any(line.startswith("number: from 0 to 200; usually null; tried with 0, ") for line in told)

    class Narrow(Sound):
        """Has a member that must be given."""

        gap: Annotated[AnyLength, Limits(2.0, 8.0)]
        """How wide."""

    assert list(members_told(Narrow)) == ["gap: from 2 to 8 mm; must be given; tried with 2.0, 5.0, 8.0"]


def test_limits_of_pydantic_count_as_limits() -> None:
    class Bounded(Sound):
        """Has a field with limits."""

        count: Annotated[int, Field(ge=0, le=3)] = 3
        """How many."""

    contract.check(Bounded, cases=FEW)


def test_what_a_plugin_prints_is_no_part_of_the_report(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    file = tmp_path / "chatty.py"
    file.write_text("print('chatter')\n" + plugin_files.layer(draw="print('more')\n        return []"))
    assert main([str(file)]) == 0
    told = capsys.readouterr()
    assert told.out == "Level: keeps the contract\nNames: keeps the contract\n"
    assert told.err.startswith("chatter\nmore\n")
