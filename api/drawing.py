"""Drawing a wall with the layers that plugins add."""

from __future__ import annotations

from collections.abc import Collection
from typing import Literal

from soleplate.engine.errors import RuleError, UnbuildableError
from soleplate.engine.extensions import Drawn, DrawnArea, DrawnLine, DrawnText
from soleplate.engine.layout import Layout
from soleplate.engine.registry import Registry
from soleplate.viewer.elevation import LAYERS, elevation_svg


def draw(
    layout: Layout,
    wall_name: str,
    registry: Registry,
    *,
    layers: Collection[str] | None = None,
    side: Literal["outside", "inside"] = "outside",
) -> str:
    """An elevation as SVG; `layers` are all there are unless said otherwise.

    Raises:
        UnbuildableError: the building has no wall of that name; at `/wall`.
        RuleError: a plugin's layer failed, or returned what cannot be drawn; names plugin and layer.
    """
    wall = next((wall for wall in layout.walls if wall.name == wall_name), None)
    if wall is None:
        known = ", ".join(wall.name for wall in layout.walls)
        raise UnbuildableError.at("/wall", f"no wall is called {wall_name!r}; accepted are {known}")
    added: dict[str, list[Drawn]] = {}
    for plugin, layer in registry.drawing_layers:
        if layers is not None and layer.name not in layers:
            continue
        try:
            drawn = list(layer.draw(wall, layout))
        except Exception as error:
            raise RuleError(plugin, layer.name, f"failed: {type(error).__name__}: {error}") from error
        if strange := [shape for shape in drawn if not isinstance(shape, DrawnLine | DrawnArea | DrawnText)]:
            raise RuleError(plugin, layer.name, f"returned {strange[0]!r}, which is nothing to draw")
        added[layer.name] = drawn
    chosen = (*LAYERS, *added) if layers is None else layers
    return elevation_svg(layout, wall_name, side=side, layers=chosen, added=added)
