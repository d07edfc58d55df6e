"""Every bad building file gets a clear error with its place, and what would be accepted."""

from __future__ import annotations

from typing import Any

import pytest

from soleplate.engine.building_file import (
    LARGEST,
    BuildingError,
    SchemaError,
    UnbuildableError,
    UnreadableError,
    read_json,
)
from soleplate.engine.building_file.reading import DEEPEST
from soleplate.engine.laying_out import lay_out
from tests.buildings import building, honey_house, layout_of, registry
from tests.roofs import SHEETS, frame_with


def opening(**changes: Any) -> dict[str, Any]:
    window = {"name": "w", "kind": "window", "width": 600, "height": 500, "sill": 900, "at": {"left": 800}}
    return {"front": {"openings": [window | changes]}}


def plan(*corners: list[float]) -> dict[str, Any]:
    return {"corners": list(corners)}


def walls(*names: str, **more: Any) -> dict[str, Any]:
    return {"walls": [{"name": name, "length": 3000} | more for name in names]}


def inside(*names: str, at: float) -> dict[str, Any]:
    """Partitions that run front to back and left to right by turns."""
    runs = ["front-back", "left-right"] * len(names)
    partitions = [{"name": name, "runs": run, "at": at} for name, run in zip(names, runs, strict=False)]
    return {"length": 4500, "width": 2700, "partitions": partitions}


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
    ("steep", {"roof": ROOF | {"pitch": 90}}, UnbuildableError, "/roof/pitch", "accepted is over 0"),
    ("negative", {"outline": {"length": -1, "width": 2700}}, UnbuildableError, "/outline/length", "accepted"),
    ("zero", {"outline": {"length": 0, "width": 2700}}, UnbuildableError, "/outline/length", "accepted"),
    (
        "too-many-faulty-ones",
        {"defaults": {"cladding": {"rule": "rebated", "cover": 130, "lengths": [-1] * 41}}},
        SchemaError,
        "/defaults/cladding/lengths",
        "over 40 items",
    ),
    (
        "huge-feet",
        {"units": "in", "frame": {"section": [1.5, 3.5]}, "outline": {"length": 1.7e308, "width": 100}},
        UnbuildableError,
        "/outline/length",
        "to 196 ft 10 3/16 in",
    ),
    ("huge", {"outline": {"length": 1e300, "width": 2700}}, UnbuildableError, "/outline/length", "to 60000"),
    ("absurd", {"outline": {"length": 1e7, "width": 2700}}, UnbuildableError, "/outline/length", "to 60000"),
    (
        "absurd-plan",
        {"outline": plan([0, 0], [1e5, 0], [1e5, 9], [0, 9])},
        UnbuildableError,
        "/outline",
        "60",
    ),
    (
        "absurd-corner",
        {"outline": plan([0, 0], [1e7, 0], [1e7, 9000], [0, 9000])},
        UnbuildableError,
        "/outline/corners/1/0",
        "to 100000",
    ),
    ("two-walls", {"outline": walls("a", "b", "a")}, UnbuildableError, "/outline/walls/2/name", "its own"),
    (
        "partition-name",
        {"outline": inside("back", at=900)},
        UnbuildableError,
        "/outline/partitions/0/name",
        "its own",
    ),
    (
        "partition-outside",
        {"outline": inside("p", at=5000)},
        UnbuildableError,
        "/outline/partitions/0/at",
        "accepted is 105 to 4395 mm",
    ),
    (
        "partition-in-a-wall",
        {"outline": inside("p", at=60)},
        UnbuildableError,
        "/outline/partitions/0/at",
        "accepted is 105 to 4395 mm",
    ),
    (
        "partitions-crossing",
        {"outline": inside("p", "q", at=900)},
        UnbuildableError,
        "/outline/partitions/1/at",
        "same place",
    ),
    (
        "narrow-leg",
        {"outline": plan([0, 0], [4000, 0], [4000, 3000], [3862, 3000], [3862, 1000], [0, 1000])},
        UnbuildableError,
        "/outline",
        "same place",
    ),
    (
        "low",
        {"outline": walls("a", heights=[50, 2000]), "roof": None},
        UnbuildableError,
        "/outline/walls/0/heights/0",
        "accepted is 100",
    ),
    ("control", {"name": "a\u0000b"}, SchemaError, "/name", "one line"),
    ("thin", {"frame": {"section": [0.5, 70]}}, UnbuildableError, "/frame/section/0", "accepted"),
    ("unknown", {"paint": 1}, SchemaError, "/paint", "accepted are defaults, fixings, floor, format, frame"),
    ("few", {"outline": plan([0, 0], [1, 0], [1, 1])}, SchemaError, "/outline/corners", "at least 4"),
    (
        "speck",
        {
            "walls": {
                "front": {
                    "openings": [
                        {
                            "name": "w",
                            "kind": "gap",
                            "width": 0.01,
                            "height": 500,
                            "at": {"left": 600},
                            "sill": 900,
                        }
                    ]
                }
            }
        },
        UnbuildableError,
        "/walls/front/openings/0/width",
        "accepted is 10",
    ),
    (
        "panes-on-the-floor",
        {
            "walls": {
                "front": {
                    "openings": [
                        {
                            "name": "w",
                            "kind": "window",
                            "width": 1500,
                            "height": 900,
                            "at": {"left": 600},
                            "framing": {"rule": "panes", "panes": 2, "edge_cover": 100},
                        }
                    ]
                }
            }
        },
        UnbuildableError,
        "/walls/front/openings/0",
        "accepted is a sill over 0",
    ),
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
    with pytest.raises(UnbuildableError, match="give each its own") as raised:
        layout_of(value)
    assert raised.value.faults[0].pointer == "/walls/front/openings/1/name"


def test_more_pieces_than_are_allowed() -> None:
    read = registry().read_building(building())
    with pytest.raises(UnbuildableError, match="over 20 pieces"):
        lay_out(read, registry(), most_pieces=20)


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


def test_what_is_as_deep_and_as_large_as_may_be_is_read() -> None:
    value = read_json(b"[" * DEEPEST + b"]" * DEEPEST)
    for _ in range(DEEPEST - 1):
        (value,) = value
    assert value == []
    assert read_json(b" " * (LARGEST - 1) + b"1") == 1


def test_what_cannot_be_read_is_told_at_its_place() -> None:
    with pytest.raises(UnreadableError) as raised:
        read_json(b'{"a": [1, NaN, {"x/y": 1e999}], "b": {"k": 1, "k": 2}, "c": 1' + b"0" * 60 + b"}")
    assert [fault.pointer for fault in raised.value.faults] == ["/a/1", "/a/2/x~1y", "/b/k", "/c"]


def test_the_members_accepted_are_those_of_the_rule_that_was_picked() -> None:
    value = honey_house()
    value["walls"]["front"]["openings"][0]["framing"]["lintle"] = 1
    with pytest.raises(SchemaError, match="accepted are kings, lintel, rule, trimmers"):
        layout_of(value)


def test_a_member_that_is_called_as_another_one_may_say_is_no_arm() -> None:
    """A frame's `datum` may be "deck", and `deck` is a member of it too."""
    value = building()
    value["roof"]["frame"] = frame_with(deck=SHEETS | {"thick": 18})
    with pytest.raises(SchemaError, match=r"accepted are .*thickness, width") as raised:
        layout_of(value)
    assert raised.value.faults[0].pointer == "/roof/frame/deck/thick"
