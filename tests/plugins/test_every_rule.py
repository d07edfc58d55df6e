"""Whatever rules are put together, a wall is framed soundly or refused with its place in the file.

The engine checks every frame (nothing outside the wall, no overlap, every upright bearing on a piece) and
raises a `RuleError` where a rule broke that, which fails these tests.
"""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from soleplate.engine.building_file import Fault, UnbuildableError
from soleplate.engine.rules import families
from tests.buildings import building, layout_of, registry

studs = st.one_of(
    st.builds(lambda bay: {"rule": "equal-bays", "largest_bay": bay}, st.integers(100, 900)),
    st.builds(lambda number: {"rule": "equal-bays", "number": number}, st.integers(0, 6)),
    st.builds(lambda centres: {"rule": "equal-bays", "largest_centres": centres}, st.integers(150, 900)),
    st.builds(
        lambda centres, start, sheet: {
            "rule": "fixed-centres", "centres": centres, "from": start, "doubled_at": sheet,
        },
        st.sampled_from([300, 400, 600, 610]),
        st.sampled_from(["left", "right", "middle"]),
        st.sampled_from([600, 1200, 1220]),
    ),
    st.builds(lambda mark: {"rule": "at", "marks": [mark, mark + 400]}, st.integers(0, 1000)),
    st.just({"rule": "on-panes"}),
)  # fmt: skip
lintels = st.builds(
    lambda thickness, plies: {"section": [thickness, 145], "plies": plies},
    st.sampled_from([18, 35, 45]),
    st.integers(1, 3),
)
framings = st.one_of(
    st.builds(
        lambda trimmers, kings, lintel: {
            "rule": "trimmed", "trimmers": trimmers, "kings": kings, "lintel": lintel,
        },
        st.integers(1, 3),
        st.integers(1, 2),
        lintels,
    ),
    st.just({"rule": "trimmed"}),
    st.just({"rule": "single-studs"}),
    st.builds(lambda panes: {"rule": "panes", "panes": panes, "edge_cover": 15}, st.integers(1, 4)),
)  # fmt: skip
openings = st.builds(
    lambda width, height, place, sill, framing: {
        "name": "opening", "kind": "gap", "width": width, "height": height, "at": {"left": place},
        "sill": sill, "framing": framing,
    },
    st.integers(300, 1500),
    st.integers(200, 1700),
    st.integers(0, 2500),
    st.sampled_from([0, 45, 90, 95, 300, 900]),
    framings,
)  # fmt: skip
roofs = st.one_of(
    st.builds(lambda height: {"form": "level", "height": height}, st.integers(600, 2600)),
    st.builds(
        lambda side, low, pitch: {"form": "mono-pitch", "high_side": side, "low_height": low, "pitch": pitch},
        st.sampled_from(["front", "right", "back", "left"]),
        st.integers(600, 2200),
        st.integers(1, 60),
    ),
    st.builds(
        lambda ridge, low, pitch: {"form": "duo-pitch", "ridge": ridge, "low_height": low, "pitch": pitch},
        st.sampled_from(["left-right", "front-back"]),
        st.integers(600, 2200),
        st.integers(2, 60),
    ),
)
top_plates = st.builds(
    lambda rule, ends, over: {"rule": rule, "ends": ends, "over_walls": over},
    st.sampled_from(["single", "double"]),
    st.sampled_from(["plumb", "square"]),
    st.booleans(),
)
noggins = st.builds(
    lambda rule, rows: {"rule": rule} | rows,
    st.sampled_from(["straight", "staggered"]),
    st.sampled_from([{}, {"rows": 3}, {"heights": [500, 2300]}, {"behind_sheets": 1200}]),
)
outlines = st.builds(
    lambda length, width, through, at: {
        "length": length, "width": width, "through": through,
        "partitions": [{"name": "inside", "runs": "front-back", "at": min(at, length)}],
    },
    st.integers(800, 6000),
    st.integers(800, 6000),
    st.sampled_from(["front-back", "left-right", "pinwheel"]),
    st.integers(100, 3000),
)  # fmt: skip


@st.composite
def buildings(draw: st.DrawFn) -> dict[str, Any]:
    return building(
        frame={"section": draw(st.sampled_from([[45, 70], [38, 89], [63, 38], [20, 44], [47, 145]]))},
        outline=draw(outlines),
        roof=draw(roofs),
        defaults={
            "studs": draw(studs),
            "noggins": draw(noggins),
            "top_plates": draw(top_plates),
            "corners": {"rule": draw(st.sampled_from(["plain", "three-stud", "boxed"]))},
        },
        walls={"front": {"openings": draw(st.lists(openings, max_size=1))}},
    )


def faults(value: dict[str, Any]) -> tuple[Fault, ...]:
    """Why a building is refused; nothing where it is framed."""
    try:
        layout_of(value)
    except UnbuildableError as error:
        return error.faults
    return ()


@settings(max_examples=150, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(buildings())
def test_a_wall_is_sound_or_refused_with_its_place(value: dict[str, Any]) -> None:
    assert all(fault.pointer.startswith("/") and fault.message for fault in faults(value))


MEMBERS = {family.name: pick.member for family, pick in reversed(families.choices()) if pick.most is None}
"""Of each family the first member that picks one rule."""

EXAMPLES = [
    (rule.family, example)
    for rule in registry().rules
    if rule.family in MEMBERS
    for example in rule.model.examples
]


@pytest.mark.parametrize(("family", "example"), EXAMPLES, ids=lambda value: str(value))
def test_every_example_frames_a_usual_building(family: str, example: dict[str, Any]) -> None:
    window = {"name": "window", "kind": "window", "width": 1200, "height": 700, "sill": 900}
    value = building(
        defaults={MEMBERS[family]: example},
        walls={"front": {"openings": [{**window, "at": {"left": 1500}}]}},
    )
    front = layout_of(value).walls[0]
    assert example["rule"] in {*front.rules.values(), *(opening.framing for opening in front.openings)}
