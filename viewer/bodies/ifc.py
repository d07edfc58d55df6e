"""A building as IFC4 (ISO 16739-1:2018): walls, floors and roofs as assemblies, with every piece in them.

All lengths are millimetres, whatever unit the building is shown in.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING, Final

from soleplate.engine.layout import FloorOut, Layout, PartOut, Piece, SlopeOut, WallOut
from soleplate.engine.shapes import BodyPart, area, bodies, rectangle
from soleplate.viewer.bodies.clear import Area
from soleplate.viewer.bodies.ifc_goods import declare_goods
from soleplate.viewer.bodies.ifc_kinds import kind_of
from soleplate.viewer.bodies.ifc_openings import IfcOpening, holes_of, main_view
from soleplate.viewer.bodies.ifc_relations import Figure, Relations
from soleplate.viewer.bodies.ifc_step import IfcProduct, StepFile
from soleplate.viewer.bodies.meshes import METRE, Extrusion, body_of
from soleplate.viewer.bodies.placings import WORLD, placing_of
from soleplate.viewer.drawings import drawn_as

if TYPE_CHECKING:
    from soleplate.viewer.bodies.ifc_step import Entity

UNITS: Final = (
    ("LENGTHUNIT", "MILLI", "METRE"),
    ("AREAUNIT", None, "SQUARE_METRE"),
    ("VOLUMEUNIT", None, "CUBIC_METRE"),
    ("MASSUNIT", "KILO", "GRAM"),
    ("PLANEANGLEUNIT", None, "RADIAN"),
)

FINE: Final = 1e-4
"""mm. Nearer points are one; those of a layout are 0.001 apart at least."""

FASTENERS: Final = {"anchor bolt": "ANCHORBOLT", "bolt": "BOLT", "screw": "SCREW"}
"""What the standard calls that which holds a plate down; all else is user-defined."""


def ifc4(layout: Layout) -> bytes:
    """The building as the text of an IFC4 file; the same bytes for the same layout.

    A wall is an elemented `IfcWall`, a floor an `IfcSlab`, and the slopes are slabs of one `IfcRoof`. None
    has a shape of its own: each is an aggregate of its pieces, or of panels and pieces. A piece has its mark
    as name and tag, its role as object type, its true body, its material, section and quantities. What hangs
    in an opening is an aggregate as well, an `IfcDoor` or `IfcWindow`.

    Raises:
        ModuleNotFoundError: ifcopenshell is not installed, which comes with the extra `ifc`.
    """
    return _Writer(layout).written()


class _Writer:
    """A file under way."""

    def __init__(self, layout: Layout) -> None:
        self._layout = layout
        self._step = StepFile(layout.name)
        self._relations = Relations(self._step)

    def written(self) -> bytes:
        """The whole file."""
        project = self._project()
        site = self._spatial("IfcSite", "site", None, None, None, None, None, None)
        building = self._spatial("IfcBuilding", self._layout.name, site, None, None, None)
        storey = self._spatial("IfcBuildingStorey", "ground floor", building, 0.0)
        for whole, part in ((project, site), (site.product, building), (building.product, storey)):
            self._relations.part(whole, part.product)

        for wall in self._layout.walls:
            self._wall(wall, storey)
        for floor in self._layout.floors:
            self._relations.stored(self._slab(floor, "FLOOR", storey).product)
        if self._layout.roofs:
            self._roof(storey)
        self._relations.written(storey.product)
        declare_goods(self._step, self._layout, project)
        return self._step.written()

    def _project(self) -> Entity:
        step, name = self._step, self._layout.name
        units = [step.add("IfcSIUnit", None, *unit) for unit in UNITS]
        model = step.add("IfcGeometricRepresentationContext", None, "Model", 3, FINE, step.axes(WORLD), None)
        self._body = step.add("IfcGeometricRepresentationSubContext", "Body", "Model")
        # Between these its attributes are those of the model.
        self._body.ParentContext, self._body.TargetView = model, "MODEL_VIEW"
        held = step.add("IfcUnitAssignment", units)
        return step.rooted("IfcProject", (), name, None, None, None, None, [model], held)

    def _spatial(self, entity: str, name: str, within: IfcProduct | None, *more: object) -> IfcProduct:
        told = (None, None, "ELEMENT", *more)
        return self._step.product(entity, (), name, None, WORLD, *told, within=within)

    def _wall(self, wall: WallOut, storey: IfcProduct) -> None:
        placing = placing_of(main_view(wall)).upright
        told = (None, None, "ELEMENTEDWALL")
        made = self._step.product("IfcWall", (wall.name,), wall.name, None, placing, *told, within=storey)
        self._relations.stored(made.product)
        figures: tuple[Figure, ...] = (
            ("Length", "Length", wall.length),
            ("Length", "Width", wall.plan.depth),
            ("Weight", "NetWeight", wall.weight_kg),
        )
        self._relations.told(made.product, "Qto_WallBaseQuantities", *figures)
        self._anchors(wall, made)
        self._parts(
            wall,
            made,
            storey,
            {each.number: self._panel(wall, each.number, made) for each in wall.panels or ()},
        )

    def _panel(self, wall: WallOut, number: int, within: IfcProduct) -> IfcProduct:
        made = self._step.product(
            "IfcElementAssembly",
            (wall.name, f"{number}"),
            f"{wall.name} {number}",
            "panel",
            within.placing,
            *(None, None, None, "USERDEFINED"),
            within=within,
        )
        self._relations.part(within.product, made.product)
        return made

    def _anchors(self, wall: WallOut, within: IfcProduct) -> None:
        """What holds its sole plates down, without a shape: how deep it goes in is not told."""
        for number, anchor in enumerate(wall.anchors):
            told = (None, None, anchor.diameter, anchor.length, FASTENERS.get(anchor.kind, "USERDEFINED"))
            made = self._step.product(
                "IfcMechanicalFastener",
                (wall.name, f"{number}"),
                anchor.kind,
                anchor.kind,
                within.placing.moved((anchor.at, wall.plan.depth / 2, 0.0)),
                *told,
                within=within,
            )
            self._relations.part(within.product, made.product)

    def _slab(self, part: FloorOut | SlopeOut, kind: str, within: IfcProduct) -> IfcProduct:
        placing, told = placing_of(main_view(part)), (None, None, kind)
        made = self._step.product("IfcSlab", (part.name,), part.name, None, placing, *told, within=within)
        weight = ("Weight", "NetWeight", part.weight_kg)
        self._relations.told(made.product, "Qto_SlabBaseQuantities", weight)
        self._parts(part, made, within, {})
        return made

    def _roof(self, storey: IfcProduct) -> None:
        told = (None, None, "SHED_ROOF" if len(self._layout.roofs) == 1 else "GABLE_ROOF")
        roof = self._step.product("IfcRoof", (), "roof", None, WORLD, *told, within=storey)
        self._relations.stored(roof.product)
        for slope in self._layout.roofs:
            self._relations.part(roof.product, self._slab(slope, "ROOF", roof).product)

    def _parts(
        self, part: PartOut, whole: IfcProduct, within: IfcProduct, panels: Mapping[int, IfcProduct]
    ) -> None:
        """The pieces of a part, each in what it is put together in, and its openings."""
        hung: dict[str, IfcProduct] = {}
        for hole in holes_of(part):
            filling = self._opening(part, hole, whole)
            hung |= {mark: filling for mark in hole.leaves if filling}
        for piece in part.pieces:
            panel = panels.get(piece.panel or 0, whole) if piece.is_frame else whole
            self._piece(piece, part, hung.get(piece.mark, panel))

    def _piece(self, piece: Piece, part: PartOut, within: IfcProduct) -> None:
        body, (along, up, inwards) = body_of(piece)
        view = placing_of(part.views[piece.view or "face"])
        placing = view.moved((along, up, -inwards - body.depth))
        kind = kind_of(self._layout.role_of(piece), drawn_as(piece))
        told = (self._shape(body), piece.mark, kind.predefined)
        key = (part.name, piece.mark)
        made = self._step.product(
            kind.entity, key, piece.mark, piece.role, placing, *told, within=within
        ).product
        size = ("Width", body.depth) if kind.entity == "IfcPlate" else ("Length", piece.length)
        self._relations.part(within.product, made)
        self._relations.made_of(piece, made)
        self._relations.told(
            made,
            kind.quantities,
            ("Length", *size),
            ("Volume", "NetVolume", _volume(body)),
            ("Weight", "NetWeight", piece.weight_kg),
        )

    def _shape(self, body: Extrusion) -> Entity:
        """A body that is placed by its far face."""
        step = self._step
        solids = [
            step.add(
                "IfcExtrudedAreaSolid",
                step.profile(outline),
                step.axes(WORLD.moved((0.0, 0.0, body.depth - far))),
                step.direction(WORLD.z),
                round(far - near, 6),
            )
            for outline, (near, far) in _prisms(body)
        ]
        shape = step.add("IfcShapeRepresentation", self._body, "Body", "SweptSolid", solids)
        return step.add("IfcProductDefinitionShape", None, None, [shape])

    def _opening(self, part: PartOut, hole: IfcOpening, whole: IfcProduct) -> IfcProduct | None:
        """The opening, cut clear of all pieces; returns the first thing that fills it, if anything does."""
        near, far = hole.depth
        placing = placing_of(main_view(part))
        fillings: list[IfcProduct] = []
        for number, clear in enumerate(hole.clear):
            key = (part.name, hole.name, f"{number}")
            size = (clear.right - clear.left, clear.top - clear.bottom)
            shape = self._shape(Extrusion(rectangle(0.0, size[0], 0.0, size[1]), far - near))
            at = placing.moved((clear.left, clear.bottom, -far))
            told = (shape, None, "OPENING")
            void = self._step.product("IfcOpeningElement", key, hole.name, None, at, *told, within=whole)
            self._step.rooted("IfcRelVoidsElement", key, None, None, whole.product, void.product)
            if hole.is_filled:
                filling = self._filling(part, hole, key, clear, void)
                self._step.rooted("IfcRelFillsElement", key, None, None, void.product, filling.product)
                fillings.append(filling)
        if hole.leaves and not fillings:
            return self._filling(part, hole, (part.name, hole.name), hole.whole, whole)
        return fillings[0] if fillings else None

    def _filling(
        self, part: PartOut, hole: IfcOpening, key: tuple[str, ...], size: Area, within: IfcProduct
    ) -> IfcProduct:
        """A door or window as large as what is clear: what frame or pane it has is not known.

        It stands at the lower left corner of that, in the outermost face.
        """
        at = placing_of(main_view(part)).moved((size.left, size.bottom, -hole.depth[0])).upright
        entity, kind = ("IfcDoor", "DOOR") if hole.kind == "door" else ("IfcWindow", "WINDOW")
        told = (None, None, size.top - size.bottom, size.right - size.left, kind)
        made = self._step.product(entity, key, hole.name, None, at, *told, within=within)
        self._relations.stored(made.product)
        return made


def _prisms(body: Extrusion) -> tuple[BodyPart, ...]:
    return bodies(body.outline, (0.0, body.depth), body.cut_out)


def _volume(body: Extrusion) -> float:
    """m3."""
    return sum(area(outline) * (far - near) for outline, (near, far) in _prisms(body)) / METRE**3
