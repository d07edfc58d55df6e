"""The boards: one in each bay, on edge, flush with the inside of the frame."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Annotated, Final, Literal

from pydantic import Field

from soleplate.engine.rules import (
    Adjustment,
    AnyLength,
    CannotFrame,
    EndFixing,
    Limits,
    Member,
    Mm,
    Role,
    Section,
    SectionField,
    Wall,
    at_most,
    level,
    overlap,
)

BACKING: Final = Role("backing board", "level", short=True)
ROLE: Final = BACKING.name

SKEWED: Final = EndFixing(2, "skew")
"""Two at an end, so that the board cannot turn (common practice, no source)."""


class BackingBoard(Adjustment):
    """A band of boards between the studs, flush with the inside, to fix shelves and hooks to.

    A bay in which something lies at that height has none.
    """

    examples = ({"rule": "backing-board"}, {"rule": "backing-board", "height": 1500, "boards": 2})
    rule: Literal["backing-board"] = "backing-board"
    height: Annotated[AnyLength, Limits(100.0, 5_000.0)] = 900.0
    """Of the lowest board's centre line, from the underside of the sole plate."""
    boards: Annotated[int, Field(ge=1, le=3)] = 1
    """How many lie on each other."""
    section: SectionField = Section(22.0, 145.0)
    """Of a board, as [thickness, width]."""

    def adjust_wall(self, wall: Wall) -> Sequence[Member]:
        """Return the wall's members with the boards among them.

        Raises:
            CannotFrame: no bay has room for any, or they are thicker than the wall.
        """
        if self.section[0] > wall.depth:
            raise CannotFrame(
                "a board {thick} thick stands out of a wall {depth} deep; accepted is up to that",
                thick=Mm(self.section[0]),
                depth=Mm(wall.depth),
            )
        boards = [board for row in range(self.boards) for board in self._row(wall, row)]
        if not boards:
            raise CannotFrame(
                "no bay has room for a board at {height}; accepted is a height between the plates, up to"
                " {most}",
                height=Mm(self.height),
                most=at_most(wall.underside.highest(0.0, wall.length) - self.section[1] / 2),
            )
        return [*wall.members, *boards]

    def _row(self, wall: Wall, row: int) -> Iterator[Member]:
        thick, width = self.section
        bottom = self.height - width / 2 + row * width
        for bay in wall.bays_at(bottom + width / 2):
            board = level(
                ROLE,
                Section(thick, width),
                (bay.left, bay.right, bottom, bottom + width),
                (wall.depth - thick, wall.depth),
                fixings=(SKEWED, SKEWED),
            )
            if self._fits(wall, board):
                yield board

    def _fits(self, wall: Wall, board: Member) -> bool:
        """Whether nothing lies in its place, and a stud stands beside each end of it."""
        sides = [
            member
            for member in wall.members
            if member.is_upright and member.bottom <= board.bottom and member.top >= board.top
        ]
        return (
            board.bottom >= wall.sole_thickness
            and any(member.right == board.left for member in sides)
            and any(member.left == board.right for member in sides)
            and not any(overlap(board.outline, member.outline) for member in wall.members)
        )
