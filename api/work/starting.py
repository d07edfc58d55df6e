"""A sensible building from a few answers: what the start of the page asks, as a building file."""

from __future__ import annotations

import math
import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Any, Final, TypeVar

from soleplate.engine.building_file import MM_PER_UNIT, BuildingError, UnbuildableError, Units, parse_length
from soleplate.engine.registry import Registry
from soleplate.engine.rules import CladdingRule, NogginRule, OpeningRule, Rule, StudRule
from soleplate.viewer.page import QUESTIONS, units_of

Kind = TypeVar("Kind", bound=Rule)

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

    What no installed rule can make is left out: noggins, cladding, the door.

    Raises:
        UnbuildableError: an answer is none; its pointer is the question's name after a slash.
    """
    given = Answers.of(answers)
    section = given.section()
    rows = 1 if given.size("low_height") < _of_mm(2_200, given) else 2
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
            **_begun("studs", registry, StudRule, lambda rule: rule.begun_with(given.length("centres"))),
            **_begun("noggins", registry, NogginRule, lambda rule: rule.begun_with(rows)),
            **_cladding(answers, registry, given.units),
        },
    }
    if given["door"] != "none" and "opening_rules" in registry.stand_ins:
        value["walls"] = {given["door"]: {"openings": [_door(given, section, registry)]}}
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


def _door(given: Answers, section: tuple[float, float], registry: Registry) -> dict[str, Any]:
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
    plies = max(1, min(2, math.floor(depth / breadth)))
    lintel = (breadth, beam) if carries else None
    return {
        "name": "door",
        "kind": "door",
        "width": _set(max(min(usual_width, run - 6 * breadth), least), given.units),
        "height": _set(max(min(usual_height, top - beam - 2 * breadth), least), given.units),
        "at": {"centre": _set(run / 2, given.units)},
        **_begun("framing", registry, OpeningRule, lambda rule: rule.begun_with(lintel, plies)),
    }


def claddings(registry: Registry) -> dict[str, type[CladdingRule]]:
    """The rules that something can be clad with, by name."""
    rules = _installed(registry, CladdingRule)
    return {name: rule for name, rule in rules.items() if not rule.lays_nothing}


def _begun(
    member: str,
    registry: Registry,
    base: type[Kind],
    begun_with: Callable[[type[Kind]], Mapping[str, Any] | None],
) -> dict[str, Any]:
    """What a member picks: of the rules that begin with something, the one that stands in, else the first."""
    rules = sorted(_installed(registry, base).values(), key=lambda rule: not rule.stands_in)
    told = next(filter(None, map(begun_with, rules)), None)
    return {} if told is None else {member: dict(told)}


def _installed(registry: Registry, base: type[Kind]) -> dict[str, type[Kind]]:
    """The rules of a family by name, in the order of their names."""
    return {rule.name: rule.model for rule in registry.rules if issubclass(rule.model, base)}


def _cladding(answers: Mapping[str, str], registry: Registry, units: Units) -> dict[str, Any]:
    """The cladding rule that was chosen, if one was, with sizes that it can begin with."""
    chosen = answers.get("cladding", "")
    rule = claddings(registry).get(chosen)
    if rule is None:
        return {}
    if units in rule.begun_sizes:
        return {"cladding": {"rule": chosen, **rule.begun_sizes[units]}}
    # An example's bare numbers are in mm.
    example = rule.model_validate(rule.examples[0])
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
