"""Heights and areas over which permission is asked for, by the region that the site is in."""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterator
from typing import Final

from soleplate.engine.rules import (
    Building,
    Finding,
    FindingKind,
    Layout,
    Mm,
    Point,
    Rectangle,
    SingleWalls,
    plane_of,
)
from soleplate.plugins.cautions.limits import SAME

NEAR_BOUNDARY: Final = 2000.0
LOW: Final = 2500.0
HIGH_DUO: Final = 4000.0
HIGH_OTHER: Final = 3000.0
"""mm: England, GPDO 2015, Schedule 2, Part 1, Class E."""

SMALL: Final = 15.0
MIDDLING: Final = 30.0
"""m2 of floor inside."""
CLEAR_OF_BOUNDARY: Final = 1000.0
"""mm: Building Regulations 2010, Schedule 2, Class 6."""

PERMIT: Final = 18.58
"""m2: 200 square feet (IRC R105.2, since 2009)."""

CLASS_E: Final = "GPDO 2015, Schedule 2, Part 1, Class E, for houses in England, as guidance has it"
CLASS_6: Final = "Building Regulations 2010, Schedule 2, Class 6, England and Wales"

TOO_HIGH: Final = FindingKind(
    "planning-height",
    "warn",
    CLASS_E,
    "it is {height} high over the ground, and {most} is the most without planning permission {where}; other"
    " limits hold too: ask the planning authority",
)

REGULATED: Final = FindingKind(
    "regulations-area",
    "warn",
    CLASS_6,
    "it has {area:.1f} m² of floor inside{near}; up to 15 m² are exempt from the building regulations where"
    " nobody sleeps, up to 30 m² too if it is 1 m from the boundary or hardly burns: ask building control",
)

PERMITTED: Final = FindingKind(
    "permit-area",
    "warn",
    "IRC R105.2, 200 square feet since 2009; places differ",
    "it covers {area:.1f} m², over the 18.6 m² (200 square feet) up to which a shed on one storey is commonly"
    " built without a permit: ask where you are",
)

KINDS: Final = (TOO_HIGH, REGULATED, PERMITTED)


def thresholds(layout: Layout, building: Building) -> Iterator[Finding]:
    """What is over the limits of the site's region; nothing where none is given."""
    site = building.site
    if site.region == "united-states" and (covered := _covered(building)) > PERMIT:
        yield PERMITTED.of(value=round(covered, 3), limit=PERMIT, area=covered)
    if site.region != "england":
        return
    yield from _height(layout, building)
    inside = inside_m2(building)
    boundary = site.boundary if site.boundary is not None else math.inf
    near = boundary < CLEAR_OF_BOUNDARY
    if not is_exempt(inside, boundary):
        yield REGULATED.of(
            value=round(inside, 3),
            limit=SMALL if near else MIDDLING,
            area=inside,
            near=" nearer than 1 m to the boundary" if near else "",
        )


def is_exempt(inside_m2: float, boundary: float) -> bool:
    """Whether Class 6 exempts what burns, where nobody sleeps: m2 of floor inside, mm to the boundary."""
    return inside_m2 <= (SMALL if boundary < CLEAR_OF_BOUNDARY else MIDDLING)


def most_height(boundary: float | None, form: str) -> float:
    """The most height by Class E, mm; without a boundary given as far from it."""
    if boundary is not None and boundary <= NEAR_BOUNDARY:
        return LOW
    return HIGH_DUO if form == "duo-pitch" else HIGH_OTHER


def inside_m2(building: Building) -> float:
    """Of floor between the frames of the outer walls, m2; 0 of walls on their own."""
    corners = _corners(building)
    if not corners:
        return 0.0
    around = sum(math.dist(one, other) for one, other in itertools.pairwise((*corners, corners[0])))
    deep = building.frame.section.depth
    # All corners are right angles, and four more turn in than out.
    return _covered(building) - (around * deep - 4 * deep * deep) / 1e6


def _covered(building: Building) -> float:
    """What the plan covers, m2."""
    corners = _corners(building)
    return (
        abs(sum(x0 * y1 - x1 * y0 for (x0, y0), (x1, y1) in itertools.pairwise((*corners, *corners[:1]))))
        / 2e6
    )


def _corners(building: Building) -> tuple[Point, ...]:
    outline = building.outline
    if isinstance(outline, Rectangle):
        return ((0.0, 0.0), (outline.length, 0.0), (outline.length, outline.width), (0.0, outline.width))
    return () if isinstance(outline, SingleWalls) else tuple(outline.corners)


def _height(layout: Layout, building: Building) -> Iterator[Finding]:
    if isinstance(building.outline, SingleWalls):
        return
    heights = list(_heights(layout))
    site = building.site
    ground = site.ground if site.ground is not None else max(-min(heights), 0.0)
    height, most = max(heights) + ground, most_height(site.boundary, getattr(building.roof, "form", "level"))
    if height > most + SAME:
        near = site.boundary is not None and site.boundary <= NEAR_BOUNDARY
        yield TOO_HIGH.of(
            value=round(height, 3),
            limit=most,
            height=Mm(height, ".0f"),
            most=Mm(most, ".0f"),
            where="within 2 m of a boundary" if near else "further from any boundary",
        )


def _heights(layout: Layout) -> Iterator[float]:
    """Of all corners of all pieces over the sole plates' underside, mm."""
    for part in layout.parts:
        for piece in part.pieces:
            plane = plane_of(part, piece.view)
            yield from (plane.point(u, v, w)[2] for u, v in piece.outline for w in piece.depth)
