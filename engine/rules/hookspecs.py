"""The hooks that a plugin may implement, and the two markers. Nothing here runs.

A hook takes its arguments by name and may leave out those that it does not need; none has a default.
"""

from __future__ import annotations

from collections.abc import Iterable

import pluggy

from soleplate.engine.building_file import Building
from soleplate.engine.layout import Layout
from soleplate.engine.rules.extensions import DrawingLayer, Exporter
from soleplate.engine.rules.findings import Finding, FindingKind
from soleplate.engine.rules.rule import Rule
from soleplate.engine.shapes import Role

PROJECT = "soleplate"
hookspec = pluggy.HookspecMarker(PROJECT)
hookimpl = pluggy.HookimplMarker(PROJECT)
"""Marks a function of a plugin that implements a hook."""


@hookspec
def register_rules() -> Iterable[type[Rule]]:
    """Offer rules, of any families: a class belongs to the family whose base class it is derived from.

    Returns:
        Rule classes, for example `[EqualBays]`, derived from `StudRule`.

    Called: once, at start-up.
    Order: none; rules are sorted by name, and adjustments applied in the order of the building file.
    Failure: an exception, a half-made rule or a name that is taken stops start-up and names the plugin.
    Since: 0.1.
    """
    raise NotImplementedError


@hookspec
def register_roles() -> Iterable[Role]:
    """Offer roles of pieces beside those that ship.

    Returns:
        Roles, for example `[Role("prop", "upright", stands=True, full_height=True)]`. A piece with a role
        that nobody offers is refused.

    Called: once, at start-up.
    Order: those that ship come first, then those of plugins, sorted by name.
    Failure: an exception, anything but roles or a name that is taken stops start-up and names the plugin.
    Since: 0.1.
    """
    raise NotImplementedError


@hookspec
def register_finding_kinds() -> Iterable[FindingKind]:
    """Offer the kinds of findings that this plugin tells of, for the catalogue.

    Returns:
        Kinds, for example `[FindingKind("heavy", "warn", PRACTICE, "the frame weighs {weight:.0f} kg")]`;
        a length among their figures is a `Mm`, which is told in the building's unit.

    Called: once, at start-up.
    Order: by plugin name; kinds stay in theirs.
    Failure: an exception, or anything but kinds, stops start-up and names the plugin.
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

    Called: for every layout, after its lists are made. To change what it is given is a failure.
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
