"""Every bad building file gets a clear error with its place, and what would be accepted."""

from __future__ import annotations

from typing import Any

import pytest

from soleplate.engine.errors import BuildingError, SchemaError, UnbuildableError, UnreadableError
from soleplate.engine.reading import DEEPEST, LARGEST, read_json
from tests.buildings import building, honey_house, layout_of


def opening(**changes: Any) -> dict[str, Any]:
    window = {"name": "w", "kind": "window", "width": 600, "height": 500, "sill": 900, "at": {"left": 800}}
    return {"front": {"openings": [window | changes]}}


WINDOW = "/walls/front/openings/0"
ROOF = {"form": "mono-pitch", "high_side": "front", "low_height": 1960, "pitch": 6}
CASES: list[tuple[str, dict[str, Any], type[BuildingError], str, str]] = [
    ("wide", {"walls": opening(width=5000)}, UnbuildableError, WINDOW + "/width", "wider"),
    (
        "beyond",
        {"walls": opening(at={"left": 4200})},
        UnbuildableError,
        WINDOW + "/at",
        "accepted",
    ),
    (
        "high",
        {"walls": opening(height=1500)},
        UnbuildableError,
        WINDOW + "/height",
        "over the top",
    ),
    ("crossed", {"roof": ROOF | {"high_height": 3000}}, UnbuildableError, "/roof", "contradict"),
    ("steep", {"roof": ROOF | {"pitch": 90}}, UnbuildableError, "/roof", "accepted is over 0"),
    ("negative", {"outline": {"length": -1, "width": 2700}}, UnbuildableError, "/outline/length", "accepted"),
    ("zero", {"outline": {"length": 0, "width": 2700}}, UnbuildableError, "/outline/length", "accepted"),
    ("absurd", {"outline": {"length": 1e7, "width": 2700}}, UnbuildableError, "/outline/length", "accepted"),
    ("thin", {"frame": {"section": [0.5, 70]}}, UnbuildableError, "/frame/section/0", "accepted"),
    ("unknown", {"paint": 1}, SchemaError, "/paint", "unknown member"),
    ("rule", {"defaults": {"studs": {"rule": "x"}}}, SchemaError, "/defaults/studs", "equal-bays"),
    ("text", {"outline": {"length": "long", "width": 2700}}, SchemaError, "/outline/length", "8 ft 6 1/2 in"),
    ("wall", {"walls": {"north": {}}}, UnbuildableError, "/walls/north", "front, right, back, left"),
]


@pytest.mark.parametrize(
    ("changes", "kind", "pointer", "words"), [c[1:] for c in CASES], ids=[c[0] for c in CASES]
)
def test_fault(changes: dict[str, Any], kind: type[BuildingError], pointer: str, words: str) -> None:
    with pytest.raises(kind) as raised:
        layout_of(building(**changes))
    fault = raised.value.faults[0]
    assert fault.pointer == pointer
    assert words in fault.message


def test_overlapping_openings() -> None:
    value = honey_house()
    door = value["walls"]["front"]["openings"][0]
    value["walls"]["front"]["openings"].append(door | {"name": "other", "at": {"centre": 2400}})
    with pytest.raises(UnbuildableError, match="overlaps doors"):
        layout_of(value)


def test_doubled_name_of_openings() -> None:
    value = honey_house()
    value["walls"]["front"]["openings"] *= 2
    with pytest.raises(UnbuildableError, match="a name for each"):
        layout_of(value)


@pytest.mark.parametrize(
    ("data", "words"),
    [
        (b'{"a": 1, "a": 2}', "given twice"),
        (b'{"a": NaN}', "not a number"),
        (b'{"a": Infinity}', "not a number"),
        (b'{"a": 1e999}', "too large"),
        (b"[" * (DEEPEST + 1), "levels deep"),
        (b" " * (LARGEST + 1), "at most"),
        (b"\xff", "UTF-8"),
        (b"{", "line 1"),
    ],
)
def test_unreadable(data: bytes, words: str) -> None:
    with pytest.raises(UnreadableError, match=words):
        read_json(data)
