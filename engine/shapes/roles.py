"""Roles: what a piece of timber may do and must do, by its name; one row for each."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Final, Literal

STANDING_ORDER: Final = 30
LAST: Final = 90


@dataclass(frozen=True, slots=True)
class Role:
    """What a piece is in its part.

    `lies` tells how its grain runs as a rule. One that `stands` bears at both ends, is numbered among the
    uprights and has its running marks; `full_height` ones reach from sole plate to top plate, so that plates
    may be jointed over them. One that may be `proud` may stand out of the wall's inside, and one that may go
    `past_ends` over the neighbours of its wall. `short` ones may come from bent lengths cut short, those that
    `brace` keep a frame from racking, and a `sheet` is not sawn from lengths. `order` is that of numbers and
    lists: without one, standing pieces come in the middle and others last, by their names. `tone` is the role
    that it is drawn like.
    """

    name: str
    lies: Literal["upright", "level", "raked"]
    stands: bool = False
    full_height: bool = False
    proud: bool = False
    past_ends: bool = False
    short: bool = False
    braces: bool = False
    sheet: bool = False
    order: int | None = None
    tone: str = ""

    @property
    def rank(self) -> tuple[int, str]:
        """Its place in numbers and lists: standing pieces are numbered as one kind."""
        if self.order is not None:
            return self.order, ""
        return (STANDING_ORDER, "") if self.stands else (LAST, self.name)


Roles = Mapping[str, Role]
"""Of pieces, by name."""

ROLES: Final[Roles] = {
    role.name: role
    for role in (
        Role("sole plate", "level", order=0),
        Role("head plate", "level", order=10, past_ends=True),
        Role("raked plate", "raked", order=20, past_ends=True),
        Role("stud", "upright", stands=True, full_height=True),
        Role("corner stud", "upright", stands=True, full_height=True),
        Role("king stud", "upright", stands=True, full_height=True),
        Role("trimmer", "upright", stands=True),
        Role("cripple", "upright", stands=True),
        Role("lintel", "level", order=40, proud=True),
        Role("head", "level", order=50),
        Role("sill", "level", order=60),
        Role("noggin", "level", order=70, short=True),
        Role("packer", "level", order=80, short=True, proud=True),
        Role("batten", "upright"),
        Role("board", "level"),
        Role("corner board", "upright"),
        Role("sheet", "upright", braces=True, sheet=True),
    )
}
"""The roles that ship; plugins add theirs by a hook."""
