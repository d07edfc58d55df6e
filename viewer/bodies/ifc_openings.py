"""Openings as bodies that cut.

What reads IFC4 cuts a wall's openings out of all its pieces too, so that an opening has to lie clear of them.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from soleplate.engine.layout import OpeningOut, PartOut, Piece, ViewOut, plane_of
from soleplate.engine.shapes import Solid, Vector, View, overlap_in_space, rectangle
from soleplate.viewer.bodies.clear import Area, clear_areas
from soleplate.viewer.bodies.placings import Placing, placing_of

MAIN_VIEWS = ("face", "plan", "slope")
"""Of a wall, a floor and a slope: that in which its openings are told."""


@dataclass(frozen=True, slots=True)
class IfcOpening:
    """An opening of a part in its main view, mm."""

    name: str
    kind: str
    whole: Area
    clear: tuple[Area, ...]
    """What no piece stands in, as rectangles side by side; nothing where it is closed."""
    depth: tuple[float, float]
    """Through the part, with all that lies on it."""
    leaves: frozenset[str]
    """The marks of what hangs in it: it is no part of the wall, and may stand in what is clear."""

    @property
    def is_filled(self) -> bool:
        """Whether a door or window is in it, or something hangs there."""
        return self.kind != "gap" or bool(self.leaves)


def main_view(part: PartOut) -> ViewOut:
    """The view in which a part's openings are told."""
    return next(part.views[name] for name in MAIN_VIEWS if name in part.views)


def holes_of(part: PartOut) -> list[IfcOpening]:
    """The openings of a part, in their order."""
    if not part.openings:
        return []
    view = main_view(part)
    placing = placing_of(view)
    solids = {piece.mark: _solid(piece, part) for piece in part.pieces}
    depth = _through(part, view, placing, solids)
    return [_hole(opening, view, depth, solids) for opening in part.openings]


def _hole(
    opening: OpeningOut, view: ViewOut, depth: tuple[float, float], solids: dict[str, Solid]
) -> IfcOpening:
    whole = Area(opening.left, opening.right, opening.bottom, opening.top)
    leaves = (
        frozenset(mark for leaf in opening.finish.leaves for mark in leaf.pieces) if opening.finish else ()
    )
    box = Solid(rectangle(*whole), depth, View("opening", view.origin, view.right, view.up))
    standing = [s for mark, s in solids.items() if mark not in leaves and overlap_in_space(box, s)]
    placing = placing_of(view)
    taken = [_seen(part.corners, placing) for solid in standing for part in solid.parts]
    clear = clear_areas(whole, taken)
    if opening.finish:
        # Between its linings there is one, and others are gaps beside them, such as over a threshold.
        clear = sorted(clear, key=lambda each: each.size)[-1:]
    return IfcOpening(opening.name, opening.kind, whole, tuple(clear), depth, frozenset(leaves))


def _through(part: PartOut, view: ViewOut, placing: Placing, solids: dict[str, Solid]) -> tuple[float, float]:
    """Between which depths of its main view the pieces lie that are told in that plane, or beside it."""
    depths = [
        -placing.found(solids[piece.mark].view.point(0.0, 0.0, edge))[2]
        for piece in part.pieces
        if _is_parallel(solids[piece.mark].view, view)
        for edge in piece.depth
    ]
    return min(depths), max(depths)


def _is_parallel(one: View, other: ViewOut) -> bool:
    return (one.right, one.up) == (other.right, other.up)


def _solid(piece: Piece, part: PartOut) -> Solid:
    return Solid(piece.outline, piece.depth, plane_of(part, piece.view))


def _seen(corners: Iterable[Vector], placing: Placing) -> Area:
    """What bounds a body as it is seen along the z of a placing."""
    us, vs, _ = zip(*map(placing.found, corners), strict=True)
    return Area(min(us), max(us), min(vs), max(vs))
