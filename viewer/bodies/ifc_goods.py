"""What is bought besides timber, as resources of an IFC4 project."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING, Final

from soleplate.engine.layout import Layout
from soleplate.viewer.bodies.ifc_relations import Figure, quantity
from soleplate.viewer.bodies.ifc_step import StepFile
from soleplate.viewer.bodies.meshes import METRE
from soleplate.viewer.markup import carriable

if TYPE_CHECKING:
    from soleplate.viewer.bodies.ifc_step import Entity

MEASURES: Final = {"piece": ("Count", 1.0), "m": ("Length", METRE), "m2": ("Area", 1.0)}
"""How goods are counted: the measure, and how many of a file's units one is."""


def declare_goods(step: StepFile, layout: Layout, project: Entity) -> None:
    """Write what is to be bought, with laps and waste, and declare it in the project."""
    resources = [
        step.rooted(
            "IfcConstructionMaterialResource",
            (name,),
            name,
            None,
            carriable(kind),
            None,
            None,
            None,
            None,
            quantity(step, *figure),
            "USERDEFINED",
        )
        for kind, name, figure in _rows(layout)
    ]
    if resources:
        step.rooted("IfcRelDeclares", ("goods",), None, None, project, resources)


def _rows(layout: Layout) -> Iterator[tuple[str, str, Figure]]:
    """Of each sort of goods its kind, its name with its size in mm, and how much to buy."""
    for goods in layout.goods:
        measure, units = MEASURES[goods.unit]
        yield goods.kind, _named(goods.kind, *goods.size), (measure, measure, goods.to_buy * units)
    for fixing in layout.fixings_list:
        name = f"{_named(fixing.kind, fixing.diameter, fixing.length)}, {fixing.shank}"
        yield fixing.kind, name, ("Count", "Count", float(fixing.with_waste))


def _named(kind: str, *size: float) -> str:
    return f"{kind} {' x '.join(f'{each:g}' for each in size)}".rstrip()
