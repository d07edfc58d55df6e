"""The core: from a building file to all that is set out. It knows no rule, no HTTP, no SVG.

In: a building, as `load_registry().read_building` reads it from a JSON value. Out: its layout, by `lay_out`.
What a plugin's author needs is in `soleplate.engine.rules`. Names are loaded at their first use.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from soleplate.engine.on_first_use import on_first_use

if TYPE_CHECKING:
    from soleplate.engine.building_file import Building, BuildingError, EngineError, UnbuildableError
    from soleplate.engine.laying_out import lay_out
    from soleplate.engine.layout import Layout
    from soleplate.engine.registry import PluginError, Registry, load_registry

__all__ = [
    "Building",
    "BuildingError",
    "EngineError",
    "Layout",
    "PluginError",
    "Registry",
    "UnbuildableError",
    "lay_out",
    "load_registry",
]


__getattr__ = on_first_use(
    __name__,
    {
        "building_file": ("Building", "BuildingError", "EngineError", "UnbuildableError"),
        "layout": ("Layout",),
        "laying_out": ("lay_out",),
        "registry": ("PluginError", "Registry", "load_registry"),
    },
)
