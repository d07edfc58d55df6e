"""Panels: the walls of a layout as they are raised, each in its place in the world."""

from __future__ import annotations

import itertools
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import cached_property

from soleplate.engine.building_file import Building
from soleplate.engine.layout import Layout, PanelOut, Piece, WallOut
from soleplate.engine.raising.axes import Axes
from soleplate.engine.raising.obstacles import Obstruction
from soleplate.engine.rules import Panel, PanelSpan, RaisingRule, TopLine, picked
from soleplate.engine.shapes import TOUCH, Point, Prism, area, shortfall

BETWEEN: tuple[float, float] = (300.0, 1800.0)
"""mm over the ground: what stands at these heights takes the room to clad a wall (common practice, no
source)."""

MEETING = 25.0
"""mm. Walls this near are drawn together and fixed to each other (common practice, no source)."""


@dataclass(frozen=True)
class SitePanel:
    """A panel in its place.

    `wall` is the wall that it is, or of which it is the part numbered `part`; `rule` is the way of raising
    that is asked for, if one is. It `is_pinned` where it is clad before because that is asked for. `bare_m2`
    is what of it the wind meets as an open frame, and `face_m2` clad. `frame` are the pieces that are raised,
    and `boards` those that can be put on before: all that lie on it alone.
    """

    panel: Panel
    wall: WallOut
    part: int | None
    axes: Axes
    rule: RaisingRule | None
    is_pinned: bool
    frame: tuple[Piece, ...]
    boards: tuple[Piece, ...]
    bare_m2: float
    face_m2: float

    @property
    def name(self) -> str:
        """Of the panel."""
        return self.panel.name

    @cached_property
    def footprint(self) -> Prism:
        """The bare frame's, as high as the panel."""
        panel = self.panel
        return Prism(self.axes.over(0.0, panel.length, 0.0, panel.depth), 0.0, panel.height)

    @cached_property
    def standing(self) -> tuple[Prism, ...]:
        """Where it stands, with its cladding if that is on."""
        return tuple(map(self.axes.prism, self.panel.standing))


def panels_of(
    layout: Layout, building: Building, obstructions: Sequence[Obstruction]
) -> tuple[SitePanel, ...]:
    """The panels of a layout, walls and parts of walls, the longest first, those alike in length by name.

    Args:
        layout: of the building.
        building: what was asked for.
        obstructions: what stands round it, in the world.
    """
    made = [
        _panel(wall, part, building, obstructions)
        for wall in layout.walls
        for part in (wall.panels or (None,))
    ]
    return tuple(sorted(made, key=lambda each: (-each.panel.length, each.name)))


def _panel(
    wall: WallOut, part: PanelOut | None, building: Building, obstructions: Sequence[Obstruction]
) -> SitePanel:
    start, length = (part.start, part.length) if part is not None else (0.0, wall.length)
    number = part.number if part is not None else None
    whole = Axes.of(wall)
    axes = Axes(whole.point(start, 0.0), whole.run)
    tops = [(x - start, z) for x, z in TopLine(wall.top_line).between(start, start + length)]
    site, block = building.site, building.walls.get(wall.name)
    rule = next(iter(picked(RaisingRule, block, building.defaults)), None)
    is_inside = wall.faces is not None
    build_out = wall.cladding.build_out if wall.cladding is not None else 0.0
    own = [piece for piece in wall.pieces if piece.panel == number]
    frame = tuple(p for p in own if p.is_frame and not _is_loose(p, start, start + length))
    boards = tuple(p for p in outside_of(wall) if p.panel == number)
    tight = build_out > 0.0 and _is_tight(axes, length, building, obstructions)
    asked = rule.clad if rule is not None else None
    clad = build_out > 0.0 and (asked == "before" or (tight and asked is None))
    lifted = (*frame, *(boards if clad else ()))
    face = [(0.0, 0.0), (length, 0.0), *reversed(tops)]
    return SitePanel(
        panel=Panel(
            name=wall.name if number is None else f"{wall.name} {number}",
            length=length,
            depth=wall.plan.depth,
            spans=tuple(
                PanelSpan(x0, x1, max(z0, z1))
                for (x0, z0), (x1, z1) in itertools.pairwise(tops)
                if x1 - x0 > TOUCH
            ),
            build_out=build_out if clad else 0.0,
            clad_first=tight,
            is_inside=is_inside,
            weight_kg=sum(piece.weight_kg for piece in lifted) * site.wet,
            centre=_centre(lifted),
        ),
        wall=wall,
        part=number,
        axes=axes,
        rule=rule,
        is_pinned=clad and not tight,
        frame=frame,
        boards=boards,
        bare_m2=sum(abs(area(piece.outline)) for piece in frame) / 1e6,
        face_m2=abs(area(face)) / 1e6,
    )


def outside_of(wall: WallOut) -> tuple[Piece, ...]:
    """The cladding of a wall; what finishes its openings is put in once it stands."""
    fitted = wall.fitted
    return tuple(piece for piece in wall.pieces if piece.face == "outside" and piece.mark not in fitted)


def _is_loose(piece: Piece, left: float, right: float) -> bool:
    """Whether it reaches past an end of the panel: then it is fixed once the neighbours stand."""
    xs = [x for x, _ in piece.outline]
    return min(xs) < left - TOUCH or max(xs) > right + TOUCH


def _is_tight(axes: Axes, length: float, building: Building, obstructions: Iterable[Obstruction]) -> bool:
    """Whether something outside takes the room that a wall needs to be clad standing."""
    ground = building.site.ground or 0.0
    outside = axes.over(0.0, length, -building.site.working_room, 0.0)
    strip = Prism(outside, BETWEEN[0] - ground, BETWEEN[1] - ground)
    return any(shortfall(strip, prism, 0.0) > 0.0 for each in obstructions for prism in each.prisms)


def _centre(pieces: Sequence[Piece]) -> float:
    """The height of their centre of gravity, mm."""
    total = sum(piece.weight_kg for piece in pieces)
    if total <= 0.0:
        return 0.0
    return sum(_middle(piece.outline) * piece.weight_kg for piece in pieces) / total


def _middle(outline: Sequence[Point]) -> float:
    """The height of an outline's centroid, mm."""
    # About its first corner: far from the origin the moments of a small outline would cancel.
    x, z = outline[0]
    twice = moment = 0.0
    for (x0, z0), (x1, z1) in zip(outline, (*outline[1:], outline[0]), strict=True):
        cross = (x0 - x) * (z1 - z) - (x1 - x) * (z0 - z)
        twice += cross
        moment += (z0 + z1 - 2 * z) * cross
    return z + moment / twice / 3 if twice else z
