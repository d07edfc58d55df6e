"""A file of IFC4 as ifcopenshell puts it together, which is imported at the first one."""

from __future__ import annotations

import importlib.util
from collections.abc import Sequence
from typing import TYPE_CHECKING, Any, Final, NamedTuple
from uuid import UUID, uuid5

from soleplate.engine.shapes import Outline, Vector
from soleplate.viewer.bodies.placings import WORLD, Placing
from soleplate.viewer.markup import carriable

if TYPE_CHECKING:
    import ifcopenshell

    Entity = ifcopenshell.entity_instance

LACKING: Final = (
    "the library that writes IFC is not installed: install the extra, pip install 'soleplate[ifc]'"
)

NAMES: Final = UUID("14480b50-522b-4e21-a3bb-c3ad8057656c")
"""The namespace of our global ids (RFC 9562, version 5); chosen once, by chance."""

VIEW: Final = "ViewDefinition [DesignTransferView_V1.0]"
"""Our openings have bodies and cut. In the Reference View they may not: at IfcOpeningElement its version 1.2
says that the concepts of a Body do not apply (read as quoted in a public discussion of exporters)."""

STAMP: Final = "2000-01-01T00:00:00"
"""Always the same: the time at which a file is written is no part of a building."""

PROGRAM: Final = "Soleplate"
WRITTEN_BY: Final = "IfcOpenShell"


def is_installed() -> bool:
    """Whether ifcopenshell is there."""
    return importlib.util.find_spec("ifcopenshell") is not None


class IfcProduct(NamedTuple):
    """A product, and its placing in the world."""

    product: Entity
    placing: Placing


class StepFile:
    """A file under way: entities in the order in which they are made; alike points and axes are made once."""

    def __init__(self, building: str) -> None:
        """Begin a file of a building of that name."""
        import ifcopenshell
        import ifcopenshell.guid

        self._building = building
        self._compressed = ifcopenshell.guid.compress
        self._file = ifcopenshell.file(schema="IFC4")
        self._held: dict[object, Entity] = {}

    def add(self, entity: str, *values: Any) -> Entity:
        """An entity with these attributes, in the order of the standard."""
        return self._file.create_entity(entity, *values)

    def once(self, entity: str, *values: Any) -> Entity:
        """The entity that has these attributes; none of them may be a list of entities."""
        key = (
            entity,
            *(each if isinstance(each, str | int | float | tuple | None) else each.id() for each in values),
        )
        if key not in self._held:
            self._held[key] = self.add(entity, *values)
        return self._held[key]

    def rooted(self, entity: str, key: Sequence[str], name: str | None, *values: Any) -> Entity:
        """An entity with a global id of its own, which is always the same of a building's name and the key.

        Its other attributes follow from its description on.
        """
        # Each text with its length, so that no two keys run into the same one.
        told = "".join(f"{len(each)}:{each}" for each in (self._building, entity, *key))
        identity = self._compressed(uuid5(NAMES, told).hex)
        return self.add(entity, identity, None, name and carriable(name), *values)

    def product(
        self,
        entity: str,
        key: Sequence[str],
        name: str,
        kind: str | None,
        at: Placing,
        *more: Any,
        within: IfcProduct | None,
    ) -> IfcProduct:
        """An entity of that object type that stands somewhere; `more` follows on its placement."""
        above = within.product.ObjectPlacement if within else None
        place = self.add(
            "IfcLocalPlacement", above, self.axes(at.seen_from(within.placing if within else WORLD))
        )
        return IfcProduct(self.rooted(entity, key, name, None, kind and carriable(kind), place, *more), at)

    def point(self, place: Sequence[float]) -> Entity:
        """A point, mm."""
        return self.once("IfcCartesianPoint", tuple(round(each, 6) + 0.0 for each in place))

    def direction(self, vector: Vector) -> Entity:
        """A unit vector."""
        return self.once("IfcDirection", tuple(round(each, 9) + 0.0 for each in vector))

    def axes(self, placing: Placing) -> Entity:
        """A placing, as it lies in another one."""
        z, x = self.direction(placing.z), self.direction(placing.x)
        return self.once("IfcAxis2Placement3D", self.point(placing.origin), z, x)

    def profile(self, outline: Outline) -> Entity:
        """A closed outline, mm."""
        if outline not in self._held:
            points = [self.point(corner) for corner in outline]
            line = self.add("IfcPolyline", (*points, points[0]))
            self._held[outline] = self.add("IfcArbitraryClosedProfileDef", "AREA", None, line)
        return self._held[outline]

    def written(self) -> bytes:
        """The file as text."""
        # Not all of ifcopenshell has types.
        file: Any = self._file
        header = file.header
        header.file_description.description = (VIEW,)
        name = header.file_name
        name.name, name.time_stamp, name.authorization = "", STAMP, ""
        name.author = name.organization = ("",)
        name.preprocessor_version, name.originating_system = WRITTEN_BY, PROGRAM
        text: str = file.to_string()
        return text.encode("ascii")
