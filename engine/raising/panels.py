"""Panels: the walls of a layout as they are raised, each in its place in the world."""

from __future__ import annotations

import itertools
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import cached_property

from soleplate.engine.building_file import Building
from soleplate.engine.layout import Layout, Piece, WallOut
from soleplate.engine.raising.axes import Axes
from soleplate.engine.raising.obstacles import Obstruction
from soleplate.engine.rules import Panel, PanelSpan, RaisingRule, picked
from soleplate.engine.shapes import TOUCH, Point, Prism, area, shortfall

BETWEEN: tuple[float, float] = (300.0, 1800.0)
"""mm over the ground: what stands at these heights takes the room to clad a wall (common practice, no
source)."""

MEETING = 25.0
"""mm. Walls this near are drawn together and fixed to each other (common practice, no source)."""


@dataclass(frozen=True)
class SitePanel:
    """A panel in its place.

    `wall` is the wall that it is, `rule` the way of raising that is asked for, if one is. It `is_pinned`
    where it is clad before because that is asked for. `bare_m2` is what of it the wind meets as an open
    frame, and `face_m2` clad. `frame` are the pieces that are raised.
    """

    panel: Panel
    wall: WallOut
    axes: Axes
    rule: RaisingRule | None
    is_pinned: bool
    frame: tuple[Piece, ...]
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
    """The panels of a layout, the longest first, those alike in length by name.

    Args:
        layout: of the building.
        building: what was asked for.
        obstructions: what stands round it, in the world.
    """
    made = [_panel(wall, building, obstructions) for wall in layout.walls]
    return tuple(sorted(made, key=lambda each: (-each.panel.length, each.name)))


def _panel(wall: WallOut, building: Building, obstructions: Sequence[Obstruction]) -> SitePanel:
    axes = Axes.of(wall)
    site, block = building.site, building.walls.get(wall.name)
    rule = next(iter(picked(RaisingRule, block, building.defaults)), None)
    is_inside = wall.faces is not None
    build_out = wall.cladding.build_out if wall.cladding is not None else 0.0
    frame = tuple(p for p in wall.pieces if p.is_frame and not _is_loose(p, wall.length))
    boards = tuple(p for p in wall.pieces if p.face == "outside")
    tight = build_out > 0.0 and _is_tight(axes, wall.length, building, obstructions)
    asked = rule.clad if rule is not None else None
    clad = build_out > 0.0 and (asked == "before" or (tight and asked is None))
    lifted = (*frame, *(boards if clad else ()))
    top = [(0.0, 0.0), (wall.length, 0.0), *reversed(wall.top_line)]
    return SitePanel(
        panel=Panel(
            name=wall.name,
            length=wall.length,
            depth=wall.plan.depth,
            spans=_spans(wall),
            build_out=build_out if clad else 0.0,
            clad_first=tight,
            is_inside=is_inside,
            weight_kg=sum(piece.weight_kg for piece in lifted) * site.wet,
            centre=_centre(lifted),
        ),
        wall=wall,
        axes=axes,
        rule=rule,
        is_pinned=clad and not tight,
        frame=frame,
        bare_m2=sum(abs(area(piece.outline)) for piece in frame) / 1e6,
        face_m2=abs(area(top)) / 1e6,
    )


def _spans(wall: WallOut) -> tuple[PanelSpan, ...]:
    """The stretches of the wall's top, each as high as its higher end."""
    tops = wall.top_line
    return tuple(
        PanelSpan(max(x0, 0.0), min(x1, wall.length), max(z0, z1))
        for (x0, z0), (x1, z1) in itertools.pairwise(tops)
        if min(x1, wall.length) - max(x0, 0.0) > TOUCH
    )


def _is_loose(piece: Piece, length: float) -> bool:
    """Whether it reaches past an end of the wall: then it is fixed once the neighbours stand."""
    xs = [x for x, _ in piece.outline]
    return min(xs) < -TOUCH or max(xs) > length + TOUCH


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
