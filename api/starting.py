"""A sensible building from a few answers: what the start of the page asks, as a building file."""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import Any, Final

from soleplate.engine.errors import BuildingError, UnbuildableError
from soleplate.engine.registry import Registry
from soleplate.engine.units import parse_length
from soleplate.viewer.page_start import QUESTIONS

DOOR_WIDTH: Final = 900.0
DOOR_HEIGHT: Final = 1980.0
"""mm. Room for a common single door with its frame (common practice, no source)."""

PEG: Final = {
    "/name": "name",
    "/outline/length": "length",
    "/outline/width": "width",
    "/roof/form": "roof",
    "/roof/low_height": "low_height",
    "/roof/height": "low_height",
    "/roof/pitch": "pitch",
    "/frame/section": "section",
    "/defaults/studs": "largest_bay",
    "/defaults/cladding": "cladding",
}
"""The question that a place of the building file comes from."""

ASKED: Final = frozenset({"cladding", *(question.name for question in QUESTIONS)})


def is_start(asked: Mapping[str, str]) -> bool:
    """Whether a query answers the start's questions."""
    return "length" in asked and "width" in asked


def building_of(answers: Mapping[str, str], registry: Registry) -> dict[str, Any]:
    """The building file that the answers give; one left out is answered as is usual.

    Raises:
        UnbuildableError: an answer is none; its pointer is the question's name after a slash.
    """
    given = {question.name: answers.get(question.name, question.usual).strip() for question in QUESTIONS}
    section = _section(given["section"])
    low = _millimetres(given, "low_height")
    value: dict[str, Any] = {
        "format": "soleplate.building/1",
        "name": given["name"],
        "frame": {"section": section, "material": "C16"},
        "outline": {
            "length": _length(given["length"]),
            "width": _length(given["width"]),
            "through": "front-back",
        },
        "roof": _roof(given),
        "defaults": {
            "studs": {"rule": "equal-bays", "largest_bay": _length(given["largest_bay"])},
            "noggins": {"rule": "staggered", "rows": 1 if low < 2_100 else 2},
            **_cladding(answers, registry),
        },
    }
    if given["door"] != "none":
        value["walls"] = {given["door"]: {"openings": [_door(given, section, low)]}}
    return value


def faults_by_question(error: BuildingError) -> dict[str, str]:
    """What is wrong, by the question whose answer it is; what no question asked for is under `""`."""
    found: dict[str, str] = {}
    for fault in error.faults:
        pegged = (name for place, name in PEG.items() if fault.pointer.startswith(place))
        name = next(pegged, fault.pointer.removeprefix("/"))
        found.setdefault(name if name in ASKED else "", fault.message)
    return found


def _roof(given: Mapping[str, str]) -> dict[str, Any]:
    low = _length(given["low_height"])
    if given["roof"] == "level":
        return {"form": "level", "height": low}
    pitch = _number(given, "pitch")
    if given["roof"] == "duo-pitch":
        return {"form": "duo-pitch", "ridge": "left-right", "low_height": low, "pitch": pitch}
    return {"form": "mono-pitch", "high_side": "front", "low_height": low, "pitch": pitch}


def _door(given: Mapping[str, str], section: list[float], low: float) -> dict[str, Any]:
    """A door in the middle of its wall, low enough for its head to go under the plate of the lowest wall."""
    breadth, depth = section
    along = "length" if given["door"] in ("front", "back") else "width"
    run = _millimetres(given, along) - (0.0 if along == "length" else 2 * depth)
    height = max(min(DOOR_HEIGHT, low - 3 * breadth), 100.0)
    width = max(min(DOOR_WIDTH, run - 6 * breadth), 100.0)
    return {
        "name": "door",
        "kind": "door",
        "width": round(width),
        "height": round(height),
        "at": {"centre": round(run / 2)},
    }


def _cladding(answers: Mapping[str, str], registry: Registry) -> dict[str, Any]:
    """The first example of the cladding rule that was chosen, if one was."""
    chosen = answers.get("cladding", "none")
    rule = next((rule for rule in registry.of_family("cladding_rules") if rule.name == chosen), None)
    if rule is None:
        return {}
    return {"cladding": dict(rule.model.examples[0])}


def _section(said: str) -> list[float]:
    sizes = re.findall(r"\d+(?:\.\d+)?", said)
    if len(sizes) != 2:
        raise UnbuildableError.at("/section", "accepted are two sizes in mm: breadth by depth, as 45 x 70")
    return [float(size) for size in sizes]


def _length(said: str) -> float | str:
    """A bare number as a number, all else as it was said: the building file's own reader knows both."""
    try:
        return float(said)
    except ValueError:
        return said


def _millimetres(given: Mapping[str, str], name: str) -> float:
    said = _length(given[name])
    try:
        return said if isinstance(said, float) else parse_length(said)
    except ValueError as error:
        raise UnbuildableError.at(f"/{name}", str(error)) from None


def _number(given: Mapping[str, str], name: str) -> float:
    try:
        return float(given[name])
    except ValueError:
        raise UnbuildableError.at(f"/{name}", "accepted is a number, such as 8") from None
