"""Walls that are framed flat at their own line and tilted up about their foot."""

from __future__ import annotations

from collections.abc import Sequence
from math import hypot
from typing import Final, Literal

from soleplate.engine.rules import (
    Movement,
    Panel,
    Prism,
    Quarter,
    RaisingRule,
    SiteOut,
    rectangle,
    tilting_share,
)

PERSON: Final = 1800.0
"""mm. As high as whoever lifts or works needs room (common practice, no source)."""

STEPPED_OVER: Final = 300.0
"""mm. Lower things on the ground are stepped over (common practice, no source)."""

LIFTERS: Final = (0.2, 0.8)
"""The stretch of a wall along whose head people stand who lift it (common practice, no source)."""


class TiltUp(RaisingRule):
    """Framed on the deck at its line with its outer face up, so that it can be clad there, and tilted up.

    Clad, it is lifted at its head, or at one corner of it, where there must be room to stand; an open frame
    is lifted from between its studs.
    """

    examples = ({"rule": "tilt-up"}, {"rule": "tilt-up", "clad": "before"})
    rule: Literal["tilt-up"] = "tilt-up"

    def ways(self, panel: Panel, site: SiteOut) -> Sequence[Movement]:
        """Return the one way, where frames are made on the deck."""
        return [tilted(panel, site)] if site.deck else []


class TiltUpFromOutside(RaisingRule):
    """Framed outside with its outer face down, hence never clad, and tilted up inwards.

    A partition is framed so on the deck, on its other side.
    """

    examples = ({"rule": "tilt-up-from-outside"},)
    rule: Literal["tilt-up-from-outside"] = "tilt-up-from-outside"

    def ways(self, panel: Panel, site: SiteOut) -> Sequence[Movement]:
        """Return the one way; there must be free ground for those who lift, or deck for a partition."""
        if panel.is_clad or (panel.is_inside and not site.deck):
            return []
        swept = [*panel.standing, *_lying_outside(panel)]
        share = tilting_share(panel.centre, panel.height, site.hand_height)
        if panel.is_inside:
            return [Movement(swept=swept, share=share)]
        far = panel.height + site.head_room
        first, last = (panel.length * each for each in LIFTERS)
        free = [on_the_ground(first, last, far, site)]
        return [Movement(swept=swept, share=share, free=free, on_deck=False, ground=far)]


def tilted(panel: Panel, site: SiteOut) -> Movement:
    """A panel that lies inside its line and is tilted up from there."""
    foot, thick = panel.depth, panel.depth + panel.build_out
    swept: list[Prism | Quarter] = list(panel.standing)
    for span in panel.spans:
        swept += [
            Prism(rectangle(span.left, span.right, foot, foot + span.height), 0.0, thick),
            Quarter(
                (span.left, foot), (1.0, 0.0), (0.0, 1.0), span.right - span.left, hypot(span.height, thick)
            ),
        ]
    return Movement(
        swept=swept,
        share=tilting_share(panel.centre, panel.height, site.hand_height),
        clad=panel.is_clad,
        spots=_spots(panel, site) if panel.is_clad else (),
    )


def on_the_ground(left: float, right: float, far: float, site: SiteOut) -> Prism:
    """Room for people on the ground outside a wall, `far` mm out of its outer face."""
    return Prism(rectangle(left, right, -far, 0.0), STEPPED_OVER - site.ground, PERSON - site.ground)


def _lying_outside(panel: Panel) -> list[Prism | Quarter]:
    swept: list[Prism | Quarter] = []
    for span in panel.spans:
        swept += [
            Prism(rectangle(span.left, span.right, -span.height, 0.0), 0.0, panel.depth),
            Quarter(
                (span.left, 0.0),
                (1.0, 0.0),
                (0.0, -1.0),
                span.right - span.left,
                hypot(span.height, panel.depth),
            ),
        ]
    return swept


def _spots(panel: Panel, site: SiteOut) -> list[Prism]:
    """Where one can stand to lift at the head of a lying panel: behind it, or beside either head corner."""
    room, length = site.head_room, panel.length
    head = panel.depth + panel.height
    behind = [(left, head) for left in ((length - room) / 2, 0.0, length - room)]
    beside = [(-room, head - room), (length, head - room)]
    return [Prism(rectangle(s, s + room, t, t + room), 0.0, PERSON) for s, t in (*behind, *beside)]
