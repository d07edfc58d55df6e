"""The core: from a building file to all that is set out. It knows no rule, no HTTP, no SVG.

In: a building, as `load_registry().read_building` reads it from a JSON value. Out: its layout, by `lay_out`.
What a plugin's author needs is in `soleplate.engine.rules`. Names are loaded at their first use.
"""

from __future__ import annotations

from importlib import import_module
from typing import TYPE_CHECKING, Any, Final

if TYPE_CHECKING:
    from soleplate.engine.building_file import Building, BuildingError, EngineError, UnbuildableError
    from soleplate.engine.laying_out import lay_out
    from soleplate.engine.layout import Layout
    from soleplate.engine.registry import PluginError, Registry, load_registry

_HOME: Final = {
    "Building": "building_file",
    "BuildingError": "building_file",
    "EngineError": "building_file",
    "Layout": "layout",
    "PluginError": "registry",
    "Registry": "registry",
    "UnbuildableError": "building_file",
    "lay_out": "laying_out",
    "load_registry": "registry",
}

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


def __getattr__(name: str) -> Any:
    if name not in _HOME:
        raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
    return getattr(import_module(f"{__name__}.{_HOME[name]}"), name)
