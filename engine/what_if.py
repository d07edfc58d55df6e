"""What if: the same building at other stud rules and at slightly other sizes, by what its timber would take.

Each variant is laid out and planned like any building, so its figures are those of a real plan.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from functools import partial
from typing import Annotated, Any, Final, Literal

from pydantic import ValidationError

from soleplate.engine.building_file import (
    MOST_PIECES,
    AnyOutline,
    Building,
    BuildingError,
    Distance,
    Fault,
    Limits,
    Model,
    Rectangle,
    SingleWalls,
    UnbuildableError,
    Units,
    accepted,
    format_length,
)
from soleplate.engine.buying import with_saw_plan
from soleplate.engine.laying_out import lay_out
from soleplate.engine.layout import Result
from soleplate.engine.registry import Registry
from soleplate.engine.rules import Rule, StudRule
from soleplate.engine.shapes import rounded

Dimension = Literal["length", "width", "height"]

MOST_STEPS: Final = 12
"""Sizes tried on each side of what is drawn."""


class Ranges(Model):
    """How far the building may be changed, either way, and in what steps."""

    length: Annotated[Distance, Limits(0.0, 1_000.0)] = 150.0
    """Along the front, or of walls on their own."""
    width: Annotated[Distance, Limits(0.0, 1_000.0)] = 150.0
    """From front to back."""
    height: Annotated[Distance, Limits(0.0, 500.0)] = 100.0
    """Of all walls."""
    step: Annotated[Distance, Limits(5.0, 500.0)] = 50.0
    """Between the sizes that are tried; at most 12 each way."""


class Variant(Result):
    """The building with one thing changed, and what its timber would take."""

    what: str
    """What is changed, in words."""
    studs: dict[str, Any] | None = None
    """The stud rule in place of every wall's own."""
    dimension: Dimension | None = None
    """The dimension that is changed."""
    change: float | None = None
    """By how much, mm."""
    pieces: int | None = None
    """In its saw plan."""
    timber: float | None = None
    """Lengths bought and taken from what is on hand, end to end, mm."""
    waste: float | None = None
    """Of that, what is in no piece, mm."""
    cost: float | None = None
    """Where the stock has prices."""
    widest_bay: float | None = None
    """The widest clear bay, mm: less timber is no gain where the lining or the roof wants more studs."""
    saved: float | None = None
    """Timber less than for the building as it is, mm; negative is more."""
    proven: bool | None = None
    """Whether its plan is proven best."""
    problem: str | None = None
    """Why it can't be built so."""


class WhatIf(Result):
    """A building as it is, and its variants."""

    as_drawn: Variant
    """The building itself."""
    studs: tuple[Variant, ...]
    """At the examples of every installed stud rule, least timber first."""
    sizes: tuple[Variant, ...]
    """At other sizes, by dimension and change."""
    best_size: Variant | None = None
    """The size that saves most timber, the smallest change of those that save alike; none if none saves."""


@dataclass(frozen=True, slots=True)
class _Idea:
    """A variant to be tried: how the building is made, and what is to be said of it."""

    building: Callable[[], Building]
    variant: Variant


def what_if(
    building: Building,
    registry: Registry,
    ranges: Ranges | None = None,
    *,
    most_pieces: int = MOST_PIECES,
) -> WhatIf:
    """Try a building at other stud rules and at other sizes.

    Args:
        building: it must list stock, by which variants are compared.
        registry: brings the stud rules, whose `examples` are tried; those with members that must be given,
            such as marks, say nothing of other buildings and are left out.
        ranges: how far sizes may change.
        most_pieces: in the building; a server sets it lower.

    Raises:
        UnbuildableError: the building itself cannot be laid out or planned.
    """
    if not building.stock.stock:
        raise UnbuildableError.at("/stock/stock", "missing; give the lengths on sale to compare by")
    drawn = _figures(building, Variant(what="as drawn"), registry, most_pieces)
    studs, sizes = (
        [_tried(idea, drawn, registry, most_pieces) for idea in ideas]
        for ideas in (_other_studs(building, registry), _other_sizes(building, ranges or Ranges()))
    )
    saving = [variant for variant in sizes if (variant.saved or 0.0) > 0.0]
    return WhatIf(
        as_drawn=drawn,
        studs=tuple(sorted(studs, key=lambda v: (v.timber is None, v.timber or 0.0, v.what))),
        sizes=tuple(sizes),
        best_size=min(saving, key=lambda v: (-(v.saved or 0.0), abs(v.change or 0.0), v.what), default=None),
    )


def _tried(idea: _Idea, drawn: Variant, registry: Registry, most_pieces: int) -> Variant:
    """The variant's figures, or why it cannot be built so."""
    try:
        variant = _figures(idea.building(), idea.variant, registry, most_pieces)
    except BuildingError as error:
        return idea.variant.model_copy(update={"problem": str(error.faults[0])})
    saved = rounded((drawn.timber or 0.0) - (variant.timber or 0.0))
    return variant.model_copy(update={"saved": saved})


def _figures(building: Building, variant: Variant, registry: Registry, most_pieces: int) -> Variant:
    layout = with_saw_plan(lay_out(building, registry, most_pieces=most_pieces), building)
    plan = layout.saw_plan
    stops = [finding for finding in layout.findings if finding.level == "stop"]
    if stops:
        raise UnbuildableError.at("", stops[0].message)
    if plan is None:
        why = [finding.message for finding in layout.findings if finding.code == "not-planned"]
        raise UnbuildableError.at("/stock/stock", why[0] if why else "there is nothing to plan")
    return variant.model_copy(
        update={
            "pieces": sum(len(length.cuts) for length in plan.lengths),
            "timber": rounded(sum(length.stock_length for length in plan.lengths)),
            "waste": plan.waste,
            "cost": plan.cost if building.stock.is_priced else None,
            "widest_bay": max((bay.clear for wall in layout.walls for bay in wall.bays), default=0.0),
            "proven": plan.proven,
        }
    )


def _other_studs(building: Building, registry: Registry) -> Iterator[_Idea]:
    """Every wall at each example of the installed stud rules."""
    for rule in registry.of_family(StudRule.family):
        if any(member.is_required() for member in rule.model.model_fields.values()):
            continue
        for example in rule.model.examples:
            members = dict(example)
            studs = rule.model(**members)
            said = ", ".join(f"{name} {value}" for name, value in members.items() if name != "rule")
            what = f"studs {rule.name} {said}".strip()
            yield _Idea(partial(_with_studs, building, studs), Variant(what=what, studs=members))


def _with_studs(building: Building, studs: Rule) -> Building:
    walls = {name: block.model_copy(update={"studs": studs}) for name, block in building.walls.items()}
    defaults = building.defaults.model_copy(update={"studs": studs})
    return building.model_copy(update={"defaults": defaults, "walls": walls})


def _other_sizes(building: Building, ranges: Ranges) -> Iterator[_Idea]:
    for dimension, most in (
        ("length", ranges.length),
        ("width", ranges.width),
        ("height", ranges.height),
    ):
        steps = min(int(most // ranges.step), MOST_STEPS)
        for step in (*range(-steps, 0), *range(1, steps + 1)):
            change = step * ranges.step
            if dimension == "width" and isinstance(building.outline, SingleWalls):
                continue
            yield _Idea(
                partial(_resized, building, dimension, change),
                _size_variant(dimension, change, building.units),
            )


def _size_variant(dimension: str, change: float, units: Units) -> Variant:
    way = "more" if change > 0 else "less"
    return Variant.model_validate(
        {
            "what": f"{dimension} {format_length(abs(change), units)} {way}",
            "dimension": dimension,
            "change": change,
        }
    )


def _resized(building: Building, dimension: str, change: float) -> Building:
    """The building with one dimension changed, mm.

    Raises:
        UnbuildableError: no outline or roof has such a size.
    """
    place = "/roof" if dimension == "height" and building.roof is not None else "/outline"
    try:
        if dimension == "height":
            return _raised(building, change)
        return building.model_copy(update={"outline": _extended(building.outline, dimension, change)})
    except ValidationError as error:
        raise UnbuildableError([Fault(place, accepted(error.errors()[0]), building.units)]) from None


def _extended(outline: AnyOutline, dimension: str, change: float) -> AnyOutline:
    """The outline longer or wider; of any closed plan the side furthest right or back is moved."""
    members = outline.model_dump()
    if isinstance(outline, Rectangle):
        members[dimension] += change
    elif isinstance(outline, SingleWalls):
        for wall in members["walls"]:
            wall["length"] += change
    else:
        axis = 0 if dimension == "length" else 1
        furthest = max(corner[axis] for corner in outline.corners)
        members["corners"] = [
            [
                side + change if index == axis and side == furthest else side
                for index, side in enumerate(corner)
            ]
            for corner in outline.corners
        ]
    return type(outline).model_validate(members)


def _raised(building: Building, change: float) -> Building:
    """All walls and the roof moved up, or down."""
    outline, roof = building.outline, building.roof
    if roof is not None:
        members = roof.model_dump(exclude_none=True)
        for name in members.keys() & {"height", "low_height", "high_height", "ridge_height"}:
            members[name] += change
        roof = type(roof).model_validate(members)
    if isinstance(outline, SingleWalls):
        walls = outline.model_dump()
        for wall in walls["walls"]:
            wall["heights"] = wall["heights"] and [height + change for height in wall["heights"]]
        outline = SingleWalls.model_validate(walls)
    return building.model_copy(update={"outline": outline, "roof": roof})
