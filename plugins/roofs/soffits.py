"""Soffits: flat strips under the rafters' tails, and under what carries a verge, with a gap for air.

They lie in the plane of the rafters' undersides. From fascia to wall they close the eaves; along the wall
air comes in through a gap. Under a ladder they reach from the wall to the fly rafter's outer face.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from typing import TYPE_CHECKING, Annotated, Final, Literal

from soleplate.engine.rules import (
    ALONG,
    TOUCH,
    UPRIGHT,
    AnyLength,
    CannotFrame,
    Limits,
    Member,
    Mm,
    Model,
    Name,
    RoofShape,
    SlopeShape,
    at_least,
    rectangle,
)
from soleplate.plugins.roofs.members import BoardSection, Ladder
from soleplate.plugins.roofs.pitched import Ends, Pitched

if TYPE_CHECKING:
    from soleplate.plugins.roofs.rafters import Rafters

NARROWEST: Final = 20.0
"""mm. A narrower strip splits where it is fixed (common practice, no source)."""


class Soffit(Model):
    """Flat strips under the rafters' tails and under a ladder; air comes in along the wall."""

    rule: Literal["soffit"]
    """Its name."""
    section: BoardSection
    """Of the boards, as [thickness, width]: where a strip is wider, boards of one width lie side by side."""
    material: Name | None = None
    """What they are of; else of the rafters' timber."""
    gap: Annotated[AnyLength, Limits(0.0, 100.0)] = 25.0
    """What stays open for air along the wall under the eaves, or what covers that; level."""


def soffit_of(rule: Rafters) -> Soffit | None:
    """The soffits that close the eaves, where they do."""
    return rule.closing if isinstance(rule.closing, Soffit) else None


@dataclass(frozen=True)
class Soffits:
    """The strips of one slope, whose rafter is `rafter`; `walls` stand at its verges, left and right."""

    soffit: Soffit
    rule: Rafters
    shape: RoofShape
    slope: SlopeShape
    rafter: Pitched
    covered: Ends
    """How far what lies on the walls at its verges stands off them, left and right, mm."""

    @property
    def overhang(self) -> float:
        """Before the walls that run with the slope, to the fly rafters' outer faces, mm."""
        return self.rule.verge.overhang if isinstance(self.rule.verge, Ladder) else 0.0

    @property
    def depth(self) -> Ends:
        """Where they lie, from the rafters' upper edges inwards, mm."""
        deep = self.rafter.section.depth
        return deep, deep + self.soffit.section.breadth

    @property
    def open_along(self) -> tuple[float, ...]:
        """How long the gap for air is, along each wall under the eaves, mm."""
        return tuple(self.slope.length + sum(self.covered) for _ in self._eaves)

    @property
    def _eaves(self) -> tuple[Ends, ...]:
        """From where to where up the slope it is closed, at each eaves; square to the slope."""
        plates, rafter = self.slope.plates, self.rafter
        wall = -plates[0].covered - self.soffit.gap
        strips = [(self._from(rafter.start), self._up_to(wall))]
        if self.shape.form == "mono-pitch":
            wall = self.shape.width + plates[1].covered + self.soffit.gap
            strips.append((self._from(wall), self._up_to(rafter.end)))
        return tuple(strips)

    def _from(self, r: float) -> float:
        """How far up the slope a strip begins that is not to reach below r, level."""
        return (r - self.depth[0] * self.rafter.sin) / self.rafter.cos

    def _up_to(self, r: float) -> float:
        """How far up the slope one ends that is not to reach beyond r, level."""
        return (r - self.depth[1] * self.rafter.sin) / self.rafter.cos

    def members(self) -> Iterator[Member]:
        """All strips: along the eaves from verge to verge, and along the verges between those.

        Raises:
            CannotFrame: there is no room for one.
        """
        out, length = self.overhang, self.slope.length
        for low, high in self._eaves:
            self._refuse(high - low, "the eaves reach past the wall")
            for bottom, top in self._side_by_side(low, high):
                yield self._strip((-out, length + out), (bottom, top), ALONG)
        if not out:
            return
        low = self._eaves[0][1]
        high = self._eaves[1][0] if self.shape.form == "mono-pitch" else self._up_to(self.rafter.end)
        sides = ((-out, -self.covered[0]), (length + self.covered[1], length + out))
        for start, end in sides if high - low > TOUCH else ():
            self._refuse(end - start, "the verge reaches past the wall")
            for left, right in self._side_by_side(start, end):
                yield self._strip((left, right), (low, high), UPRIGHT)

    def _side_by_side(self, start: float, end: float) -> Iterator[Ends]:
        """The fewest boards of one width, side by side."""
        count = math.ceil((end - start) / self.soffit.section.depth - 1e-9)
        wide = (end - start) / count
        return ((start + wide * number, start + wide * (number + 1)) for number in range(count))

    def _strip(self, across: Ends, up: Ends, grain: float) -> Member:
        return Member(
            "soffit", self.soffit.section, rectangle(*across, *up), self.depth, grain,
            material=self.soffit.material, view="slope",
        )  # fmt: skip

    def _refuse(self, room: float, where: str) -> None:
        """Refuse a strip that is too narrow."""
        if room < NARROWEST - TOUCH:
            raise CannotFrame(
                "{where} by too little: beside what lies on the wall and the gap for air a soffit has {room};"
                " accepted is an overhang that leaves {least}, or blocking",
                where=where,
                room=Mm(max(room, 0.0), ".1f"),
                least=at_least(NARROWEST),
            ).at("closing")
