"""What relates the entities of a file to each other, held back until all of them are there."""

from __future__ import annotations

from typing import TYPE_CHECKING

from soleplate.engine.layout import Piece
from soleplate.viewer.bodies.ifc_step import StepFile
from soleplate.viewer.markup import carriable

if TYPE_CHECKING:
    from soleplate.viewer.bodies.ifc_step import Entity

Figure = tuple[str, str, float]
"""Of a quantity: its measure such as `Length`, its name and value."""


class Relations:
    """Which entities are parts of which, of what they are, and how much."""

    def __init__(self, step: StepFile) -> None:
        """Nothing is related yet."""
        self._step = step
        self._parts: dict[str, tuple[Entity, list[Entity]]] = {}
        self._stored: list[Entity] = []
        self._of: dict[tuple[tuple[float, float], str], list[Entity]] = {}
        self._told: dict[tuple[str, tuple[Figure, ...]], list[Entity]] = {}

    def part(self, whole: Entity, part: Entity) -> None:
        """Something is put together from parts."""
        self._parts.setdefault(whole.GlobalId, (whole, []))[1].append(part)

    def stored(self, element: Entity) -> None:
        """It stands in the storey."""
        self._stored.append(element)

    def made_of(self, piece: Piece, element: Entity) -> None:
        """A piece is of its section and material."""
        self._of.setdefault((piece.section, piece.material), []).append(element)

    def told(self, element: Entity, name: str, *figures: Figure) -> None:
        """It has a set of quantities; alike ones share it."""
        self._told.setdefault((name, figures), []).append(element)

    def written(self, storey: Entity) -> None:
        """Write them all."""
        for identity, (whole, parts) in self._parts.items():
            self._relation("IfcRelAggregates", identity, whole, parts)
        if self._stored:
            self._relation("IfcRelContainedInSpatialStructure", "storey", self._stored, storey)
        for (section, material), pieces in self._of.items():
            held = self._material(section, material)
            self._relation("IfcRelAssociatesMaterial", pieces[0].GlobalId, pieces, held)
        for (name, figures), elements in self._told.items():
            first = elements[0].GlobalId
            quantities = [quantity(self._step, *each) for each in figures]
            held = self._step.rooted("IfcElementQuantity", (first,), name, None, None, quantities)
            self._relation("IfcRelDefinesByProperties", first, elements, held)

    def _relation(self, entity: str, key: str, *ends: object) -> None:
        self._step.rooted(entity, (key,), None, None, *ends)

    def _material(self, section: tuple[float, float], material: str) -> Entity:
        step, told = self._step, carriable(material)
        name = f"{section[0]:g} x {section[1]:g}"
        held = step.once("IfcMaterial", told, None, None)
        profile = step.once("IfcRectangleProfileDef", "AREA", name, None, *section)
        one = step.add("IfcMaterialProfile", name, None, held, profile, None, None)
        return step.add("IfcMaterialProfileSet", f"{name} {told}", None, [one], None)


def quantity(step: StepFile, measure: str, name: str, value: float) -> Entity:
    """A figure that is told of something."""
    return step.add(f"IfcQuantity{measure}", name, None, None, value, None)
