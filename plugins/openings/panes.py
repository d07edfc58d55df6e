"""Rows of panes that meet on studs."""

from __future__ import annotations

import itertools
from collections.abc import Mapping, Sequence
from typing import Annotated, Any, ClassVar, Final, Literal

from pydantic import Field

from soleplate.engine.rules import (
    TOUCH,
    AnyLength,
    CannotFrame,
    EndFixing,
    FramedOpening,
    Hole,
    Limits,
    Mm,
    OpeningRule,
    Wall,
    at_least,
    level,
)
from soleplate.plugins.openings.fitting import full_stud, refuse_ends, refuse_low
from soleplate.plugins.openings.glazing import Glazing

LEAST_PANE: Final = 20.0
"""mm of clear glass between studs; less is no pane."""

NOGGIN_FIXINGS: Final = (EndFixing(2, "through"), EndFixing(2, "skew"))
"""Two at each end, so that it cannot turn (common practice, no source)."""


class Panes(OpeningRule):
    """A row of fixed panes of equal width that meet on the centre lines of studs.

    The studs run through at full height, one also on the row's either edge, and noggins between them carry
    the panes below and close them in above.
    """

    examples: ClassVar[Sequence[Mapping[str, Any]]] = (
        {"rule": "panes", "panes": 3},
        {"rule": "panes", "panes": 2, "edge_cover": 15},
        {"rule": "panes", "panes": 3, "edge_cover": 20, "glazing": {"material": "polycarbonate", "shank": 5}},
    )

    rule: Literal["panes"] = "panes"
    panes: Annotated[int, Field(ge=1, le=30)]
    """How many, side by side over the opening's width."""
    edge_cover: Annotated[AnyLength, Limits(0.0, 100.0)] = 0.0
    """How far the panes lap the noggins below and above."""
    glazing: Glazing | None = None
    """What the panes are of, for their width, their joints and their cover on the studs; not told without."""

    def frame_opening(self, hole: Hole, wall: Wall) -> FramedOpening:
        """Return the framing, mm; see `OpeningRule`.

        Raises:
            CannotFrame: it is a door, the panes are too narrow, or studs or noggins do not fit in.
        """
        breadth = wall.breadth
        pane = hole.width / self.panes
        self._refuse(hole, wall, pane)
        lines = tuple(hole.left + k * pane for k in range(self.panes + 1))
        below = hole.bottom + self.edge_cover
        above = hole.top - self.edge_cover
        members = [full_stud("stud", line - breadth / 2, wall) for line in lines]
        for line, after in itertools.pairwise(lines):
            left, right = line + breadth / 2, after - breadth / 2
            refuse_low("noggin over the panes", above + breadth, left, right, wall)
            for bottom in (below - breadth, above):
                box = (left, right, bottom, bottom + breadth)
                members.append(level("noggin", wall.section, box, wall.through_wall, fixings=NOGGIN_FIXINGS))
        return FramedOpening(
            members=tuple(members),
            left=hole.left - breadth / 2,
            right=hole.right + breadth / 2,
            stud_lines=lines,
        )

    def _refuse(self, hole: Hole, wall: Wall, pane: float) -> None:
        breadth, sole = wall.breadth, wall.sole_thickness
        if hole.kind == "door":
            raise CannotFrame("panes are fixed, and studs run through them; accepted is a window or a gap")
        if hole.reaches_floor:
            raise CannotFrame("the studs between panes stand on the sole plate; accepted is a sill over 0")
        if pane < breadth + LEAST_PANE:
            most = int(hole.width // (breadth + LEAST_PANE))
            raise CannotFrame(
                "{panes} panes in {width} are {pane} each, between studs of {breadth}; accepted are"
                " panes of at least {least}, here up to {most}",
                panes=self.panes,
                width=Mm(hole.width),
                pane=Mm(pane, ".1f"),
                breadth=Mm(breadth),
                least=at_least(breadth + LEAST_PANE),
                most=most,
            )
        least = sole + breadth - self.edge_cover
        if hole.bottom < least - TOUCH:
            raise CannotFrame(
                "its underside at {bottom} leaves no room for the noggins under the panes; accepted is"
                " at least {least}",
                bottom=Mm(hole.bottom, ".1f"),
                least=at_least(least),
            )
        if hole.top - hole.bottom <= 2 * self.edge_cover + TOUCH:
            raise CannotFrame(
                "the noggins would meet: the opening is {height} high and the panes lap them by"
                " {edge_cover} twice; accepted is less edge_cover",
                height=Mm(hole.top - hole.bottom),
                edge_cover=Mm(self.edge_cover),
            )
        refuse_ends(hole, wall, breadth / 2, "stud")
