"""Layers, exporters and checks, run on the layouts of the generated buildings."""

from __future__ import annotations

import inspect
from collections.abc import Callable, Iterable, Iterator
from typing import Any

from soleplate.engine.building_file import Building
from soleplate.engine.contract.breach import Breach, Fault
from soleplate.engine.contract.buildings import buildings
from soleplate.engine.contract.rules import PLUGIN, first_party
from soleplate.engine.contract.watching import Allowed, Watch
from soleplate.engine.laying_out import lay_out
from soleplate.engine.layout import Layout
from soleplate.engine.registry import PluginLoadError, RuleError, blamed, extension_name, to_draw, to_tell
from soleplate.engine.rules import DrawingLayer, Exporter, Finding

Complaint = tuple[Fault, str]


def layer_breaches(kind: type[DrawingLayer], allowed: Allowed) -> tuple[Breach, ...]:
    """All that breaks the contract of a drawing layer; see `contract.breaches`."""

    def tell(layer: DrawingLayer, layout: Layout, watch: Watch) -> Iterator[Complaint]:
        for wall in layout.walls:
            for shape in watch.ask("draw", layer.draw, (wall, layout)):
                to_draw(shape)
        return iter(())

    return _of_class(kind, DrawingLayer, tell, allowed)


def exporter_breaches(kind: type[Exporter], allowed: Allowed) -> tuple[Breach, ...]:
    """All that breaks the contract of an exporter; see `contract.breaches`."""

    def tell(exporter: Exporter, layout: Layout, watch: Watch) -> Iterator[Complaint]:
        if exporter.lacking(layout) is None:
            exported: object = watch.ask("export", exporter.export, (layout,))
            if not isinstance(exported, bytes):
                yield "nonsense", f"export returned {type(exported).__name__}, not bytes"

    return _of_class(kind, Exporter, tell, allowed)


def check_breaches(function: Callable[..., Iterable[Finding]], allowed: Allowed) -> tuple[Breach, ...]:
    """All that breaks the contract of a `check_layout` function; see `contract.breaches`."""
    names = tuple(inspect.signature(function).parameters)
    if strange := sorted(set(names) - {"layout", "building"}):
        return (Breach("half made", f"it asks for {strange[0]!r}; accepted are layout and building"),)

    def tell(layout: Layout, building: Building, watch: Watch) -> Iterator[Complaint]:
        told = {"layout": layout, "building": building}
        parts = dict.fromkeys(part.name for part in layout.parts)
        marks = dict.fromkeys(piece.mark for piece in layout.pieces)
        found = watch.ask(function.__name__, function, tuple(told[name] for name in names))
        to_tell(tuple(found), parts, marks)
        return iter(())

    missing = () if function.__doc__ else (Breach("undocumented field", "the function has no docstring"),)
    return (*missing, *_run(function.__name__, tell, allowed))


def _of_class(
    kind: type[Any],
    base: type[Any],
    tell: Callable[[Any, Layout, Watch], Iterator[Complaint]],
    allowed: Allowed,
) -> tuple[Breach, ...]:
    missing: list[Breach] = []
    if not (kind.__dict__.get("__doc__") or "").strip():
        missing.append(
            Breach("undocumented field", "the class has no docstring, so nobody learns what it does")
        )
    try:
        name = extension_name(PLUGIN, kind, base)
    except PluginLoadError as error:
        return (*missing, Breach("half made", error.message))
    offer = kind()
    return (*missing, *_run(name, lambda layout, _, watch: tell(offer, layout, watch), allowed))


def _run(
    name: str, tell: Callable[[Layout, Building, Watch], Iterator[Complaint]], allowed: Allowed
) -> Iterator[Breach]:
    found: set[Complaint] = set()
    for value, layout, building in _layouts():
        watch = Watch(allowed.seconds)
        seen: list[Complaint] = []
        try:
            with blamed(PLUGIN, name, patience=allowed.patience):
                seen.extend(tell(layout, building, watch))
        except RuleError as error:
            seen.append((error.fault, error.message.split(": ", 1)[-1]))
        for fault, message in (*seen, *watch.seen):
            if (fault, message.split(" ")[0]) not in found:
                found.add((fault, message.split(" ")[0]))
                yield Breach(fault, message, building=value)


def _layouts() -> Iterator[tuple[dict[str, Any], Layout, Building]]:
    """Building files, each with its layout and itself as it was read.

    Fresh ones every time: what one plugin does to them must not reach the next.
    """
    registry = first_party()
    for value in buildings()[:6]:
        building = registry.read_building(value)
        yield value, lay_out(building, registry), building
