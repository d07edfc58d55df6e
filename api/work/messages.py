"""The bodies and answers of the API that are not the engine's own models."""

from __future__ import annotations

from typing import Annotated, Any, Final, Literal, TypeVar, Union

from pydantic import BaseModel, Field, RootModel, create_model

from soleplate.engine.building_file import Items, Model, Name
from soleplate.engine.layout import Result, WallChanges
from soleplate.engine.registry import Registry
from soleplate.engine.what_if import Ranges
from soleplate.viewer.drawings import LAYERS, WHOLE
from soleplate.viewer.pictures import PICTURE_LAYERS, CutPlane, Look, PictureLayer

EXAMPLE_WALL: Final[dict[str, Any]] = {
    "name": "partition",
    "frame": {"section": [38, 63]},
    "length": 3120,
    "height": 2400,
    "openings": [{"name": "door", "kind": "door", "width": 838, "height": 2040, "at": {"left": 1400}}],
}

EXAMPLE_BUILDING: Final[dict[str, Any]] = {
    "format": "soleplate.building/1",
    "name": "Tool store",
    "frame": {"section": [45, 70]},
    "outline": {"length": 2400, "width": 1800, "through": "front-back"},
    "roof": {"form": "mono-pitch", "high_side": "front", "low_height": 1900, "pitch": 8},
}

EXAMPLE_STOCK: Final[dict[str, Any]] = {
    "stock": [
        {
            "section": [45, 70],
            "lengths": [{"length": 2400, "price": 4.1}, {"length": 3600, "price": 6.0}],
            "on_hand": [{"length": 1300, "count": 2, "grade": "short"}],
        }
    ],
    "kerf": 3,
}

EXAMPLE_SITE: Final[dict[str, Any]] = {
    "people": 2,
    "obstacles": [
        {"name": "bank", "beside": "back", "clear": 300, "thick": 800},
        {"name": "branch", "polygon": [[-800, 2400], [900, 2600], [300, 3900]], "bottom": 2300, "top": 5000},
    ],
    "dry_hours": [{"name": "Saturday", "hours": 7}, {"name": "Sunday", "hours": 6}],
}

EXAMPLE_SAW_PLAN: Final[dict[str, Any]] = {
    "parts": [
        {"name": "P1", "section": [45, 70], "material": "C16", "length": 1870, "count": 8},
        {"name": "P2", "section": [45, 70], "material": "C16", "length": 584, "count": 6, "grade": "short"},
    ],
    "stock": [
        {
            "section": [45, 70],
            "material": "C16",
            "lengths": [{"length": 2400, "price": 4.1}, {"length": 4800, "price": 8.1}],
            "on_hand": [{"length": 1300, "count": 2, "grade": "short"}],
        }
    ],
    "kerf": 3,
    "objective": "cost",
    "time_budget_s": 5,
}

EXAMPLE_WHAT_IF: Final[dict[str, Any]] = {
    "building": EXAMPLE_BUILDING | {"stock": EXAMPLE_STOCK},
    "ranges": {"length": 50, "width": 0, "height": 50},
}

EXAMPLE_BOARD: Final[dict[str, Any]] = {"building": EXAMPLE_BUILDING, "wall": "front"}

EXAMPLE_ELEVATION: Final[dict[str, Any]] = {"building": EXAMPLE_BUILDING, "wall": "left"}


EXAMPLE_VIEW: Final[dict[str, Any]] = {"building": EXAMPLE_BUILDING, "azimuth": 300, "elevation": 30}

EXAMPLE_CUT: Final[dict[str, Any]] = EXAMPLE_VIEW | {
    "layers": ["frame", "floor", "roof"],
    "cut": {"across": "left-right", "at": 900},
}

MOST_APART: Final = 10_000.0
"""mm."""

FURTHEST: Final = 1_000_000.0
"""mm from the origin, either way, that a plane may be told: beyond any building."""


class ElevationRequest(Model):
    """A wall of a building, to be drawn."""

    building: Any
    """The building file."""
    wall: Name
    """The wall's name, or the floor's."""
    layers: tuple[str, ...] = WHOLE
    """What to draw; all but the fixings unless said otherwise."""
    side: Literal["outside", "inside"] = "outside"
    """From where it is seen."""


class CutRequest(Model):
    """A plane that cuts the building; what lies beyond it from the viewer is kept.

    Of a level plane what is below is kept, from wherever it is seen; of an upright one that is seen along its
    edge, the side of lower X or Y.
    """

    across: Literal["left-right", "front-back", "level"]
    """It stands from left to right at a Y, from front to back at an X, or lies level at a Z."""
    at: Annotated[float, Field(ge=-FURTHEST, le=FURTHEST)]
    """Where, mm in the world."""


class ViewRequest(Model):
    """A building, and from where and how it is to be seen as a whole."""

    building: Any
    """The building file."""
    azimuth: float = Look().azimuth
    """Where the viewer stands, degrees: at 0 before the front, at 90 on the right side."""
    elevation: Annotated[float, Field(ge=-90.0, le=90.0)] = Look().elevation
    """How far above level the viewer is, degrees; below where negative."""
    layers: Annotated[tuple[PictureLayer, ...], Items(1, len(PICTURE_LAYERS))] = PICTURE_LAYERS
    """What to show; all of it unless said otherwise."""
    part: Name | None = None
    """The one wall, floor or slope to show; all of them without it."""
    apart: Annotated[float, Field(ge=0.0, le=MOST_APART)] = 0.0
    """How far parts are drawn from where they stand, mm: walls outwards, floors down, roofs up."""
    cut: CutRequest | None = None
    """A plane that cuts it."""
    form: Literal["svg", "tree"] = "svg"
    """A drawing, or the same as JSON to be turned by a script: pieces, points, faces, and planes between
    them."""

    @property
    def look(self) -> Look:
        """The same for what draws it."""
        cut = None if self.cut is None else CutPlane(self.cut.across, self.cut.at)
        return Look(self.azimuth, self.elevation, self.layers, self.part, self.apart, cut)


class BoardRequest(Model):
    """A building, and the look at it that the page's parts are to give."""

    building: Any
    """The building file."""
    wall: Name | None = None
    """The wall to show, the first where none is called so; all of them without it."""
    side: Literal["outside", "inside"] = "outside"
    """From where it is seen."""
    whole: bool = False
    """Whether the building is shown as a whole, to be turned by a script, in place of walls."""
    lists: bool = True
    """Whether the lists of the whole building are wanted, or for now the drawing alone."""
    saw_plan: bool = False
    """Whether to plan the sawing too, where the building lists its stock; that takes its time."""
    faults: bool = False
    """Whether what is wrong with the building is to be told as JSON, its faults in `errors`, and not as a
    problem."""


class BoardToDraw(BoardRequest):
    """A building to draw; a faulty one is a problem."""

    faults: Literal[False] = False
    """What is wrong with the building is told as a problem."""


class BoardToTry(BoardRequest):
    """Anything that may be a building: drawn, or told what is wrong with it."""

    faults: Literal[True]
    """What is wrong with the building is told as JSON, its faults in `errors`."""


class WhatIfRequest(Model):
    """A building, and how far its sizes may be changed."""

    building: Any
    """The building file; it must list stock."""
    ranges: Ranges = Ranges()
    """How far, either way."""


Asking = TypeVar("Asking", bound=Model)


def _about(request: type[Asking], building: Any) -> type[Asking]:
    """A request on a building, its building typed as given."""
    model: Any = create_model(
        request.__name__,
        __base__=request,
        __doc__=request.__doc__,
        building=(building, Field(description=request.model_fields["building"].description)),
    )
    narrowed: type[Asking] = model
    return narrowed


def what_if_model(building: Any = Any) -> type[WhatIfRequest]:
    """The request for variants, its building typed as given."""
    return _about(WhatIfRequest, building)


def view_model(building: Any = Any) -> type[ViewRequest]:
    """The request for a picture, its building typed as given."""
    return _about(ViewRequest, building)


def board_model(building: Any) -> type[BaseModel]:
    """The request for the page's parts as it is described, its building typed as given.

    In two forms: where the faults of a building are asked for, no building is refused.
    """
    drawn: Any = _about(BoardToDraw, building)
    tried: Any = _about(BoardToTry, Union[building, Any])  # noqa: UP007 - the building is known at run time only
    model: Any = create_model("BoardRequest", __base__=RootModel[drawn | tried], __doc__=BoardRequest.__doc__)
    described: type[BaseModel] = model
    return described


def elevation_model(registry: Registry, building: Any = Any) -> type[ElevationRequest]:
    """The request for a drawing, its layers narrowed to those that are there, its building typed as given."""
    plugins = tuple(layer.name for _, layer in registry.drawing_layers)
    names = (*LAYERS, *plugins)
    layer: Any = Literal[names]
    described = ElevationRequest.model_fields
    model: Any = create_model(
        "ElevationRequest",
        __base__=ElevationRequest,
        __doc__=ElevationRequest.__doc__,
        building=(building, Field(description=described["building"].description)),
        layers=(
            Annotated[tuple[layer, ...], Items(0, len(names))],
            Field((*WHOLE, *plugins), description=described["layers"].description),
        ),
    )
    narrowed: type[ElevationRequest] = model
    return narrowed


class ChangesOut(Result):
    """What differs between two revisions of a design."""

    since: int
    """The earlier revision."""
    until: int
    """The later revision."""
    walls: tuple[WallChanges, ...]
    """Those that differ, in the order of the later plan."""


class RuleOut(Result):
    """An installed rule."""

    family: str
    """What kind of work it does."""
    rule: str
    """The name by which a building file picks it."""
    plugin: str
    """Where it comes from."""
    description: str
    """What it does."""
    schema_: Annotated[dict[str, Any], Field(alias="schema")]
    """The JSON Schema of its members."""
    examples: tuple[dict[str, Any], ...]
    """As a building file would have it."""


class RulesOut(Result):
    """The installed rules, by family and name."""

    rules: tuple[RuleOut, ...]
    """All that are installed."""


class PluginOut(Result):
    """A plugin that was found."""

    name: str
    """By which it can be left out."""
    distribution: str
    """The installed package, or the file, that it came from."""
    version: str
    """Of its package; empty for a single file."""
    hooks: tuple[str, ...]
    """The hooks that it implements."""
    rules: tuple[str, ...]
    """The rules that it offers."""
    problem: str | None = None
    """Why it was left out."""
    notices: tuple[str, ...] = ()
    """Hooks that it implements and that are on their way out."""


class PluginsOut(Result):
    """The plugins, by name."""

    plugins: tuple[PluginOut, ...]
    """All that were found."""


class HealthOut(Result):
    """That the server is up, and what it runs."""

    status: Literal["up"]
    version: str
    """Of Soleplate."""
    plugins: tuple[str, ...]
    """The names of the plugins in use."""
    left_out: tuple[str, ...]
    """The names of those that are broken, and that it was started without; `/v1/plugins` says why."""
