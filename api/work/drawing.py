"""Drawing a wall with the layers that plugins add."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from typing import Literal

from soleplate.engine.building_file import UnbuildableError
from soleplate.engine.layout import Layout, WallOut
from soleplate.engine.registry import Registry, drawn_out, to_draw
from soleplate.engine.rules import Drawn
from soleplate.viewer.drawings import SHOWN, drawn_parts, elevation_svg


def draw(
    layout: Layout,
    wall_name: str,
    registry: Registry,
    *,
    layers: Collection[str] | None = None,
    side: Literal["outside", "inside"] = "outside",
) -> str:
    """An elevation as SVG; `layers` are all there are but cladding and lining unless said otherwise.

    Raises:
        UnbuildableError: the building has no wall of that name; at `/wall`.
        RuleError: a plugin's layer failed, or returned what cannot be drawn; names plugin and layer.
    """
    names = [part.name for part in drawn_parts(layout)]
    if wall_name not in names:
        raise UnbuildableError.at(
            "/wall", f"no wall is called {wall_name!r}; accepted are {', '.join(names)}"
        )
    wall = next((wall for wall in layout.walls if wall.name == wall_name), None)
    # Plugins draw on walls.
    added = added_layers(wall, layout, registry, layers) if wall is not None else {}
    chosen = (*SHOWN, *added) if layers is None else layers
    return elevation_svg(layout, wall_name, side=side, layers=chosen, added=added)


def added_layers(
    wall: WallOut, layout: Layout, registry: Registry, layers: Collection[str] | None = None
) -> dict[str, Sequence[Drawn]]:
    """What the plugins' layers draw on a wall, by the layers' names; of `layers` alone where they are given.

    Raises:
        RuleError: a plugin's layer failed, or returned what cannot be drawn; names plugin and layer.
    """
    added: dict[str, Sequence[Drawn]] = {}
    for plugin, layer in registry.drawing_layers:
        if layers is not None and layer.name not in layers:
            continue
        with registry.blamed(plugin, layer.name, wall.name):
            added[layer.name] = [to_draw(shape) for shape in drawn_out(layer.draw(wall, layout))]
    return added
