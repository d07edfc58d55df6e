"""Roles: what a piece of timber may do and must do, by its name; one row for each."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cached_property
from typing import Final, Literal

STANDING_ORDER: Final = 30
LAST: Final = 90


@dataclass(frozen=True, slots=True)
class Role:
    """What a piece is in its part.

    Without an `order` standing pieces come in the middle of lists, and others last by name.
    """

    name: str
    """What the trade calls it."""
    lies: Literal["upright", "level", "raked"]
    """How its grain runs as a rule."""
    stands: bool = False
    """It bears at both ends and is numbered among the uprights.

    An upright that does not may be held by a neighbour instead. Either has its running marks.
    """
    carries: bool = False
    """Standing pieces may bear on it."""
    full_height: bool = False
    """It reaches from sole plate to top plate, so that plates may be jointed over it."""
    proud: bool = False
    """It may stand out of the wall's inside."""
    past_ends: bool = False
    """It is of the top of its wall, and may go over the neighbours."""
    short: bool = False
    """It may come from bent lengths cut short."""
    braces: bool = False
    """It keeps a frame from racking."""
    sheet: bool = False
    """It is a sheet, not sawn from lengths."""
    covers: bool = False
    """On a face it is put up last, upon what carries it."""
    ripped: bool = False
    """It may be sawn narrower than its section, along its length."""
    fills: bool = False
    """It fills what other timbers leave free, and gives way where an opening is put."""
    order: int | None = None
    """Its place in numbers and lists."""
    tone: str = ""
    """The shipped role like which it is drawn and put up; without one it is drawn in a neutral tone."""

    @property
    def rank(self) -> tuple[int, str]:
        """Its place in numbers and lists: standing pieces are numbered as one kind."""
        if self.order is not None:
            return self.order, ""
        return (STANDING_ORDER, "") if self.stands else (LAST, self.name)


@dataclass(frozen=True)
class Roles(Mapping[str, Role]):
    """Roles by name, in the order of `rows`; they can be copied, and nobody can change them."""

    rows: tuple[Role, ...]

    @cached_property
    def _by_name(self) -> dict[str, Role]:
        return {role.name: role for role in self.rows}

    def __getitem__(self, name: str) -> Role:
        """The role of this name."""
        return self._by_name[name]

    def __iter__(self) -> Iterator[str]:
        """Over the names."""
        return iter(self._by_name)

    def __len__(self) -> int:
        """How many there are."""
        return len(self.rows)


ROLES: Final = Roles(
    (
        Role("bearer", "level", carries=True, order=-20),
        Role("rim joist", "level", carries=True, order=-10, past_ends=True),
        Role("sole plate", "level", carries=True, order=0),
        Role("head plate", "level", carries=True, order=10, past_ends=True),
        Role("raked plate", "raked", carries=True, order=20, past_ends=True),
        Role("stud", "upright", stands=True, full_height=True, fills=True),
        Role("corner stud", "upright", stands=True, full_height=True),
        Role("king stud", "upright", stands=True, full_height=True),
        Role("backing stud", "upright", stands=True, full_height=True, fills=True),
        Role("trimmer", "upright", stands=True),
        Role("jamb stud", "upright", stands=True, tone="king stud"),
        Role("cripple", "upright", stands=True, fills=True),
        Role("joist", "upright", stands=True, full_height=True),
        Role("post", "upright", stands=True, full_height=True),
        Role("rafter", "raked", order=35),
        Role("fly rafter", "raked", order=36),
        Role("ridge board", "level", order=37),
        Role("ridge beam", "level", carries=True, order=38),
        Role("tie", "level", order=39),
        Role("lintel", "level", carries=True, order=40, proud=True),
        Role("head", "level", carries=True, order=50),
        Role("sill", "level", carries=True, order=60),
        Role("trimmer joist", "level", carries=True, order=65),
        Role("noggin", "level", carries=True, order=70, short=True, fills=True),
        Role("blocking", "level", order=74, short=True, ripped=True),
        Role("rung", "level", order=75, short=True),
        Role("brace", "raked", order=76, braces=True),
        Role("let-in brace", "raked", order=77, braces=True),
        Role("packer", "level", carries=True, order=80, short=True, proud=True),
        Role("threshold", "level", order=82),
        Role("fascia", "level", order=84),
        Role("barge board", "raked", order=86),
        Role("soffit", "level", order=88, ripped=True),
        Role("batten", "upright", carries=True),
        Role("starter strip", "level", tone="batten"),
        Role("board", "level", covers=True),
        Role("corner board", "upright"),
        Role("jamb lining", "upright"),
        Role("head lining", "level"),
        Role("sill board", "level"),
        Role("cover strip", "upright"),
        Role("stop", "upright"),
        Role("meeting strip", "upright"),
        Role("leaf board", "upright", covers=True),
        Role("leaf ledge", "level"),
        Role("leaf brace", "raked"),
        Role("sheet", "upright", braces=True, sheet=True, covers=True),
        Role("covering", "upright", sheet=True, covers=True),
    )
)
"""The roles that ship; plugins add theirs by a hook."""
