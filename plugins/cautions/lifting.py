"""Whether the people who are there lift a wall together."""

from __future__ import annotations

import itertools
from collections.abc import Iterator, Sequence
from typing import Final

from soleplate.engine.rules import (
    OF_THE_SUM,
    Building,
    Finding,
    FindingKind,
    Point,
    TopLine,
    WallOut,
    team_lift,
    tilting_share,
)

ROOM_TO_STAND: Final = 600.0
"""mm outside a wall; with less, its boards go on before it is raised (common practice, no source)."""

HEAVY_WALL: Final = FindingKind(
    "heavy-wall",
    "warn",
    "HSE manual handling filter, as restated (no limit); HSE L23 paragraphs 119, 120 for two and three",
    "the {what} {weight:.0f} kg, over {most:g} kg for {who} ({each:g} kg each, held close between knuckle and"
    " elbow; less from the deck); tilting it up takes {tilting:.0f} kg: get help, make it in parts, or"
    " frame it standing",
)

PUBLISHED_FOR_THREE: Final = "; no figure is published for four: half is taken, and more are no help"


def heavy(wall: WallOut, building: Building) -> Iterator[Finding]:
    """Whether a wall, or any of its panels, is too heavy.

    Boards count where they must go on first; what finishes openings is fitted once it stands.
    """
    people = building.site.people
    most = team_lift(people, building.site.lift_each)
    clad_first = building.site.room.get(wall.name, ROOM_TO_STAND) < ROOM_TO_STAND
    fitted = wall.fitted
    lifted = [
        piece
        for piece in wall.pieces
        if piece.is_frame or (clad_first and piece.face == "outside" and piece.mark not in fitted)
    ]
    raised: list[int | None] = [panel.number for panel in wall.panels or ()]
    for panel in raised or [None]:
        pieces = [piece for piece in lifted if piece.panel == panel]
        weight = round(sum(piece.weight_kg for piece in pieces), 3)
        if weight <= most:
            continue
        x, z = _centre([(_middle(piece.outline), piece.weight_kg) for piece in pieces])
        share = tilting_share(z, TopLine(wall.top_line).at(x))
        frame = "frame" if panel is None else f"frame of panel {panel}"
        yield HEAVY_WALL.of(
            part=wall.name,
            value=weight,
            limit=round(most, 3),
            basis=HEAVY_WALL.basis + (PUBLISHED_FOR_THREE if people > len(OF_THE_SUM) else ""),
            what=f"{frame} and its cladding weigh" if clad_first and wall.cladding else f"{frame} weighs",
            weight=weight,
            most=round(most, 1),
            each=building.site.lift_each,
            who="one person" if people == 1 else f"{people} people",
            tilting=share * weight,
        )


def _centre(weights: Sequence[tuple[Point, float]]) -> Point:
    """The centre of gravity of weights at points, mm."""
    total = sum(weight for _, weight in weights)
    return (
        sum(x * weight for (x, _), weight in weights) / total,
        sum(z * weight for (_, z), weight in weights) / total,
    )


def _middle(outline: Sequence[Point]) -> Point:
    """The centroid of an outline, mm."""
    x0, z0 = outline[0]
    triangles = []
    for (x1, z1), (x2, z2) in itertools.pairwise(outline[1:]):
        area = (x1 - x0) * (z2 - z0) - (x2 - x0) * (z1 - z0)
        triangles.append((((x0 + x1 + x2) / 3, (z0 + z1 + z2) / 3), area))
    return _centre(triangles)
