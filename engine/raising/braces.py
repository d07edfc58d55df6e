"""Temporary braces: where rakers can stand that hold a panel until its corner is closed."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final, Literal

from soleplate.engine.raising.panels import MEETING, SitePanel
from soleplate.engine.rules import rectangle
from soleplate.engine.shapes import Point, Prism, gap

Where = Literal["ends", "outside", "inside"]

AS_HIGH: Final = 0.7
"""Of the panel's height: where rakers are fixed (common practice, no source; "near the top, at about 45
degrees", Modern Carpentry, 2022, page 253)."""

BROAD: Final = 60.0
"""mm. Of a raker (common practice, no source)."""

RAKERS: Final = (0.2, 0.8)
"""Places of the two rakers of one face, by the panel's length (common practice, no source)."""

WAYS: Final[tuple[Where, ...]] = ("ends", "outside", "inside")
"""In the order in which they are tried."""


@dataclass(frozen=True, slots=True)
class TemporaryBrace:
    """One way of bracing a panel: two rakers as prisms in the world, and their feet in plan."""

    where: Where
    rakers: tuple[Prism, ...]
    feet: tuple[Point, ...]


def braces_of(panel: SitePanel, others: Sequence[SitePanel]) -> tuple[TemporaryBrace, ...]:
    """The ways in which a panel can be braced; `others` are all that will stand."""
    return tuple(_brace(where, panel, others) for where in WAYS)


def _brace(where: Where, panel: SitePanel, others: Sequence[SitePanel]) -> TemporaryBrace:
    own = panel.panel
    high = AS_HIGH * own.height
    # At 45 degrees a raker reaches as far as it is high.
    if where == "ends":
        left, right = _beside(panel, others)
        sides = [(-left - BROAD, -left), (own.length + right, own.length + right + BROAD)]
        across, foot = (0.0, own.depth + high), own.depth + high
    else:
        sides = [(own.length * each - BROAD / 2, own.length * each + BROAD / 2) for each in RAKERS]
        out = -own.build_out - high
        across, foot = (
            ((out, -own.build_out), out)
            if where == "outside"
            else ((own.depth, own.depth + high), own.depth + high)
        )
    rakers = [Prism(rectangle(*along, *across), 0.0, high) for along in sides]
    feet = [panel.axes.point((along[0] + along[1]) / 2, foot) for along in sides]
    return TemporaryBrace(where, tuple(map(panel.axes.prism, rakers)), tuple(feet))


def _beside(panel: SitePanel, others: Sequence[SitePanel]) -> tuple[float, float]:
    """How far out of both ends rakers stand: past the cladding of the walls that will stand there."""
    out = [0.0, 0.0]
    for other in others:
        run, run2 = panel.axes.run, other.axes.run
        is_across = abs(run[0] * run2[1] - run[1] * run2[0]) > 0.5
        if not is_across or gap(panel.footprint, other.footprint) > MEETING:
            continue
        ss = [panel.axes.local(point)[0] for point in other.footprint.outline]
        for end, place in enumerate((0.0, panel.panel.length)):
            if (
                min(abs(place - s) for s in ss) <= other.panel.depth + MEETING
                and max(ss) - min(ss) < panel.panel.length
            ):
                out[end] = max(out[end], other.panel.build_out)
    return out[0], out[1]
