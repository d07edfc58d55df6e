"""What is said of a wall that is framed, squared and raised, as one who builds alone needs it."""

from __future__ import annotations

from collections.abc import Sequence
from math import hypot
from typing import Final

from soleplate.engine.building_file import Mm, Said, said
from soleplate.engine.layout import Piece
from soleplate.engine.raising.panels import SitePanel
from soleplate.engine.raising.question import RaisingWay
from soleplate.engine.rules import Quarter

ALIKE: Final = 0.5
"""mm: diagonals that a tape can't tell apart (common practice, no source)."""

AT_CORNER: Final = 1.0
"""mm from an end of a frame, or from its foot, that still are its corner (common practice, no source)."""

BLOCKS: Final = "nail blocks along the base's outer edge to stop its foot"
"""Modern Carpentry, 2022, page 253."""

BLOCKS_BESIDE: Final = "nail blocks along its line, on the side away from where it lies, to stop its foot"

RAKERS: Final = "fix the head of each raker to it with one nail"
"""Before it is lifted, since one person has no hand free afterwards: common practice, no source."""


def lies_inwards(way: RaisingWay) -> bool | None:
    """Whether what is tilted up lies inside its line before; none where nothing is tilted."""
    quarters = [each for each in way.movement.swept if isinstance(each, Quarter)]
    return quarters[0].into[1] > 0.0 if quarters else None


def framed_said(panel: SitePanel, way: RaisingWay) -> Said:
    """Where it is framed, and which way up it lies there."""
    return said("frame {wall} {where}", wall=panel.name, where=_place(panel, way))


def _place(panel: SitePanel, way: RaisingWay) -> str:
    inwards = lies_inwards(way)
    up = "outer face up" if inwards else "outer face down"
    if way.carry is not None:
        return f"flat where frames are made{f', {up}' if inwards else ''}, and stack it"
    if inwards is None:
        return "flat on the deck" if way.movement.on_deck else "flat on the ground"
    if way.movement.on_deck:
        return f"flat on the deck, its foot along its line{'' if panel.panel.is_inside else f', {up}'}"
    return f"flat on the ground outside, its foot along its line, {up}"


def squared_said(panel: SitePanel) -> Said:
    """How long its diagonals are when it is square: those of a wall under a slope are not alike."""
    name, corners = panel.name, _corners(panel.frame)
    if corners is None:
        return said("square {wall} by its diagonals; then brace or sheathe it", wall=name)
    length, left, right = corners
    # The foot has to be level to both ends, so each diagonal is that of a right angle.
    from_left, from_right = hypot(length, right), hypot(length, left)
    if abs(from_left - from_right) < ALIKE:
        return said(
            "square {wall}: both diagonals {diagonal}; then brace or sheathe it",
            wall=name,
            diagonal=Mm(from_left, ".0f"),
        )
    return said(
        "square {wall}: its diagonals from the foot, seen from outside, {left} from the left and {right} from"
        " the right; then brace or sheathe it",
        wall=name,
        left=Mm(from_left, ".0f"),
        right=Mm(from_right, ".0f"),
    )


def _corners(frame: Sequence[Piece]) -> tuple[float, float, float] | None:
    """A frame's length and the heights of its left and right end; none where it has no such corners."""
    points = [point for piece in frame for point in piece.outline]
    if not points:
        return None
    first, last = min(x for x, _ in points), max(x for x, _ in points)
    bottom = min(z for _, z in points)
    heights = [[z - bottom for x, z in points if abs(x - end) < AT_CORNER] for end in (first, last)]
    if any(min(each) > AT_CORNER for each in heights):
        return None
    return last - first, max(heights[0]), max(heights[1])


def raised_said(panel: SitePanel, way: RaisingWay, *, is_braced: bool) -> Said:
    """What to do before it is moved, and then; without braces of its own the walls that it meets hold it."""
    how = f" {way.movement.how}" if way.movement.how else ""
    hold = "brace it" if is_braced else "nail it at head and foot to the walls that it meets, which hold it"
    if way.movement.share == 0.0:
        return said(
            "frame {wall} where it stands, piece by piece; plumb it, and {hold}", wall=panel.name, hold=hold
        )
    inwards = lies_inwards(way)
    first = [
        *([] if inwards is None else [BLOCKS if inwards and not panel.panel.is_inside else BLOCKS_BESIDE]),
        *([RAKERS] if is_braced else []),
    ]
    return said(
        "raise {wall} ({rule}{how}): {first}{move} it, fix it to the base at its ends only, plumb it, and"
        " {hold}",
        wall=panel.name,
        rule=way.rule,
        how=how,
        first=f"first {' and '.join(first)}; then " if first else "",
        move="bring" if inwards is None else "lift",
        hold=hold,
    )


def all_square_said(walls: int) -> Said:
    """How the plan is made square once so many outer walls stand."""
    if walls == len(("front", "right", "back", "left")):
        return said("make both diagonals of the plan alike, at the foot and at the head of the walls")
    return said(
        "make the diagonals of each rectangle of the plan alike, at the foot and at the head of the walls"
    )
