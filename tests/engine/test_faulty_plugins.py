"""What a plugin can do wrong: each ends in a sentence with plugin, version, rule and remedy."""

from __future__ import annotations

import signal
import sys
from concurrent.futures import ThreadPoolExecutor
from copy import copy
from dataclasses import fields, replace
from pathlib import Path
from typing import Any

import pytest

from soleplate.engine.building_file import Mm, Said
from soleplate.engine.laying_out import lay_out
from soleplate.engine.registry import (
    Interrupted,
    Patience,
    PluginError,
    PluginLoadError,
    RuleError,
    load_registry,
    quietly,
    sound,
)
from soleplate.engine.registry.blame import NonsenseError
from soleplate.engine.registry.deprecation import DEPRECATED, Deprecation, HookDeprecationWarning
from soleplate.engine.rules import (
    Bay,
    Clad,
    Course,
    Cripples,
    DrawnArea,
    DrawnLine,
    DrawnText,
    EndFixing,
    Finding,
    FindingKind,
    FramedOpening,
    NogginPlace,
    Span,
    Strip,
    TopPlates,
    hookspecs,
)
from soleplate.engine.shapes import Member, Role, Section, TopLine
from tests.buildings import building
from tests.engine.test_plugins import VALUE, with_body

SHORT = Patience(processor_s=0.2, idle_s=0.4)
"""What is stopped by it would go on for ever."""

# Python swallows what a signal raises in a callback of the garbage collector, and warns; it comes again.
pytestmark = pytest.mark.filterwarnings("ignore::pytest.PytestUnraisableExceptionWarning")

OPENING = """
from typing import Literal
from soleplate.engine.rules import hookimpl
from soleplate.engine.rules import EndFixing
from soleplate.engine.rules import (
    Anchor, Bay, CornerRule, FinishedOpening, FinishRule, FramedOpening, GoodsKind, HeldDown, HoldingDownRule,
    NogginPlace, NogginRule, OpeningRule, Section, Span, TopPlateRule, TopPlates, level,
)

PEG = GoodsKind("peg", "piece", 0.0, "tried")
BAR = level("cover strip", Section(20.0, 50.0), (900.0, 1700.0, 1900.0, 1950.0), (-20.0, 0.0))

class Odd({base}):
    '''Odd.'''
    rule: Literal["odd"] = "odd"
    examples = ({{"rule": "odd"}},)
    def {method}(self, *given):
        return {answer}
    lay_tee = lambda self, *given: ()

@hookimpl
def register_rules(): return [Odd]
"""


def installed(folder: Path, monkeypatch: pytest.MonkeyPatch, source: str) -> None:
    """A plugin as a distribution has it, version 1.2."""
    (folder / "barn_rules.py").write_text(source)
    about = folder / "barn_rules-1.2.dist-info"
    about.mkdir()
    (about / "METADATA").write_text("Metadata-Version: 2.1\nName: barn-rules\nVersion: 1.2\n")
    (about / "entry_points.txt").write_text("[soleplate.plugins]\nbarn = barn_rules\n")
    monkeypatch.syspath_prepend(str(folder))
    monkeypatch.delitem(sys.modules, "barn_rules", raising=False)


def test_a_failing_rule_is_told_with_version_and_remedy(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    (file,) = with_body(tmp_path, "return 1 / 0")
    installed(tmp_path, monkeypatch, file.read_text())
    registry = load_registry()
    with pytest.raises(RuleError) as raised:
        lay_out(registry.read_building(VALUE), registry)
    assert str(raised.value) == (
        "plugin barn 1.2: rule odd in wall front: ZeroDivisionError: division by zero;"
        " mend it, or leave it out (--without barn)"
    )


@pytest.mark.parametrize(
    ("source", "words"),
    [
        ("import nothing_of_the_kind", "cannot be imported: ModuleNotFoundError: No module named 'nothing"),
        ("raise SystemExit('enough')", "cannot be imported: SystemExit: enough"),
        ("def broken(:", "cannot be imported: SyntaxError"),
    ],
)
def test_a_plugin_that_cannot_be_imported(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, source: str, words: str
) -> None:
    installed(tmp_path, monkeypatch, source)
    with pytest.raises(PluginLoadError, match="leave it out") as raised:
        load_registry()
    assert str(raised.value).startswith(f"plugin barn 1.2: {words}")
    broken = [plugin for plugin in load_registry(keep_going=True).plugins if plugin.problem]
    assert [(plugin.name, plugin.distribution, plugin.version) for plugin in broken] == [
        ("barn", "barn-rules", "1.2")
    ]


@pytest.mark.parametrize(
    ("base", "method", "member", "answer", "words"),
    [
        ("NogginRule", "place_noggins", "noggins", "[3]", "int where NogginPlace belongs"),
        (
            "NogginRule",
            "place_noggins",
            "noggins",
            "[NogginPlace(Bay(100.0, 200.0), 900.0, (EndFixing(2, 'through'),) * 2)]",
            "set a noggin from 100.0 to 200.0 mm, where it has no upright at both ends",
        ),
        ("NogginRule", "place_noggins", "noggins", "None", "returned nothing; a list is needed"),
        ("NogginRule", "place_noggins", "noggins", "iter(int, 1)", "over 40000"),
        ("TopPlateRule", "lay_plates", "top_plates", "()", "where TopPlates belongs"),
        (
            "TopPlateRule", "lay_plates", "top_plates", "TopPlates((1,), given[0].top)",
            r"TopPlates whose members\[0\] is 1, not Member",
        ),
        (
            "TopPlateRule", "lay_plates", "top_plates",
            "TopPlates((), given[0].top, beyond=(0.0, 'x'))", r"whose beyond\[1\] is 'x', not a number",
        ),
        ("CornerRule", "lay_corner", "corners", "['post']", "str where Member belongs"),
        (
            "OpeningRule", "frame_opening", "openings_framing",
            "FramedOpening((), float('nan'), 900.0)", "whose left is nan, not a finite number",
        ),
        (
            "OpeningRule", "frame_opening", "openings_framing",
            "FramedOpening((), 'x', 900.0)", "whose left is 'x', not a number",
        ),
        ("HoldingDownRule", "hold_down", "holding_down", "None", "NoneType where HeldDown belongs"),
        (
            "HoldingDownRule", "hold_down", "holding_down",
            "HeldDown((Anchor(-5.0, PEG, 12.0, 200.0),))", "set a peg at -5.0 mm, out of the sole plate from",
        ),
        (
            "HoldingDownRule", "hold_down", "holding_down",
            "HeldDown((Anchor(20.0, PEG, 12.0, 200.0),))", "set a peg at 20.0 mm, under what stands there",
        ),
        (
            "HoldingDownRule", "hold_down", "holding_down",
            "HeldDown((Anchor(300.0, PEG, 12.0, 200.0), Anchor(306.0, PEG, 12.0, 200.0)))",
            "set a peg at 306.0 mm, out of the sole plate from .* or where another anchor is",
        ),
        (
            "HoldingDownRule", "hold_down", "holding_down",
            "HeldDown((Anchor(300.0, PEG, 0.0, 200.0),))", "set a peg of 0.0 by 200.0 mm",
        ),
        ("FinishRule", "finish_opening", "openings_finish", "None", "NoneType where FinishedOpening belongs"),
        (
            "FinishRule", "finish_opening", "openings_finish",
            "FinishedOpening(Span(800.0, 1700.0, 0.0, 1800.0))",
            "leaves .* clear; accepted is a rectangle within door",
        ),
        (
            "FinishRule", "finish_opening", "openings_finish",
            "FinishedOpening(Span(900.0, 1700.0, 0.0, 1800.0), (BAR, BAR))",
            "a cover strip of door overlaps a cover strip of it",
        ),
    ],
)  # fmt: skip
def test_nonsense_is_told_by_its_place(
    tmp_path: Path, base: str, method: str, member: str, answer: str, words: str
) -> None:
    file = tmp_path / "odd_plugin.py"
    file.write_text(OPENING.format(base=base, method=method, answer=answer))
    registry = load_registry(files=[file])
    opening = {
        "name": "door", "kind": "door", "width": 800, "height": 1800, "at": {"left": 900},
    }  # fmt: skip
    value = building(defaults={member: {"rule": "odd"}}, walls={"front": {"openings": [opening]}})
    with pytest.raises(RuleError, match=words) as raised:
        lay_out(registry.read_building(value), registry)
    assert (raised.value.plugin, raised.value.rule) == ("odd_plugin", "odd")


@pytest.mark.parametrize(
    "body",
    [
        "while True: pass",
        "import itertools; return (run.left for _ in itertools.count() if False)",
        """
        while True:
            try:
                while True: pass
            except Exception: pass
        """,
        """
        try:
            while True: pass
        except: pass
        while True: pass
        """,
    ],
    ids=["loop", "endless-generator", "loop-that-catches", "loop-that-catches-all-once"],
)
def test_a_rule_that_never_returns_is_stopped_and_named(tmp_path: Path, body: str) -> None:
    registry = replace(load_registry(files=with_body(tmp_path, body)), patience=SHORT)
    with pytest.raises(RuleError, match=r"has not answered after 0\.2 s of processor time") as raised:
        lay_out(registry.read_building(VALUE), registry)
    assert str(raised.value).startswith("plugin odd_plugin: rule odd in wall front: ")
    assert raised.value.fault == "too slow"


@pytest.mark.parametrize(
    "body", ["import time; time.sleep(1e6)", "import threading; threading.Event().wait()"]
)
def test_a_rule_that_waits_for_ever_is_stopped_and_named(tmp_path: Path, body: str) -> None:
    registry = replace(load_registry(files=with_body(tmp_path, body)), patience=SHORT)
    with pytest.raises(RuleError, match=r"has not answered for 0\.4 s in which it used no processor time"):
        lay_out(registry.read_building(VALUE), registry)


def test_from_another_thread_nothing_is_stopped(tmp_path: Path) -> None:
    """And nothing is broken: no signal reaches a plugin there."""
    body = """import time
        end = time.thread_time() + 0.1
        while time.thread_time() < end: pass
        return []"""
    registry = load_registry(files=with_body(tmp_path, body))
    registry = replace(registry, patience=Patience(processor_s=0.01))
    with ThreadPoolExecutor(1) as thread:
        layout = thread.submit(lay_out, registry.read_building(VALUE), registry).result()
    assert layout.walls[0].rules["studs"] == "odd"


def test_a_stop_by_the_user_names_who_was_asked(tmp_path: Path) -> None:
    registry = load_registry(files=with_body(tmp_path, "raise KeyboardInterrupt"))
    with pytest.raises(Interrupted) as raised:
        lay_out(registry.read_building(VALUE), registry)
    assert str(raised.value) == (
        "stopped while plugin odd_plugin, rule odd in wall front, was asked; where it never returns, leave"
        " it out (--without odd_plugin)"
    )


def test_a_rule_that_ends_the_program_does_not(tmp_path: Path) -> None:
    registry = load_registry(files=with_body(tmp_path, "raise SystemExit(0)"))
    with pytest.raises(RuleError, match="SystemExit"):
        lay_out(registry.read_building(VALUE), registry)


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("while True: pass", r"cannot be imported: it is not done after 0\.2 s of processor time"),
        (
            "import time\ntime.sleep(1e6)",
            r"imported: it is not done for 0\.4 s in which it used no",
        ),
        (
            "from soleplate.engine.rules import hookimpl\n"
            "@hookimpl\ndef register_exporters():\n    while True: pass",
            r"register_exporters failed: it is not done after 0\.2 s of processor time",
        ),
    ],
)
def test_a_plugin_that_never_finishes_loading(tmp_path: Path, text: str, words: str) -> None:
    file = tmp_path / "slow.py"
    file.write_text(text)
    with pytest.raises(PluginLoadError, match=words):
        load_registry(files=[file], only=(), patience=SHORT)
    registry = load_registry(files=[file], only=(), patience=SHORT, keep_going=True)
    assert [plugin.name for plugin in registry.plugins if plugin.problem] == ["slow"]


def test_patience_leaves_no_timer_behind(tmp_path: Path) -> None:
    before = signal.getsignal(signal.SIGALRM)
    registry = load_registry(files=with_body(tmp_path, "return []"))
    lay_out(registry.read_building(VALUE), registry)
    assert signal.getitimer(signal.ITIMER_REAL) == (0.0, 0.0)
    assert signal.getsignal(signal.SIGALRM) == before


def test_an_overlap_is_blamed_on_who_came_last(tmp_path: Path) -> None:
    """An end stud is made by no rule, and the rule that put a piece on it is named."""
    file = tmp_path / "odd_plugin.py"
    answer = (
        "__import__('soleplate.engine.shapes').engine.shapes.upright("
        "'corner stud', given[0].wall.section, 10.0, 45.0, given[0].wall.underside),"
    )
    file.write_text(OPENING.format(base="CornerRule", method="lay_corner", answer=answer))
    registry = load_registry(files=[file])
    with pytest.raises(PluginError, match="overlaps") as raised:
        lay_out(registry.read_building(building(defaults={"corners": {"rule": "odd"}})), registry)
    assert raised.value.plugin == "odd_plugin"


NOTE = Finding(level="note", code="a", message="b", basis="c")
STUD = Member("stud", Section(45.0, 70.0), ((0.0, 0.0), (45.0, 0.0), (45.0, 900.0)), (0.0, 70.0), 90.0)
FRAMED = FramedOpening((STUD,), 0.0, 900.0, findings=(NOTE,))


def test_a_sound_answer_is_taken_in_as_it_is() -> None:
    assert sound(FRAMED, FramedOpening) == FRAMED
    assert (sound(STUD, Member).right, sound(STUD, Member).top) == (45.0, 900.0)
    figures = (("apart", Mm(310.0)), ("count", 3), ("more", Said("{a}", (("a", 0.5),))))
    told = replace(NOTE, message="{apart} {count} {more}", figures=figures)
    assert sound(told, Finding) == told


BAY, SPAN, TOP = Bay(0.0, 400.0), Span(0.0, 900.0, 0.0, 45.0), TopLine(((0.0, 2000.0), (900.0, 2000.0)))
STRIP = Strip("board", Section(18.0, 95.0), "larch", SPAN, SPAN, (-18.0, 0.0))
WHOLE = (
    STUD, FRAMED, NOTE, BAY, TOP, STRIP,
    EndFixing(2, "skew"),
    Cripples(0.0, 900.0, 2000.0),
    NogginPlace(BAY, 900.0, (EndFixing(2, "through"), EndFixing(2, "skew"))),
    TopPlates((STUD,), TOP),
    Course(1, 0.0, 95.0, 95.0),
    Clad((STRIP,)),
    DrawnLine(((0.0, 0.0),)),
    DrawnArea(((0.0, 0.0),)),
    DrawnText((0.0, 0.0), "here"),
    Role("prop", "upright"),
    FindingKind("odd", "note", "none", "so"),
)  # fmt: skip


@pytest.mark.parametrize("answer", WHOLE, ids=lambda answer: type(answer).__name__)
def test_every_member_of_an_answer_is_looked_at(answer: Any) -> None:
    """None has settings of its own, by which pydantic would take what it is told for what it is."""
    assert sound(answer, type(answer)) == answer
    for member in fields(answer):
        if member.init:
            odd = copy(answer)
            object.__setattr__(odd, member.name, object())
            with pytest.raises(NonsenseError, match=f"whose {member.name}"):
                sound(odd, type(answer))


def test_a_bare_tuple_becomes_the_section_that_it_stands_for() -> None:
    bare = replace(STUD, section=(45.0, 70.0))  # type: ignore[arg-type]
    assert sound(bare, Member).section.depth == 70.0


@pytest.mark.parametrize(
    ("kind", "answer", "words"),
    [
        (Member, 3, "returned int where Member belongs"),
        (Member, replace(STUD, role=3), "returned a Member whose role is 3, not a string"),
        (Member, replace(STUD, depth=(0.0, 1.0, 2.0)),
         "returned a Member whose depth: tuple should have at most 2 items after validation, not 3"),
        (FramedOpening, replace(FRAMED, findings=(replace(NOTE, value="c"),)),
         "returned a FramedOpening whose findings[0].value is 'c', not a number"),
        (Finding, replace(NOTE, message="{apart}", figures=(("apart", Mm(310.0, bare="far")),)),
         "returned a Finding whose figures[0][1].bare is 'far', not a boolean"),
        (NogginPlace, NogginPlace(Bay(0.0, True), 1.0, (None, None)),
         "returned a NogginPlace whose bay.right is True, not a number"),
        (DrawnLine, DrawnLine("ab"), "returned a DrawnLine whose points is 'ab', not a tuple"),
        (DrawnLine, DrawnLine(((0.0, float("inf")),)),
         "returned a DrawnLine whose points[0][1] is inf, not a finite number"),
    ],
)  # fmt: skip
def test_answers_are_looked_at_down_to_their_numbers(kind: type[Any], answer: object, words: str) -> None:
    with pytest.raises(NonsenseError) as raised:
        sound(answer, kind)
    assert str(raised.value) == words


KINDS = """
from soleplate.engine.rules import PRACTICE, FindingKind, hookimpl
@hookimpl
def register_finding_kinds(): return [{kinds}]
"""


@pytest.mark.parametrize(
    ("kinds", "words"),
    [
        ("'odd'", "offers 'odd', which is no FindingKind"),
        (
            "FindingKind('odd', 'grave', PRACTICE, 'so')",
            "whose level is 'grave', not 'stop', 'warn' or 'note'",
        ),
        ("FindingKind('odd', 'note', PRACTICE, 3)", "whose sentence is 3, not a string"),
        ("FindingKind('Odd one', 'note', PRACTICE, 'so')", "'Odd one'; accepted is kebab-case"),
        ("FindingKind('wide-bay', 'note', PRACTICE, 'so')", "'wide-bay' is taken by plugin cautions"),
    ],
)
def test_kinds_of_findings_are_looked_at(tmp_path: Path, kinds: str, words: str) -> None:
    file = tmp_path / "odd_kinds.py"
    file.write_text(KINDS.format(kinds=kinds))
    with pytest.raises(PluginError) as raised:
        load_registry(files=[file])
    assert raised.value.plugin == "odd_kinds"
    assert words in str(raised.value)


def test_a_finding_whose_figures_do_not_fit_its_sentence(tmp_path: Path) -> None:
    """It is told of whoever made it, and not where it is put into words."""
    answer = (
        "FramedOpening((), 0.0, 100.0, findings=(FindingKind('odd', 'note', 'none', '{wide}').of(high=1.0),))"
    )
    file = tmp_path / "odd.py"
    text = OPENING.format(base="OpeningRule", method="frame_opening", answer=answer)
    file.write_text(text.replace("EndFixing\n", "EndFixing, FindingKind\n"))
    registry = load_registry(files=[file])
    opening = {"name": "o", "kind": "window", "width": 900, "height": 900, "sill": 900, "at": {"left": 900}}
    value = building(walls={"front": {"openings": [opening | {"framing": {"rule": "odd"}}]}})
    with pytest.raises(RuleError, match="the figures of finding 'odd' do not fit its sentence") as raised:
        lay_out(registry.read_building(value), registry)
    assert (raised.value.plugin, raised.value.rule) == ("odd", "odd")


OLD = {"register_rules": Deprecation("0.1", "0.3", "offer them by register_upright_rules")}


def test_a_deprecated_hook_works_and_names_its_plugin(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    (file,) = with_body(tmp_path, "return []")
    installed(tmp_path, monkeypatch, file.read_text())
    told = (
        "plugin barn 1.2: implements register_rules, which is deprecated since 0.1 and gone in 0.3;"
        " offer them by register_upright_rules"
    )
    with pytest.warns(HookDeprecationWarning) as warned:
        registry = load_registry(only=["barn", "cautions", "lists"], deprecated=OLD)
    assert [str(warning.message) for warning in warned] == [told]
    assert {plugin.name: plugin.notices for plugin in registry.plugins if plugin.notices} == {"barn": (told,)}
    assert [rule.name for rule in registry.of_family("stud_rules")] == ["odd"]
    with quietly():
        load_registry(only=["barn"], deprecated=OLD)


def test_a_deprecation_leaves_time_to_change() -> None:
    assert Deprecation("0.9", "0.10", "").gone_in == "0.10"
    with pytest.raises(ValueError, match="accepted is a minor release after"):
        Deprecation("0.2", "0.2.1", "use something else")


def test_what_is_deprecated_is_a_hook() -> None:
    assert set(DEPRECATED) <= set(vars(hookspecs))


def test_what_a_library_says_is_told_on_one_line(tmp_path: Path) -> None:
    file = tmp_path / "odd_check.py"
    file.write_text(
        "from soleplate.engine.rules import hookimpl\n"
        "from soleplate.engine.rules import Finding\n"
        "@hookimpl\n"
        "def check_layout(layout):\n"
        "    return [Finding(level='note', code='odd', message=3, basis='none')]\n"
    )
    registry = load_registry(files=[file])
    with pytest.raises(RuleError) as raised:
        lay_out(registry.read_building(building()), registry)
    assert str(raised.value) == (
        "plugin odd_check: hook check_layout: returned a Finding whose message is 3, not a string;"
        " mend it, or leave it out (--without odd_check)"
    )


@pytest.mark.parametrize(
    "line", ["from pydantic import Feld", "open('/etc/soleplate/none.ini')", "import timber_tables"]
)
def test_no_message_tells_where_things_lie_on_this_machine(tmp_path: Path, line: str) -> None:
    file = tmp_path / "odd_import.py"
    file.write_text(line)
    with pytest.raises(PluginLoadError, match="cannot be imported") as raised:
        load_registry(files=[file])
    assert "/" not in str(raised.value)


CHANGING = """
from typing import Literal
from soleplate.engine.rules import *
from soleplate.engine.rules import hookimpl

def change(thing, **values):
    for name, value in values.items():
        object.__setattr__(thing, name, value)

class Odd({base}):
    "Changes what it is given."
    rule: Literal["odd"] = "odd"
    examples = ({{"rule": "odd"}},)
    hidden: list[float] = []
    "What it remembers."
    def {method}(self, *given):
        {body}
    lay_tee = lambda self, *given: ()
    build_out = property(lambda self: 20.0)

@hookimpl
def register_rules(): return [Odd]
"""


@pytest.mark.parametrize(
    ("base", "method", "member", "body"),
    [
        ("StudRule", "place_studs", "studs", "change(given[0], left=900.0); return []"),
        ("StudRule", "place_studs", "studs", "change(self, rule='other'); return []"),
        ("StudRule", "place_studs", "studs", "self.hidden.append(1.0); return []"),
        (
            "NogginRule", "place_noggins", "noggins",
            "change(given[0].members[0], outline=((0.0, 0.0), (9.0, 0.0), (9.0, -900.0))); return []",
        ),
        ("NogginRule", "place_noggins", "noggins", "change(given[0], length=1.0); return []"),
        ("TopPlateRule", "lay_plates", "top_plates", "change(given[0], length=1.0)"),
        (
            "OpeningRule", "frame_opening", "openings_framing",
            "change(given[0], left=1.0); return FramedOpening((), 0.0, 1.0)",
        ),
        ("CornerRule", "lay_corner", "corners", "change(given[0].wall, length=1.0); return []"),
        (
            "CladdingRule", "lay", "cladding",
            "change(given[0].timbers[0], outline=()); return Clad((), ())",
        ),
    ],
)  # fmt: skip
def test_a_rule_that_changes_what_it_is_given_is_blamed_itself(
    tmp_path: Path, base: str, method: str, member: str, body: str
) -> None:
    """And not whoever made what it changed."""
    file = tmp_path / "odd_plugin.py"
    file.write_text(CHANGING.format(base=base, method=method, body=body))
    registry = load_registry(files=[file])
    opening = {"name": "door", "kind": "door", "width": 800, "height": 1800, "at": {"left": 900}}
    value = building(defaults={member: {"rule": "odd"}}, walls={"front": {"openings": [opening]}})
    with pytest.raises(RuleError, match="changed what it was given, or its own members") as raised:
        lay_out(registry.read_building(value), registry)
    assert (raised.value.plugin, raised.value.rule) == ("odd_plugin", "odd")
    assert raised.value.fault == "changes what it is given"


CHECK = """
from soleplate.engine.rules import Finding, hookimpl
@hookimpl
def check_layout(layout, building):
    told = dict(level="note", code="odd", message="so it is", basis="none")
    return {answer}
"""


@pytest.mark.parametrize(
    ("answer", "said"),
    [
        ("Finding(**told)", "returned one Finding; a list of them is needed"),
        ("layout.walls[0]", "returned one WallOut; a list of them is needed"),
        ("Finding", "returned the class Finding; a list of them is needed"),
        ("told", "returned one dict; a list of them is needed"),
        ("'so it is'", "returned one str; a list of them is needed"),
        ("None", "returned nothing; a list is needed, which may be empty"),
        (
            "[Finding(**told, part='nowhere')]",
            "finding odd names 'nowhere', which is not in the layout; accepted are front, right, back, left",
        ),
        (
            "[Finding(**told, pieces=('F1', 'Z9'))]",
            "finding odd names piece 'Z9', which is not in the layout; accepted are F1, F2, F3, F4, F5, F6,"
            " F7, F8, F9, F10, R1, R2 and others, 34 in all",
        ),
    ],
)
def test_a_check_that_answers_with_something_else_is_told_in_plain_words(
    tmp_path: Path, answer: str, said: str
) -> None:
    file = tmp_path / "odd_check.py"
    file.write_text(CHECK.format(answer=answer))
    registry = load_registry(files=[file])
    with pytest.raises(RuleError) as raised:
        lay_out(registry.read_building(building()), registry)
    assert str(raised.value) == (
        f"plugin odd_check: hook check_layout: {said}; mend it, or leave it out (--without odd_check)"
    )


EXPORTER = """
from soleplate.engine.rules import Exporter, hookimpl
class Odd(Exporter):
    "Nothing."
    name = "odd"
    {members}
    def export(self, layout): return b""
@hookimpl
def register_exporters(): return [Odd]
"""


@pytest.mark.parametrize(
    ("members", "said"),
    [
        ("media_type = 'text/csv'", "class Odd has no suffix; accepted is like suffix = '.csv'"),
        (
            "media_type = 'text/csv'; suffix = 'csv'",
            "class Odd has the suffix 'csv'; accepted is like suffix = '.csv'",
        ),
        ("suffix = '.csv'", "class Odd has no media_type; accepted is like media_type = 'text/csv'"),
        (
            "media_type = 3; suffix = '.csv'",
            "class Odd has the media_type 3; accepted is like media_type = 'text/csv'",
        ),
        (
            "media_type = 'text/csv'; suffix = '.csv'; options = dict",
            "class Odd has the options <class 'dict'>; accepted are some of ExportOptions",
        ),
    ],
)
def test_a_half_made_exporter_stops_the_start(tmp_path: Path, members: str, said: str) -> None:
    file = tmp_path / "odd.py"
    file.write_text(EXPORTER.format(members=members))
    with pytest.raises(PluginLoadError) as raised:
        load_registry(files=[file])
    assert raised.value.message == said
    assert raised.value.plugin == "odd"


def test_a_parameter_without_a_type_is_told_in_plain_words(tmp_path: Path) -> None:
    (file,) = with_body(tmp_path, "return []")
    file.write_text(file.read_text().replace("    examples = ", "    largest = 600\n    examples = "))
    with pytest.raises(PluginLoadError) as raised:
        load_registry(files=[file])
    assert raised.value.message == (
        "cannot be imported: `largest = 600` has no type; accepted is one as in `largest: float = 600`, or"
        " `ClassVar[float]` where it is no parameter"
    )


def test_layers_and_exporters_of_two_plugins_may_have_classes_of_one_name(tmp_path: Path) -> None:
    """What is taken by the first is the `name` alone."""
    text = EXPORTER.format(members="media_type = 'text/csv'; suffix = '.csv'")
    files = [tmp_path / "one.py", tmp_path / "two.py"]
    files[0].write_text(text)
    files[1].write_text(text.replace('"odd"', '"even"'))
    registry = load_registry(files=files)
    made = {name: type(exporter).__name__ for name, exporter in registry.exporters if name in ("one", "two")}
    assert made == {"one": "Odd", "two": "Odd"}
