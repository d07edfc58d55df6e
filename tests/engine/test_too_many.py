"""Buildings of few bytes and many pieces: refused before the work for the pieces is done, none wrongly."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from importlib import import_module
from pathlib import Path
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from soleplate.engine import laying_out
from soleplate.engine.building_file import Stock, TooManyPiecesError, UnbuildableError
from soleplate.engine.covering import checking, cover, wall_surfaces
from soleplate.engine.covering.heading_joints import task as planning
from soleplate.engine.covering.heading_joints import ways as runs
from soleplate.engine.covering.sure import sure
from soleplate.engine.framing import frame_wall, set_out
from soleplate.engine.laying_out import lay_out
from soleplate.engine.registry import RuleError, asking, load_registry
from soleplate.engine.rules import Hole, Section, Span, Strip
from tests.buildings import building, registry

MOST = 10_000
CLOSE = {"rule": "fixed-centres", "centres": 121}
FAR = {"rule": "equal-bays", "largest_bay": 3000}
COVERED = {"rule": "board-and-batten", "width": 60, "cover_width": 20, "least_lap": 5, "gap": 0}
THIN = {"rule": "tongue-and-groove", "width": 20, "cover": 20, "gap": 0, "least_drop": 0, "most_drop": 50}


def walls(number: int, height: float, length: float = 60_000.0, **defaults: Any) -> dict[str, Any]:
    """Walls on their own, of thin timber."""
    return building(
        frame={"section": [20, 45], "material": "C16"},
        outline={"walls": [{"name": f"w{index}", "length": length} for index in range(number)]},
        roof={"form": "level", "height": height},
        defaults=defaults,
    )


def small_openings(wall: int) -> list[dict[str, Any]]:
    """As many as a wall may have, every one at a height of its own."""
    return [
        {
            "name": f"{index}",
            "kind": "gap",
            "width": 10,
            "height": 10 + 0.37 * index + 0.11 * wall,
            "sill": 100 + 1.013 * index + 7.7 * wall,
            "at": {"left": 500 + 1400 * index},
        }
        for index in range(40)
    ]


class Steps:
    """Counts the calls of functions in which the work of too many pieces would be done."""

    def __init__(self) -> None:
        self.taken = 0

    def counting(self, call: Callable[..., Any]) -> Callable[..., Any]:
        def counted(*given: Any, **named: Any) -> Any:
            self.taken += 1
            return call(*given, **named)

        return counted


@pytest.fixture
def steps(monkeypatch: pytest.MonkeyPatch) -> Steps:
    counter = Steps()
    for place in ("framing.noggins.meets", "covering.covering.fixed_board", "covering.boards.remains"):
        module, name = place.rsplit(".", 1)
        target = f"soleplate.engine.{module}.{name}"
        monkeypatch.setattr(target, counter.counting(_found(target)))
    return counter


def _found(target: str) -> Any:
    module, name = target.rsplit(".", 1)
    return getattr(import_module(module), name)


@pytest.mark.parametrize(
    "value",
    [
        walls(1, 20_000, studs=CLOSE, noggins={"rule": "straight", "behind_sheets": 300}),
        walls(20, 2_400, studs=FAR, cladding=COVERED),
        walls(300, 2_400, studs=FAR, cladding=COVERED, lining=COVERED),
        walls(40, 7_000, cladding=THIN),
        walls(25, 7_000, cladding=THIN),
        walls(300, 7_900, 2_000, studs=FAR, cladding=THIN),
        walls(8, 2_400, studs=FAR, cladding=THIN | {"most_drop": 500})
        | {"walls": {f"w{wall}": {"openings": small_openings(wall)} for wall in range(8)}},
    ],
    ids=["noggins", "covers", "covers-and-lining", "boards", "jointed", "many-walls", "openings"],
)
def test_too_many_pieces_are_refused_before_they_are_made(value: dict[str, Any], steps: Steps) -> None:
    """Told by steps, not by seconds: a few for each piece that there may be, however many there are."""
    read = registry().read_building(value)
    with pytest.raises(TooManyPiecesError, match="over 10000 pieces; accepted are up to that"):
        lay_out(read, registry(), most_pieces=MOST)
    assert steps.taken <= 4 * MOST


@pytest.mark.parametrize("more", [{}, {"panels": {"largest_weight": 40}}], ids=["plain", "panels"])
def test_no_wall_is_jointed_before_all_are_filled(
    more: dict[str, Any], monkeypatch: pytest.MonkeyPatch
) -> None:
    """Plates and panels of walls with hundreds of studs take long."""
    framed = Steps()
    monkeypatch.setattr(laying_out, "frame_filled", framed.counting(laying_out.frame_filled))
    read = registry().read_building(walls(60, 2_400, studs=CLOSE, **more))
    with pytest.raises(TooManyPiecesError):
        lay_out(read, registry(), most_pieces=MOST)
    assert framed.taken == 0


CLADDINGS = st.sampled_from(
    [
        {"rule": "lapped", "width": 150, "battens": {"section": [25, 50]}},
        {"rule": "tongue-and-groove", "width": 120, "cover": 110, "lengths": [1800, 2400], "joints_apart": 3},
        {"rule": "rebated", "width": 145, "cover": 130, "lengths": [900], "least_board": 0},
        {"rule": "board-on-board", "width": 120, "counter_battens": {"section": [25, 50]}},
        {"rule": "board-and-batten", "width": 195, "lengths": [1200], "runs_past": "corner-boards"},
        {"rule": "sheets", "width": 1200, "height": 900},
    ]
)
ROOFS = st.sampled_from(
    [
        {"form": "level", "height": 2100},
        {"form": "mono-pitch", "high_side": "front", "low_height": 1500, "pitch": 25},
        {"form": "duo-pitch", "ridge": "left-right", "low_height": 1200, "pitch": 50},
    ]
)
NOGGINS = st.sampled_from([{"rule": "staggered", "rows": 2}, {"rule": "straight", "heights": [1100, 1900]}])


@st.composite
def buildings(draw: st.DrawFn) -> dict[str, Any]:
    """Small ones whose claddings, slopes and openings get in each other's way."""
    lefts = draw(st.lists(st.integers(2, 30), max_size=3, unique_by=lambda at: at // 10))
    openings = [
        {
            "name": f"o{index}",
            "kind": "gap",
            "width": draw(st.sampled_from([60, 500])),
            "height": draw(st.sampled_from([60, 600])),
            "sill": draw(st.sampled_from([200, 333])),
            "at": {"left": 120 * at},
        }
        for index, at in enumerate(sorted(lefts))
    ]
    defaults = {"cladding": draw(CLADDINGS), "noggins": draw(NOGGINS)}
    if draw(st.booleans()):
        defaults["lining"] = draw(CLADDINGS)
    return building(
        outline={"length": 4500, "width": 2400},
        roof=draw(ROOFS),
        defaults=defaults,
        walls={"front": {"openings": openings}},
    )


@given(value=buildings())
@settings(max_examples=12, deadline=None, suppress_health_check=[HealthCheck.too_slow])
def test_as_many_as_may_be_are_laid_out(value: dict[str, Any]) -> None:
    """Whatever is counted before it is made is never more than is made."""
    try:
        read = registry().read_building(value)
        layout = lay_out(read, registry())
    except UnbuildableError:
        return
    count = len(layout.pieces)
    assert lay_out(read, registry(), most_pieces=count) == layout
    with pytest.raises(TooManyPiecesError):
        lay_out(read, registry(), most_pieces=count - 1)


@given(value=buildings())
@settings(max_examples=12, deadline=None, suppress_health_check=[HealthCheck.too_slow])
def test_strips_that_are_sure_become_boards(value: dict[str, Any]) -> None:
    read = registry().read_building(value)
    try:
        tasks = wall_surfaces(
            [frame_wall(task, registry()) for task in set_out(read, registry())], registry()
        )
        covered = cover(tasks, Stock())
    except UnbuildableError:
        return
    for task in tasks:
        cladding = covered.claddings[task.surface.key]
        clad = task.rule.lay(task.surface, cladding.courses)
        assert sure(task.surface, (*clad.battens, *clad.strips)) <= len(cladding.boards)


def test_all_strips_are_sure_where_nothing_is_in_their_way() -> None:
    value = walls(1, 2_400, cladding=THIN)
    (frame,) = [frame_wall(task, registry()) for task in set_out(registry().read_building(value), registry())]
    (task,) = wall_surfaces([frame], registry())
    strips = task.rule.lay(task.surface, task.rule.choose_courses([task.surface])).strips
    assert sure(task.surface, strips) == len(strips) == 120
    hole = Hole("all of it", "gap", 0.0, 60_000.0, 600.0, 2_400.0)
    assert sure(replace(task.surface, holes=(hole,)), strips) == 30


OPENING = """
from typing import Literal
from soleplate.engine.rules import FramedOpening, OpeningRule, TopPlateRule, TopPlates, hookimpl, upright


class Crowd({base}):
    '''A crowd.'''

    rule: Literal["crowd"] = "crowd"
    examples = ({{"rule": "crowd"}},)

    def {method}(self, *given):
        wall = given[-1] if "{method}" == "frame_opening" else given[0]
        stud = upright("king stud", wall.section, 900.0, 45.0, wall.top)
        return {answer}


@hookimpl
def register_rules():
    return [Crowd]
"""


@pytest.mark.parametrize(
    ("base", "method", "member", "answer"),
    [
        (
            "OpeningRule",
            "frame_opening",
            "openings_framing",
            "FramedOpening((stud,) * 650_000, 0.0, 9.0)",
        ),
        ("TopPlateRule", "lay_plates", "top_plates", "TopPlates((stud,) * 650_000, wall.top)"),
    ],
)
def test_one_answer_does_not_hold_all_that_there_is(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, base: str, method: str, member: str, answer: str
) -> None:
    """It is counted before its members are looked at one by one."""
    file = tmp_path / "crowd.py"
    file.write_text(OPENING.format(base=base, method=method, answer=answer))
    installed = load_registry(files=[file])
    value = building(
        defaults={member: {"rule": "crowd"}},
        walls={"front": {"openings": small_openings(0)[:1]}},
    )
    looked = asking.all_sound

    def looking(answers: Any, kind: Any) -> Any:
        assert all(len(getattr(answer, "members", ())) < 4_001 for answer in answers)
        return looked(answers, kind)

    monkeypatch.setattr(asking, "all_sound", looking)
    with pytest.raises(RuleError, match="with 650000 members; accepted are up to 4000") as raised:
        lay_out(installed.read_building(value), installed)
    assert (raised.value.plugin, raised.value.rule) == ("crowd", "crowd")


def test_strips_are_compared_with_few_others_whichever_way_they_lie() -> None:
    """Of many courses one above another, as of many upright boards side by side."""
    compared = Steps()
    level = [level_strip(0.0, 20.0 * course) for course in range(2_000)]
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(checking, "_overlap", compared.counting(checking._overlap))
        assert checking._covering(level) is None
        assert checking._covering([turned(strip) for strip in level]) is None
        assert compared.taken <= 2 * len(level)
        over = level_strip(0.0, 20_010.0)
        for strips in ([*level, over], [turned(strip) for strip in (*level, over)]):
            assert "covers a board" in (checking._covering(strips) or "")


def level_strip(left: float, bottom: float) -> Strip:
    """A board of 20 mm, 60 m long."""
    span = Span(left, left + 60_000.0, bottom, bottom + 20.0)
    return Strip("board", Section(20, 20), "softwood", span, span, (-20.0, 0.0))


def turned(strip: Strip) -> Strip:
    """The strip with its two directions exchanged."""
    left, right, bottom, top = strip.seen
    span = Span(bottom, top, left, right)
    return replace(strip, whole=span, seen=span, upright=True)


def test_battens_of_a_high_sloping_wall_are_butted_in_few_steps(monkeypatch: pytest.MonkeyPatch) -> None:
    """Each is of a length of its own, and may be butted anywhere: what is looked at for one stays small."""
    ways, places = Steps(), Steps()
    monkeypatch.setattr(runs, "Way", ways.counting(runs.Way))
    monkeypatch.setattr(planning, "round", places.counting(round), raising=False)
    value = building(
        frame={"section": [20, 45], "material": "C16"},
        outline={"length": 6000.0, "width": 1800.0},
        roof={"form": "mono-pitch", "high_side": "left", "low_height": 13_000.0, "pitch": 8},
        defaults={"studs": {"rule": "fixed-centres", "centres": 100}},
        walls={
            "front": {
                "cladding": {"rule": "board-on-board", "width": 120, "counter_battens": {"section": [20, 38]}}
            }
        },
    )
    layout = lay_out(registry().read_building(value), registry())
    battens = [piece for piece in layout.pieces if piece.role == "batten" and piece.ends[0].cut == "square"]
    columns = {min(x for x, _ in piece.outline) for piece in battens if piece.length < 6_000.0}
    assert len(columns) >= 50
    assert ways.taken <= 300 * len(columns)
    assert places.taken <= 2_500 * len(columns)
