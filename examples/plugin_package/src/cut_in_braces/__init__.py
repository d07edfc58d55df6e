"""Diagonal braces cut in between the studs: an adjustment, a check, a drawing layer and an export."""

from __future__ import annotations

from cut_in_braces.brace import BRACE, CutInBrace
from cut_in_braces.check import BRACES_ONE_WAY, check_layout
from cut_in_braces.lines import BraceLines
from cut_in_braces.table import BraceCuts
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
    """Offer the brace."""
    return [CutInBrace]


@hookimpl
def register_roles() -> list[Role]:
    """Offer the role of its pieces."""
    return [BRACE]


@hookimpl
def register_finding_kinds() -> list[FindingKind]:
    """Offer what the check finds."""
    return [BRACES_ONE_WAY]


@hookimpl
def register_drawing_layers() -> list[type[DrawingLayer]]:
    """Offer the lines of the braces."""
    return [BraceLines]


@hookimpl
def register_exporters() -> list[type[Exporter]]:
    """Offer the table of their cuts."""
    return [BraceCuts]
