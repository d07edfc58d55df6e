"""What a plugin's author meets: the base class of each family, what a rule is told, and the hooks."""

from __future__ import annotations

from soleplate.engine.rules.adjustments import Adjustment
from soleplate.engine.rules.battens import framing_battens, raking_batten, upright_battens
from soleplate.engine.rules.cladding import (
    NARROWER,
    Battens,
    Clad,
    CladdingRule,
    CladdingThickness,
    CladdingWidth,
    Course,
    Face,
    Facing,
    Gap,
    Remark,
    Span,
    Strip,
    Support,
)
from soleplate.engine.rules.corners import Corner, CornerRule
from soleplate.engine.rules.extensions import (
    DrawingLayer,
    Drawn,
    DrawnArea,
    DrawnLine,
    DrawnText,
    Exporter,
    ExportOptions,
)
from soleplate.engine.rules.families import FAMILIES, AnyRule, Family, Pick, choices, family_of, picked
from soleplate.engine.rules.glazing import Glazing, pane_findings
from soleplate.engine.rules.hookspecs import hookimpl
from soleplate.engine.rules.level_courses import (
    NARROWEST_RIP,
    level_strips,
    level_tops,
    narrow_at_openings,
    opening_edges,
)
from soleplate.engine.rules.movement import board_movement, movement_finding
from soleplate.engine.rules.noggins import NogginPlace, NogginRule
from soleplate.engine.rules.openings import Cripples, FramedOpening, OpeningRule
from soleplate.engine.rules.rule import CannotFrame, Rule
from soleplate.engine.rules.studs import StudRule, StudRun
from soleplate.engine.rules.top_plates import EndJoin, TopPlateRule, TopPlates
from soleplate.engine.rules.walls import (
    LEAST_CRIPPLE,
    NAILING_ROOM,
    Bay,
    FramedWall,
    Hole,
    PlatedWall,
    StuddedWall,
    Wall,
    widened,
)

__all__ = [
    "FAMILIES",
    "LEAST_CRIPPLE",
    "NAILING_ROOM",
    "NARROWER",
    "NARROWEST_RIP",
    "Adjustment",
    "AnyRule",
    "Battens",
    "Bay",
    "CannotFrame",
    "Clad",
    "CladdingRule",
    "CladdingThickness",
    "CladdingWidth",
    "Corner",
    "CornerRule",
    "Course",
    "Cripples",
    "DrawingLayer",
    "Drawn",
    "DrawnArea",
    "DrawnLine",
    "DrawnText",
    "EndJoin",
    "ExportOptions",
    "Exporter",
    "Face",
    "Facing",
    "Family",
    "FramedOpening",
    "FramedWall",
    "Gap",
    "Glazing",
    "Hole",
    "NogginPlace",
    "NogginRule",
    "OpeningRule",
    "Pick",
    "PlatedWall",
    "Remark",
    "Rule",
    "Span",
    "Strip",
    "StudRule",
    "StudRun",
    "StuddedWall",
    "Support",
    "TopPlateRule",
    "TopPlates",
    "Wall",
    "board_movement",
    "choices",
    "family_of",
    "framing_battens",
    "hookimpl",
    "level_strips",
    "level_tops",
    "movement_finding",
    "narrow_at_openings",
    "opening_edges",
    "pane_findings",
    "picked",
    "raking_batten",
    "upright_battens",
    "widened",
]
