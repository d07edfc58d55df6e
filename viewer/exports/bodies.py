"""The building as solids, for programs that show it or take it over."""

from __future__ import annotations

from collections.abc import Iterable
from typing import ClassVar

from soleplate.engine.layout import Layout
from soleplate.engine.rules import Exporter, hookimpl


class GltfExport(Exporter):
    """Every piece as a body with its mark, role, section and material: glTF 2.0 in one file."""

    name = "gltf"
    media_type: ClassVar[str] = "model/gltf-binary"
    suffix: ClassVar[str] = ".glb"

    def export(self, layout: Layout) -> bytes:
        """Return a `.glb` (Khronos glTF 2.0), in metres, Y up."""
        from soleplate.viewer.bodies import glb

        return glb(layout)


class IfcExport(Exporter):
    """Walls, floors and roofs with every piece, its body, material and quantities: IFC4."""

    name = "ifc"
    media_type: ClassVar[str] = "application/x-step"
    suffix: ClassVar[str] = ".ifc"

    def wants(self) -> str | None:
        """The library that writes it comes with an extra."""
        from soleplate.viewer.bodies import LACKING, is_installed

        return None if is_installed() else LACKING

    def export(self, layout: Layout) -> bytes:
        """Return a STEP file (ISO 10303-21) of IFC4 (ISO 16739-1:2018), in mm, Z up."""
        from soleplate.viewer.bodies import ifc4

        return ifc4(layout)


@hookimpl
def register_exporters() -> Iterable[type[Exporter]]:
    """Offer the building as solids."""
    return (GltfExport, IfcExport)
