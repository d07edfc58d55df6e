"""What is found while surfaces are covered: one row for each kind."""

from __future__ import annotations

from typing import Final

from soleplate.engine.layout import PRACTICE
from soleplate.engine.rules import FindingKind

JOINTS_BASIS: Final = "NBS clause on heading joints: over supports, two board widths apart on one support"

COURSES_APART: Final = FindingKind(
    "courses-apart",
    "note",
    PRACTICE,
    "the courses of its {what} do not line up with those of {other} round the corner,"
    " since theirs are set out otherwise",
)

BOARD_TOO_LONG: Final = FindingKind(
    "board-too-long",
    "stop",
    JOINTS_BASIS,
    "{boards} would be {length} long, and no support lies where {they} could be jointed; the longest to be"
    " had is {longest}",
)

JOINTS_NEAR: Final = FindingKind(
    "joints-near",
    "warn",
    JOINTS_BASIS,
    "some heading joints on one support lie {kept}, where {wanted} courses are wanted: there are too few"
    " supports for the lengths that can be had; take longer ones, or add studs",
)

JOINTS_SAVE: Final = FindingKind(
    "joints-save",
    "note",
    PRACTICE,
    "{joints} more than the fewest save {share:.1f} % of the {what} for {boards}; each takes time and is a"
    " way in for water: without joints set to least-timber there are none of these",
)

JOINTS_SAVE_NOTHING: Final = FindingKind(
    "joints-save-nothing",
    "note",
    PRACTICE,
    "more heading joints than the fewest would save no timber for {boards}, so there are none",
)

KINDS: Final = (
    COURSES_APART,
    BOARD_TOO_LONG,
    JOINTS_NEAR,
    JOINTS_SAVE,
    JOINTS_SAVE_NOTHING,
)
