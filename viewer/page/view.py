"""What of a building the page shows, and how."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from urllib.parse import urlencode

from soleplate.engine.layout import Layout, WallOut
from soleplate.engine.rules import Drawn
from soleplate.viewer.drawings import FINDINGS, LAYERS, Side, WallSheet, drawn_parts, fragment, told_of
from soleplate.viewer.lists import cutting_rows
from soleplate.viewer.words import ENGLISH, Texts

Added = Mapping[str, Mapping[str, Sequence[Drawn]]]
"""What the drawing layers of plugins drew: by wall, by layer."""


@dataclass(frozen=True, slots=True)
class PageView:
    """One look at a building.

    `wall` is the one that is shown, `None` for all of them. `query` is what a link to another wall carries
    besides, as a served page has them; without it links lead to places in the same document.
    """

    wall: str | None = None
    side: Side = "outside"
    added: Added = field(default_factory=dict)
    query: str | None = None
    texts: Texts = ENGLISH
    whole: bool = False
    """Whether the building as a whole is shown, in place of walls."""
    pictures: Mapping[str, str] | None = None
    """Files beside the document with the whole, by the side from which it is seen: then it comes after the
    walls. `None` where a picture is drawn where it is asked for alone."""
    is_followed: bool = False
    """Whether a script draws it afresh, so that it needs no pictures for itself."""
    beside: Mapping[str, str] = field(default_factory=dict)
    """Files beside the document with each wall as it is seen from the other side, by the wall's name."""

    def walls(self, layout: Layout) -> tuple[WallOut, ...]:
        """The walls that are shown, and the floors, which are drawn as they lie."""
        if self.whole:
            return ()
        return tuple(part for part in drawn_parts(layout) if self.wall in (None, part.name))

    def sheet(self, layout: Layout, wall: WallOut) -> WallSheet:
        """What a wall's drawing is made of."""
        added = self.added.get(wall.name, {})
        layers = (*LAYERS, *added, FINDINGS)
        texts = told_of(wall, self.texts)
        rows = cutting_rows(layout)
        return WallSheet(layout, rows, self.side, layers, added, standalone=False, texts=texts)

    def address(self, wall: str | None) -> str:
        """Where another wall, or all of them, is shown."""
        if self.query is None:
            return "#walls" if wall is None else fragment(wall)
        return self.with_query(wall=wall, side=self.side)

    @property
    def address_of_whole(self) -> str:
        """Where the building as a whole is shown."""
        if self.query is None:
            return "#whole"
        return f"?{self.query}&whole=yes" if self.query else "?whole=yes"

    def with_query(self, *, wall: str | None, side: Side) -> str:
        """The address of another look at the same building, on a served page."""
        chosen = {"all": "walls"} if wall is None else {"wall": wall}
        seen = {} if side == "outside" else {"side": side}
        more = urlencode(chosen | seen)
        return f"?{self.query}&{more}" if self.query else f"?{more}"
