"""The page of a building, and its parts drawn afresh: how the browser's board and the server keep in step."""

from __future__ import annotations

import hashlib
import importlib.resources
import inspect
import json
from collections.abc import Callable, Mapping
from contextlib import suppress
from dataclasses import dataclass, field
from typing import Any, Final
from urllib.parse import urlencode

from starlette.exceptions import HTTPException

from soleplate.api.work.drawing import added_layers
from soleplate.api.work.messages import BoardRequest
from soleplate.api.work.starting import ASKED, building_of, claddings, faults_by_question, is_start
from soleplate.api.work.turned_answers import turned
from soleplate.engine.building_file import Building, BuildingError, read_json
from soleplate.engine.framing import set_out
from soleplate.engine.layout import CAUTIONS, Layout
from soleplate.engine.registry import Registry
from soleplate.viewer.drawings import Side, drawn_parts
from soleplate.viewer.markup import joined
from soleplate.viewer.page import ASK_IN, PageView, Served, board_parts, served_page_html

OWN: Final = frozenset({"wall", "all", "side", "whole"})
"""Members of a query that say how a building is looked at, not which one."""

PAGE_QUERY: Final = OWN | ASKED | {"example", "start", ASK_IN}
"""All that the page's query may have."""


@dataclass(frozen=True, slots=True)
class Begun:
    """What a page begins with: a building laid out, or none yet."""

    building: Building | None = None
    layout: Layout | None = None
    answers: Mapping[str, str] = field(default_factory=dict)
    faults: Mapping[str, str] = field(default_factory=dict)


def begin(
    asked: Mapping[str, str],
    registry: Registry,
    own: Mapping[str, Any] | None,
    lay_out: Callable[[Building], Layout],
) -> Begun:
    """What a page's query asks for: an example, what the start's answers give, or the server's `own` file.

    Raises:
        HTTPException: there is no such example.
        UnbuildableError: it cannot be laid out.
    """
    if "example" in asked and asked["example"] not in examples():
        raise HTTPException(404)
    file = examples()[asked["example"]] if "example" in asked else own
    if is_start(asked) and "example" not in asked:
        answers = {name: value[:200] for name, value in asked.items() if name in ASKED}
        if ASK_IN in asked:
            return Begun(answers=turned(answers | {ASK_IN: asked[ASK_IN]}))
        try:
            building = registry.read_building(building_of(answers, registry))
            return Begun(building, lay_out(building), answers)
        except BuildingError as error:
            return Begun(None, None, answers, faults_by_question(error))
    if file is None or "start" in asked:
        return Begun(answers={name: value for name, value in asked.items() if name == "units"})
    building = registry.read_building(file)
    return Begun(building, lay_out(building))


def page_of(
    begun: Begun, asked: Mapping[str, str], registry: Registry, examples_to_begin_with: Mapping[str, str]
) -> str:
    """The whole page."""
    layers = tuple(layer.name for _, layer in registry.drawing_layers)
    query = urlencode({name: value for name, value in asked.items() if name not in OWN})
    side: Side = "inside" if asked.get("side") == "inside" else "outside"
    file = None if begun.building is None else file_of(begun.building)
    served = Served(
        caution=CAUTIONS[0],
        building=file,
        key="" if file is None else key_of(file),
        layers=layers,
        examples=examples_to_begin_with,
        exports={
            exporter.name: inspect.cleandoc(exporter.__doc__ or "").partition("\n")[0]
            for _, exporter in registry.exporters
        },
        roles=registry.roles,
        claddings=tuple(claddings(registry)),
        answers=begun.answers or ({} if begun.building is None else {"units": begun.building.units}),
        faults=begun.faults,
    )
    view = PageView(query=query, side=side)
    if begun.layout is not None:
        if "whole" in asked:
            view = PageView(query=query, side=side, whole=True)
        else:
            wall = None if "all" in asked else asked.get("wall", "")
            view = _view(begun.layout, registry, wall, side, query)
    return served_page_html(begun.layout, served, view)


def board_html(layout: Layout, asked: BoardRequest, registry: Registry) -> str:
    """The parts of the page, one after the other."""
    if asked.whole:
        view = PageView(None, asked.side, query="", whole=True, is_followed=True)
    else:
        view = _view(layout, registry, asked.wall, asked.side, "")
    return joined(*board_parts(layout, view, listed=asked.lists).values())


def _view(layout: Layout, registry: Registry, wall: str | None, side: Side, query: str) -> PageView:
    names = [each.name for each in drawn_parts(layout)]
    chosen = wall if wall is None or wall in names else names[0]
    added = {
        each.name: added_layers(each, layout, registry)
        for each in layout.walls
        if registry.drawing_layers and chosen in (None, each.name)
    }
    return PageView(chosen, side, added, query)


def file_of(building: Building) -> dict[str, Any]:
    """A building as a file says it, without what it leaves open; bare numbers in its own unit."""
    written: dict[str, Any] = building.model_dump(
        mode="json", exclude_unset=True, exclude_none=True, context={"units": building.units}
    )
    return written


def key_of(file: Mapping[str, Any]) -> str:
    """By which a browser remembers work on a building: the same for the same file."""
    text = json.dumps(file, sort_keys=True, ensure_ascii=True)
    return hashlib.sha256(text.encode()).hexdigest()[:20]


def to_begin_with(registry: Registry) -> dict[str, str]:
    """What each example is called, by its name, but of those that need a rule which is not installed."""
    found: dict[str, str] = {}
    for name, value in examples().items():
        with suppress(BuildingError):
            building = registry.read_building(value)
            set_out(building, registry)
            found[name] = building.name
    return found


def examples() -> dict[str, Any]:
    """The example buildings that come with Soleplate, by name."""
    folder = importlib.resources.files("soleplate.examples")
    files = sorted(
        (entry for entry in folder.iterdir() if entry.name.endswith(".json")), key=lambda file: file.name
    )
    return {
        file.name.removesuffix(".json"): value
        for file in files
        if isinstance(value := read_json(file.read_bytes()), dict)
        and value.get("format") == "soleplate.building/1"
    }
