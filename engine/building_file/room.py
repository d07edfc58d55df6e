"""How many pieces a building may have: counted while it is laid out, so that more is not worked on."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final, Self

from soleplate.engine.building_file.errors import TooManyPiecesError

MOST_PIECES: Final = 40_000
"""In one building; a small timber building has some hundreds."""


@dataclass(frozen=True, slots=True)
class Room:
    """Up to `most` pieces, of which there are `made` at the least.

    What is not made yet counts as soon as it is sure to come, and never more than will come.
    """

    most: int = MOST_PIECES
    made: int = 0

    def after(self, more: int) -> Self:
        """What is left after so many more.

        Raises:
            TooManyPiecesError: there are too many.
        """
        if self.made + more > self.most:
            raise TooManyPiecesError.at(
                "", f"over {self.most} pieces; accepted are up to that: fewer walls, or wider spacing"
            )
        return type(self)(self.most, self.made + more)


ANY: Final = Room()
"""Of a building of its own."""
