"""The family of rules that change a finished frame."""

from __future__ import annotations

from abc import abstractmethod
from collections.abc import Sequence

from soleplate.engine.rules.rule import Rule
from soleplate.engine.rules.walls import Wall
from soleplate.engine.shapes import Member


class Adjustment(Rule):
    """Base of the rules that change a finished frame: a post made stronger, boards to fix things to."""

    family = "adjustments"

    @abstractmethod
    def adjust_wall(self, wall: Wall) -> Sequence[Member]:
        """Return all members of the wall as they shall be; those not returned are gone.

        The engine checks the result as it checks every frame: nothing outside the wall, no overlap, every
        upright standing on something.
        """
