"""What lies between the timbers of a wall, as the building file asks for it."""

from __future__ import annotations

from dataclasses import dataclass

from soleplate.engine.building_file import (
    Building,
    Mm,
    PlanWall,
    UnbuildableError,
    at_most,
)


@dataclass(frozen=True, slots=True)
class Insulated:
    """Insulation `thickness` mm thick, and whether a layer that checks vapour lies inside of it."""

    thickness: float
    vapour_layer: bool


def insulated(building: Building, plan: PlanWall, depth: float) -> Insulated | None:
    """What lies between the timbers of a wall that is `depth` mm deep; what it says itself holds, null too.

    Raises:
        UnbuildableError: it is thicker than the wall is deep.
    """
    says, place = building.who_says(plan.name, "insulation")
    if plan.is_partition and says is building.defaults:
        return None
    thickness = says.insulation
    if thickness is None:
        return None
    if thickness > depth:
        raise UnbuildableError.at(
            place,
            "insulation of {thickness} is thicker than wall {name}; accepted is at most {depth}",
            thickness=Mm(thickness),
            name=plan.name,
            depth=at_most(depth),
        )
    says, _ = building.who_says(plan.name, "vapour_layer")
    return Insulated(thickness, says.vapour_layer is not False)
