"""The hooks that a plugin may implement, and the two markers. Nothing here runs.

A hook takes its arguments by name and may leave out those that it does not need; none has a default.
"""

from __future__ import annotations

from collections.abc import Iterable

import pluggy

from soleplate.engine.building import Building
from soleplate.engine.cladding.rule import CladdingRule
from soleplate.engine.extensions import DrawingLayer, Exporter
from soleplate.engine.layout import Finding, Layout
from soleplate.engine.rules import (
    Adjustment,
    CornerRule,
    NogginRule,
    OpeningRule,
    StudRule,
    TopPlateRule,
)

PROJECT = "soleplate"
hookspec = pluggy.HookspecMarker(PROJECT)
hookimpl = pluggy.HookimplMarker(PROJECT)


@hookspec
def register_stud_rules() -> Iterable[type[StudRule]]:
    """Offer rules that space the studs of a wall.

    Returns:
        Rule classes, for example `[EqualBays]`. Their `place_studs` returns left faces in mm.

    Called: once, at start-up.
    Order: none; rules are sorted by name.
    Failure: an exception, a half-made rule or a name that is taken stops start-up and names the plugin.
    Since: 0.1.
    """
    raise NotImplementedError


@hookspec
def register_opening_rules() -> Iterable[type[OpeningRule]]:
    """Offer rules that frame doors, windows and gaps.

    Returns:
        Rule classes, for example `[Trimmed]`. Their `frame_opening` returns a `FramedOpening`, mm.

    Called: once, at start-up.
    Order: none; rules are sorted by name.
    Failure: an exception, a half-made rule or a name that is taken stops start-up and names the plugin.
    Since: 0.1.
    """
    raise NotImplementedError


@hookspec
def register_top_plate_rules() -> Iterable[type[TopPlateRule]]:
    """Offer rules that make the tops of walls, level and raked.

    Returns:
        Rule classes, for example `[SinglePlate]`. Their `lay_plates` returns `TopPlates`, mm.

    Called: once, at start-up.
    Order: none; rules are sorted by name.
    Failure: an exception, a half-made rule or a name that is taken stops start-up and names the plugin.
    Since: 0.1.
    """
    raise NotImplementedError


@hookspec
def register_noggin_rules() -> Iterable[type[NogginRule]]:
    """Offer rules that set noggins between studs.

    Returns:
        Rule classes, for example `[Staggered]`. Their `place_noggins` returns `NogginPlace`s, mm.

    Called: once, at start-up.
    Order: none; rules are sorted by name.
    Failure: an exception, a half-made rule or a name that is taken stops start-up and names the plugin.
    Since: 0.1.
    """
    raise NotImplementedError


@hookspec
def register_corner_rules() -> Iterable[type[CornerRule]]:
    """Offer rules that make corners and tees.

    Returns:
        Rule classes, for example `[ThreeStud]`. Their methods return `Member`s, mm.

    Called: once, at start-up.
    Order: none; rules are sorted by name.
    Failure: an exception, a half-made rule or a name that is taken stops start-up and names the plugin.
    Since: 0.1.
    """
    raise NotImplementedError


@hookspec
def register_cladding_rules() -> Iterable[type[CladdingRule]]:
    """Offer rules that clad the outside of walls with boards or sheets.

    Returns:
        Rule classes, for example `[Rebated]`. Their `choose_courses` returns the `Course`s that all walls
        share, and their `lay` a `Clad` of strips for one face, mm.

    Called: once, at start-up.
    Order: none; rules are sorted by name.
    Failure: an exception, a half-made rule or a name that is taken stops start-up and names the plugin.
    Since: 0.1.
    """
    raise NotImplementedError


@hookspec
def register_adjustments() -> Iterable[type[Adjustment]]:
    """Offer changes to a finished frame, which a building file picks by name in `adjustments`.

    Returns:
        Rule classes, for example `[LetInBrace]`. Their `adjust_wall` returns all members, mm.

    Called: once, at start-up.
    Order: none; rules are sorted by name, and applied in the order of the building file.
    Failure: an exception, a half-made rule or a name that is taken stops start-up and names the plugin.
    Since: 0.1.
    """
    raise NotImplementedError


@hookspec
def check_layout(layout: Layout, building: Building) -> Iterable[Finding]:
    """Look at a finished layout and say what a builder should look at again.

    Args:
        layout: what came out, lengths in mm, weights in kg.
        building: what was asked for.

    Returns:
        Findings, for example `[Finding(level="warn", code="heavy-wall", message="...", basis="...")]`.

    Called: for every layout, after its lists are made. Nothing it does can change the layout.
    Order: by plugin name.
    Failure: an exception or anything but findings ends the layout with an error that names the plugin.
    Since: 0.1.
    """
    raise NotImplementedError


@hookspec
def register_drawing_layers() -> Iterable[type[DrawingLayer]]:
    """Offer layers of the elevations.

    Returns:
        Layer classes, for example `[StrapLayer]`. Their `draw` returns lines, areas and texts in mm.

    Called: once, at start-up.
    Order: none; layers are sorted by name.
    Failure: an exception, a half-made layer or a name that is taken stops start-up and names the plugin.
    Since: 0.1.
    """
    raise NotImplementedError


@hookspec
def register_exporters() -> Iterable[type[Exporter]]:
    """Offer exports of a layout to a file.

    Returns:
        Exporter classes, for example `[MarksTable]`. Their `export` returns the file's bytes.

    Called: once, at start-up.
    Order: none; exporters are sorted by name.
    Failure: an exception, a half-made exporter or a name that is taken stops start-up and names the plugin.
    Since: 0.1.
    """
    raise NotImplementedError
