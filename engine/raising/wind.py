"""Wind on a raised wall, and what a person should lift from the deck."""

from __future__ import annotations

import math
from typing import Final

from soleplate.engine.building_file import Site
from soleplate.engine.raising.panels import SitePanel

BEAUFORT: Final = (0.2, 1.5, 3.3, 5.4, 7.9, 10.7, 13.8, 17.1, 20.7)
"""m/s: the upper limit of each force from 0 (delta-s.org)."""

PRESSURE: Final = 0.613
"""N s2/m4: half the density of air (UK national annex to EN 1991-1-4, as restated; the code's own density
gives 0.625)."""

ZONE_D: Final = 1.2
"""Pressure on a wall that wind meets, with suction behind it (EN 1991-1-4, 7.4.1, as restated)."""

GUST: Final = 1.5
"""A gust's speed, by the wind's (common practice, no source)."""


CLAD: Final = 3
CLAD_ALONE: Final = 2
"""Beaufort numbers up to which a clad wall is raised (common practice, no source)."""


def clad_limit(people: int) -> int:
    """The Beaufort number up to which so many raise a wall that is clad."""
    return CLAD_ALONE if people == 1 else CLAD


def wind_limit(site: Site, *, clad: bool) -> int:
    """The Beaufort number up to which a wall is raised."""
    return min(site.wind, clad_limit(site.people)) if clad else site.wind


def push_of(panel: SitePanel, beaufort: int) -> float:
    """What a gust at the upper limit of a force of wind does to a wall as it is raised, N.

    An open frame is pushed at its timber alone.
    """
    area = panel.face_m2 if panel.panel.is_clad else panel.bare_m2
    return wind_push(area, beaufort)


def wind_push(area: float, beaufort: int) -> float:
    """The push of a gust on a wall of so many m2, N."""
    return ZONE_D * PRESSURE * (GUST * BEAUFORT[beaufort]) ** 2 * area


def raker_push(push: float) -> float:
    """What each of two rakers takes of a push on the middle of a wall, N, by the moment about its foot.

    They are fixed at 0.7 of its height, at 45 degrees.
    """
    return push * 0.5 / (0.7 * 2 * math.cos(math.radians(45.0)))


def recommended_lift(horizontal: float, vertical: float, distance: float, *, of: float = 23.0) -> float:
    """The weight that a person should lift, kg, by the revised NIOSH lifting equation (1991).

    Upright, by two hands, once in five minutes: the multipliers for turning, frequency and grip are 1.

    Args:
        horizontal: of the hands from the ankles, cm.
        vertical: of the hands above the floor at the start, cm.
        distance: that they travel, cm.
        of: the load constant, kg.
    """
    return (
        of
        * min(1.0, 25.0 / horizontal)
        * (1 - 0.003 * abs(vertical - 75.0))
        * min(1.0, 0.82 + 4.5 / distance)
    )
