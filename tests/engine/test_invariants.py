"""What holds of every building that can be laid out, with shapely as the judge of geometry."""

from __future__ import annotations

from itertools import combinations
from typing import Any

from hypothesis import HealthCheck, given, reject, settings
from hypothesis import strategies as st
from shapely import Polygon

from soleplate.engine.building_file import UnbuildableError
from soleplate.engine.laying_out import layout_json
from soleplate.engine.layout import Layout
from tests.buildings import honey_house, layout_of

SLIVER = 0.05
"""mm; outlines are put out at 0.001."""

lengths = st.integers(1500, 7000)
stud_rules = st.one_of(
    st.builds(lambda b: {"rule": "equal-bays", "largest_bay": b}, st.integers(250, 900)),
    st.builds(
        lambda c, f: {"rule": "fixed-centres", "centres": c, "from": f},
        st.sampled_from([400, 450, 600]),
        st.sampled_from(["left", "right", "middle"]),
    ),
)
noggin_rules = st.sampled_from([None, {"rule": "straight", "rows": 1}, {"rule": "staggered", "rows": 2}])
roofs = st.one_of(
    st.builds(
        lambda side, pitch: {"form": "mono-pitch", "high_side": side, "low_height": 1900, "pitch": pitch},
        st.sampled_from(["front", "right", "back", "left"]),
        st.integers(1, 25),
    ),
    st.builds(
        lambda ridge, pitch, off: {
            "form": "duo-pitch", "ridge": ridge, "low_height": 1900, "pitch": pitch, "ridge_offset": off,
        },
        st.sampled_from(["left-right", "front-back"]),
        st.integers(5, 45),
        st.integers(-400, 400),
    ),
    st.just({"form": "level", "height": 2300}),
)  # fmt: skip


@st.composite
def buildings(draw: st.DrawFn) -> dict[str, Any]:
    length, width = draw(lengths), draw(lengths)
    outline: dict[str, Any] = draw(
        st.sampled_from(
            [
                {"length": length, "width": width},
                {
                    "corners": [
                        [0, 0], [length, 0], [length, width], [length / 2, width],
                        [length / 2, width / 2], [0, width / 2],
                    ]
                },
            ]
        )
    )  # fmt: skip
    outline = outline | {"through": draw(st.sampled_from(["front-back", "left-right", "pinwheel"]))}
    opening = {
        "name": "window", "kind": "window", "width": draw(st.integers(300, 900)), "height": 600, "sill": 900,
        "at": {"left": draw(st.integers(200, 1000))},
    }  # fmt: skip
    first = "front" if "length" in outline else "A"
    defaults = {
        "studs": draw(stud_rules),
        "top_plates": {"rule": draw(st.sampled_from(["single", "double"]))},
        "corners": {"rule": draw(st.sampled_from(["plain", "three-stud"]))},
    }
    noggins = draw(noggin_rules)
    return {
        "format": "soleplate.building/1",
        "name": "Any",
        "frame": {"section": draw(st.sampled_from([[45, 70], [38, 89], [47, 97]]))},
        "outline": outline,
        "roof": draw(roofs),
        "defaults": defaults | ({"noggins": noggins} if noggins else {}),
        "walls": {first: {"openings": [opening]}} if draw(st.booleans()) else {},
    }


def assert_sound(layout: Layout) -> None:
    for wall in layout.walls:
        frame = [piece for piece in wall.pieces if piece.is_frame]
        for one, other in combinations(frame, 2):
            if min(one.depth[1], other.depth[1]) - max(one.depth[0], other.depth[0]) > SLIVER:
                shared = Polygon(one.outline).intersection(Polygon(other.outline)).area
                assert shared < SLIVER * 3000, (one.mark, other.mark, shared)
        top = [(x, z + SLIVER) for x, z in wall.top_line]
        face = Polygon([(-SLIVER, -SLIVER), (wall.length + SLIVER, -SLIVER), *reversed(top)])
        for piece in frame:
            if piece.role not in ("head plate", "raked plate"):
                assert face.buffer(SLIVER).contains(Polygon(piece.outline)), piece.mark
    marks = [piece.mark for piece in layout.pieces]
    assert len(marks) == len(set(marks))
    assert sorted(mark for row in layout.cutting_list for mark in row.marks) == sorted(marks)


@settings(max_examples=60, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(buildings())
def test_a_layout_is_sound_and_the_same_every_time(value: dict[str, Any]) -> None:
    try:
        layout = layout_of(value)
    except UnbuildableError:
        reject()
    assert_sound(layout)
    assert layout_json(layout) == layout_json(layout_of(value))


def test_the_honey_house_is_sound() -> None:
    assert_sound(layout_of(honey_house()))


@settings(max_examples=15, deadline=None)
@given(st.integers(300, 900), st.integers(300, 2400))
def test_an_opening_changes_no_other_wall(width: int, left: int) -> None:
    value = honey_house()
    before = layout_of(value)
    value["walls"]["front"]["openings"][0] |= {"width": width, "at": {"left": left}}
    after = layout_of(value)
    assert before.walls[1:] == after.walls[1:]
    assert before.walls[0] != after.walls[0]
