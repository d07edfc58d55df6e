"""Boards between the studs to fix things to: an adjustment, a check, a drawing layer and an export."""

from __future__ import annotations

from backing_boards.board import BACKING, BackingBoard
from backing_boards.check import BACKING_MISSING, check_layout
from backing_boards.lines import BackingLines
from backing_boards.table import BackingCuts
from soleplate.engine.rules import Adjustment, DrawingLayer, Exporter, FindingKind, Role, hookimpl

__all__ = [
    "check_layout",
    "register_drawing_layers",
    "register_exporters",
    "register_finding_kinds",
    "register_roles",
    "register_rules",
]


@hookimpl
def register_rules() -> list[type[Adjustment]]:
    """Offer the boards."""
    return [BackingBoard]


@hookimpl
def register_roles() -> list[Role]:
    """Offer the role of a board."""
    return [BACKING]


@hookimpl
def register_finding_kinds() -> list[FindingKind]:
    """Offer what the check finds."""
    return [BACKING_MISSING]


@hookimpl
def register_drawing_layers() -> list[type[DrawingLayer]]:
    """Offer the lines of the boards."""
    return [BackingLines]


@hookimpl
def register_exporters() -> list[type[Exporter]]:
    """Offer the table of their cuts."""
    return [BackingCuts]
