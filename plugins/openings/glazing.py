"""What panes of plastic or glass are cut to, and whether the studs they meet on are broad enough for them."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Annotated, Final, Self

from pydantic import Field, model_validator

from soleplate.engine.rules import (
    PRACTICE,
    AnyLength,
    Finding,
    FindingKind,
    Limits,
    Mm,
    Model,
    OpeningOut,
    WallOut,
    at_least,
    said,
    unbuildable,
)
from soleplate.plugins.openings.pane_movement import EXPANSION, PaneFit, Sheet, fit_panes, sheet_movement

COLDEST: Final = -15.0
HOTTEST: Final = 40.0
"""Degrees Celsius: 55 K apart, as in the example of EPSE from winter's coldest day to summer's hottest."""

LEAST_COVER: Final = 15.0
"""mm of a pane on its stud when it is coldest (common practice, no source)."""

Celsius = Annotated[float, Field(ge=-60.0, le=120.0)]


class Glazing(Model):
    """The panes themselves, for their joints and their cover on the studs."""

    material: Sheet
    """What they are of."""
    coldest: Celsius = COLDEST
    """Degrees Celsius."""
    hottest: Celsius = HOTTEST
    """Degrees Celsius, of the sheet in the sun."""
    dark: bool = False
    """Whether they are of a dark colour, which heats up more."""
    shank: Annotated[AnyLength, Limits(1.0, 20.0)] | None = None
    """Of screws through the panes, if there are any."""
    least_cover: Annotated[AnyLength, Limits(0.0, 100.0)] = LEAST_COVER
    """What of a pane must lie on its stud when it is coldest."""

    @model_validator(mode="after")
    def _check(self) -> Self:
        if self.hottest < self.coldest:
            raise unbuildable(f"hottest is {self.hottest:g}; accepted is from coldest up, {self.coldest:g}")
        return self

    @property
    def swing(self) -> float:
        """From the coldest to the hottest, kelvins."""
        return self.hottest - self.coldest

    def fitted(self, centres: float, breadth: float) -> PaneFit:
        """The panes on studs of this breadth and these centres, mm."""
        return fit_panes(centres, breadth, self.material, self.swing, dark=self.dark, shank=self.shank)


PANE_JOINT: Final = FindingKind(
    "pane-joint",
    "note",
    PRACTICE,
    "{name}: cut panes of {material} {width} wide and leave {joint} between them{holes}; each moves that much"
    " over {swing:g} K",
)
PANE_COVER: Final = FindingKind(
    "pane-cover",
    "warn",
    PRACTICE,
    "{name}: when coldest, panes have {cover} {where}; accepted is {least_cover}: broader timber, a larger"
    " edge_cover, or smaller panes",
)


def pane_findings(
    wall: WallOut, opening: OpeningOut, glazing: Glazing, panes: int, edge_cover: float
) -> Iterator[Finding]:
    """What a row of panes is cut to, and a warning where too little of them is held."""
    breadth = max((piece.section[0] for piece in wall.pieces if piece.mark in opening.pieces), default=0.0)
    fit = glazing.fitted((opening.right - opening.left) / panes, breadth)
    holes = (
        ""
        if fit.hole is None
        else said(", and drill holes of {hole} or more for the screws", hole=Mm(fit.hole, ".1f"))
    )
    yield PANE_JOINT.of(
        part=wall.name,
        value=round(fit.joint, 3),
        basis=EXPANSION[glazing.material].source,
        name=opening.name,
        material=glazing.material,
        width=Mm(fit.width, ".1f"),
        joint=Mm(fit.joint, ".1f"),
        holes=holes,
        swing=glazing.swing,
    )
    height = opening.top - opening.bottom
    drawn_back = sheet_movement(height, glazing.material, glazing.swing, dark=glazing.dark) / 2
    covers = ("on their studs", fit.cover), ("on the noggins below and above", edge_cover - drawn_back)
    for where, cover in covers:
        if cover < glazing.least_cover:
            yield PANE_COVER.of(
                part=wall.name,
                pieces=opening.pieces,
                value=round(cover, 3),
                limit=glazing.least_cover,
                name=opening.name,
                cover=Mm(max(cover, 0.0), ".1f"),
                where=where,
                least_cover=at_least(glazing.least_cover),
            )
