"""A sensible building from a few answers: what the start of the page asks, as a building file."""

from __future__ import annotations

import math
import re
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any, Final

from soleplate.engine.building_file import MM_PER_UNIT, BuildingError, UnbuildableError, Units, parse_length
from soleplate.engine.registry import Registry
from soleplate.viewer.page import QUESTIONS, units_of

TIMBER: Final[Mapping[Units, Mapping[str, Any]]] = {
    "mm": {"material": "C16"},
    "in": {"material": "SPF", "density": 420},
}
"""What is framed in where sizes are told in mm and in inches; the density in kg/m3 is of dry timber."""

DOOR: Final[Mapping[Units, tuple[float, float]]] = {"mm": (900.0, 1980.0), "in": (36.0, 80.0)}
"""In the unit. Room for a common single door with its frame (common practice, no source)."""

LINTEL: Final[Mapping[Units, float]] = {"mm": 145.0, "in": 5.5}
"""In the unit. Depth of a lintel over such a door under a light roof (common practice, no source): what it
has to be is for somebody to say who knows the load."""

BOARDS: Final[Mapping[Units, Mapping[str, Mapping[str, Any]]]] = {
    "mm": {
        "board-and-batten": {"width": 145, "thickness": 25, "cover_width": 70},
        "rebated": {"width": 145, "cover": 127, "gap": 3},
    },
    "in": {
        "board-and-batten": {"width": "5 1/2 in", "thickness": "1 in", "cover_width": "2 1/2 in"},
        "rebated": {"width": "5 1/2 in", "cover": "4 3/4 in", "gap": "1/8 in"},
        "sheets": {"width": 48, "height": 96, "thickness": "7/16 in", "material": "OSB", "density": 640},
    },
}
"""By rule, what is begun with in place of the rule's first example: boards no broader than stay flat, and
sheets as they are sold."""

PEG: Final = {
    "/name": "name",
    "/outline/length": "length",
    "/outline/width": "width",
    "/roof/form": "roof",
    "/roof/low_height": "low_height",
    "/roof/height": "low_height",
    "/roof/pitch": "pitch",
    "/frame/section": "section",
    "/defaults/studs": "centres",
    "/defaults/cladding": "cladding",
}
"""The question that a place of the building file comes from."""

ASKED: Final = frozenset({"units", "cladding", *(question.name for question in QUESTIONS["mm"])})


def is_start(asked: Mapping[str, str]) -> bool:
    """Whether a query answers the start's questions."""
    return "length" in asked and "width" in asked


@dataclass(frozen=True, slots=True)
class Answers:
    """What was answered, by question; lengths in `units` where they carry none of their own."""

    given: Mapping[str, str]
    units: Units

    @classmethod
    def of(cls, answers: Mapping[str, str]) -> Answers:
        """The answers of a query; one left out is answered as is usual."""
        units = units_of(answers)
        usual = {question.name: question.usual for question in QUESTIONS[units]}
        return cls({name: answers.get(name, said).strip() for name, said in usual.items()}, units)

    def __getitem__(self, name: str) -> str:
        return self.given[name]

    def length(self, name: str) -> float | str:
        """As the building file has it: its own reader knows a bare number and a text with a unit."""
        return _number_or_text(self.given[name])

    def size(self, name: str) -> float:
        """The length in `units`.

        Raises:
            UnbuildableError: it is none.
        """
        said = self.length(name)
        if isinstance(said, float):
            return said
        try:
            return parse_length(said) / MM_PER_UNIT[self.units]
        except ValueError as error:
            raise UnbuildableError.at(f"/{name}", str(error)) from None

    def number(self, name: str) -> float:
        """A number that is no length.

        Raises:
            UnbuildableError: it is none.
        """
        try:
            return float(self.given[name])
        except ValueError:
            raise UnbuildableError.at(f"/{name}", "accepted is a number, such as 8") from None

    def section(self) -> tuple[float, float]:
        """Breadth and depth of the timber, in `units`.

        Raises:
            UnbuildableError: it is no section.
        """
        sizes = [_SIZE.fullmatch(part.strip()) for part in re.split(r"[x×]", self.given["section"])]
        found = [parse_length(f"{size[1]} {self.units}") / MM_PER_UNIT[self.units] for size in sizes if size]
        if len(found) != 2 or len(sizes) != 2:
            raise UnbuildableError.at(
                "/section", f"accepted are two sizes, breadth by depth, as {QUESTIONS[self.units][6].usual}"
            )
        return found[0], found[1]


_SIZE: Final = re.compile(r"(\d+ \d+/\d+|\d+(?:\.\d+)?) ?(?:mm|in)?")


def building_of(answers: Mapping[str, str], registry: Registry) -> dict[str, Any]:
    """The building file that the answers give; one left out is answered as is usual.

    Raises:
        UnbuildableError: an answer is none; its pointer is the question's name after a slash.
    """
    given = Answers.of(answers)
    section, low = given.section(), given.size("low_height")
    value: dict[str, Any] = {
        "format": "soleplate.building/1",
        "name": given["name"],
        "units": given.units,
        "frame": {"section": list(section), **TIMBER[given.units]},
        "outline": {
            "length": given.length("length"),
            "width": given.length("width"),
            "through": "front-back",
        },
        "roof": _roof(given),
        "defaults": {
            "studs": {"rule": "equal-bays", "largest_centres": given.length("centres")},
            "noggins": {"rule": "staggered", "rows": 1 if low < _of_mm(2_200, given) else 2},
            **_cladding(answers, registry, given.units),
        },
    }
    if given["door"] != "none":
        value["walls"] = {given["door"]: {"openings": [_door(given, section)]}}
    return value


def faults_by_question(error: BuildingError) -> dict[str, str]:
    """What is wrong, by the question whose answer it is; what no question asked for is under `""`."""
    found: dict[str, str] = {}
    for fault in error.faults:
        pegged = (name for place, name in PEG.items() if fault.pointer.startswith(place))
        name = next(pegged, fault.pointer.removeprefix("/"))
        found.setdefault(name if name in ASKED else "", fault.message)
    return found


def _roof(given: Answers) -> dict[str, Any]:
    low = given.length("low_height")
    if given["roof"] == "level":
        return {"form": "level", "height": low}
    pitch = given.number("pitch")
    if given["roof"] == "duo-pitch":
        return {"form": "duo-pitch", "ridge": "left-right", "low_height": low, "pitch": pitch}
    return {"form": "mono-pitch", "high_side": "front", "low_height": low, "pitch": pitch}


def _door(given: Answers, section: tuple[float, float]) -> dict[str, Any]:
    """A door in the middle of its wall, under a lintel where the roof rests on that wall, and low enough."""
    breadth, depth = section
    is_along = given["door"] in ("front", "back")
    run = given.size("length") if is_along else given.size("width") - 2 * depth
    top = given.size("low_height")
    if given["roof"] == "mono-pitch" and given["door"] == "front":
        top += (given.size("width") - depth) * math.tan(math.radians(min(given.number("pitch"), 80.0)))
    carries = is_along or given["roof"] == "level"
    beam = LINTEL[given.units] if carries else breadth
    usual_width, usual_height = DOOR[given.units]
    least = _of_mm(100, given)
    framing: dict[str, Any] = {"rule": "trimmed"}
    if carries:
        plies = max(1, min(2, math.floor(depth / breadth)))
        framing["lintel"] = {"section": [breadth, beam], "plies": plies}
    return {
        "name": "door",
        "kind": "door",
        "width": _set(max(min(usual_width, run - 6 * breadth), least), given.units),
        "height": _set(max(min(usual_height, top - beam - 2 * breadth), least), given.units),
        "at": {"centre": _set(run / 2, given.units)},
        "framing": framing,
    }


def _cladding(answers: Mapping[str, str], registry: Registry, units: Units) -> dict[str, Any]:
    """The cladding rule that was chosen, if one was, with sizes that it can begin with."""
    chosen = answers.get("cladding", "none")
    rule = next((rule for rule in registry.of_family("cladding_rules") if rule.name == chosen), None)
    if rule is None:
        return {}
    if chosen in BOARDS[units]:
        return {"cladding": {"rule": chosen, **BOARDS[units][chosen]}}
    # An example's bare numbers are in mm.
    example = rule.model.model_validate(rule.model.examples[0])
    told: dict[str, Any] = example.model_dump(mode="json", exclude_unset=True, context={"units": units})
    return {"cladding": told}


def _number_or_text(said: str) -> float | str:
    try:
        return float(said)
    except ValueError:
        return said


def _of_mm(mm: float, given: Answers) -> float:
    return mm / MM_PER_UNIT[given.units]


def _set(size: float, units: Units) -> float:
    """A size that a tape can set: whole millimetres, or half inches."""
    return round(size) if units == "mm" else math.floor(size * 2) / 2
