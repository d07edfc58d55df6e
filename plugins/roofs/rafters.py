"""A roof of rafters on level plates, mono-pitch or duo-pitch."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Annotated, Any, ClassVar, Literal

from pydantic import Field

from soleplate.engine.rules import (
    TOUCH,
    AnyLength,
    CannotFrame,
    CladdingRule,
    Items,
    Limits,
    Mm,
    Name,
    NogginRule,
    Positions,
    RafterRun,
    RoofFrame,
    RoofRule,
    RoofShape,
    Run,
    StudRule,
    at_least,
)
from soleplate.plugins.roofs.bearing import far_from_studs
from soleplate.plugins.roofs.cladding import cladding_ends
from soleplate.plugins.roofs.closing import Blocking, LeftOpen
from soleplate.plugins.roofs.laying import Laying
from soleplate.plugins.roofs.members import (
    Eaves,
    EdgeBoard,
    Flush,
    Ladder,
    OverStuds,
    RafterSection,
    RidgeBeam,
    RidgeBoard,
    RollCovering,
    RoofBattens,
    RoofWindow,
    SheetCovering,
    Ties,
)
from soleplate.plugins.roofs.ridges import against_gables, between_gables
from soleplate.plugins.roofs.soffits import Soffit

MOST_WINDOWS = 20


class Rafters(RoofRule):
    """Rafters that sit on the plates by birdsmouths, spaced by any stud rule or over the studs.

    The outermost stand against the inner faces of the walls that run with the slope. Those walls end lower by
    the birdsmouths' plumb face, so that ladders and fly rafters lie flat on their raked plates, and so do
    partitions.
    """

    examples: ClassVar[Sequence[Mapping[str, Any]]] = (
        {
            "rule": "rafters", "section": [45, 145], "material": "C16",
            "spacing": {"rule": "equal-bays", "largest_bay": 600},
            "eaves": {"low": 300, "high": 300}, "verge": {"rule": "ladder", "overhang": 250, "rungs": 600},
            "fascia": {"section": [20, 170]}, "barge": {"section": [20, 170]},
            "deck": {
                "rule": "sheets", "width": 2440, "height": 1220, "thickness": 18, "material": "OSB",
                "density": 640,
            },
            "covering": {"kind": "roll", "width": 1000, "lap": 75},
        },
        {
            "rule": "rafters", "section": [45, 95], "spacing": {"rule": "fixed-centres", "centres": 600},
            "datum": "deck", "eaves": {"low": 150}, "barge": {"section": [20, 120]},
        },
    )  # fmt: skip

    rule: Literal["rafters"] = "rafters"
    section: RafterSection
    """Of rafters, fly rafters, rungs and trimmers, as [breadth, depth]: they stand on edge."""
    material: Name | None = None
    """What they are of; else of the walls' timber."""
    spacing: StudRule | OverStuds
    """How rafters between the outermost are spaced: by a rule that spaces studs, or over the studs."""
    datum: Literal["walls", "deck"] = "walls"
    """Where a grid of fixed centres starts: at the outline's corner, or at the deck's edge, left of it."""
    seat: Annotated[AnyLength, Limits(10.0, 400.0)] | None = None
    """How long a birdsmouth's seat is at the most; else as deep as the plate. A notch takes no more than a
    quarter of the rafter's depth."""
    raked_plates: Literal["dropped", "as set out"] = "dropped"
    """Whether walls that run with the slope end under the rafters' line, or rungs are notched over them."""
    eaves: Eaves = Eaves()
    """The overhangs that rafters make."""
    verge: Annotated[Ladder | Flush, Field(discriminator="rule")] = Flush(rule="flush")
    """What is before the gables."""
    ridge: Annotated[RidgeBoard | RidgeBeam, Field(discriminator="rule")] | None = None
    """What rafters meet at; a duo-pitch roof has one, a mono-pitch one none."""
    ties: Ties | None = None
    """What ties the slopes of a duo-pitch roof; none without it."""
    noggins: NogginRule | None = None
    """How noggins are set between rafters, measured from the deck's lower edge; none without it."""
    fascia: EdgeBoard | None = None
    """What hides the rafters' ends; nothing without it."""
    barge: EdgeBoard | None = None
    """What lies on the fly rafters; nothing without it."""
    deck: CladdingRule | None = None
    """What lies on the rafters; nothing without it."""
    drip: Annotated[AnyLength, Limits(0.0, 100.0)] = 0.0
    """How far the deck reaches over fascias and barge boards."""
    insulation: Annotated[AnyLength, Limits(10.0, 600.0)] | None = None
    """How thick insulation between the rafters is; none without it."""
    vapour_layer: bool | None = None
    """Whether a layer that checks vapour lies under insulation; unless told it does."""
    covering: Annotated[SheetCovering | RollCovering, Field(discriminator="kind")] | None = None
    """What keeps the rain out; it is counted, not cut."""
    closing: Annotated[Blocking | Soffit | LeftOpen, Field(discriminator="rule")] | None = None
    """What closes the eaves and verges; with a deck it is blocking where it is not given, else nothing."""
    battens: RoofBattens | None = None
    """What the covering is fixed to, where that is not the deck; none without it."""
    openings: Annotated[tuple[RoofWindow, ...], Items(0, MOST_WINDOWS)] = ()
    """Its roof windows."""

    def drop(self, shape: RoofShape) -> float:
        """Return the plumb face of a birdsmouth, mm, where walls are dropped; see `RoofRule`."""
        if self.raked_plates == "as set out":
            return 0.0
        return Laying(self, shape).heel

    def spaces(self, shape: RoofShape) -> RafterRun | Positions:
        """Return the run between the outermost rafters, or the places over studs; see `RoofRule`.

        Raises:
            CannotFrame: the outermost rafters have no room.
        """
        breadth = self.section.breadth
        left, right = between_gables(shape)
        if right - left < 2 * breadth - TOUCH:
            raise CannotFrame(
                "{room} between the walls that run with the slope has no room for two rafters of {breadth};"
                " accepted is at least {least}",
                room=Mm(right - left),
                breadth=Mm(breadth),
                least=at_least(2 * breadth),
            ).at("section")
        first, last = left + breadth, right - breadth
        if isinstance(self.spacing, OverStuds):
            studs = shape.slopes[0].plates[0].studs
            return tuple(s for s in studs if first - TOUCH <= s and s + breadth <= last + TOUCH)
        datum = 0.0 if self.datum == "walls" else -Laying(self, shape).past_walls
        run = Run(first - datum, last - datum, "whole", breadth, shape.length - 2 * datum)
        return RafterRun(self.spacing, run, datum)

    def lay_roof(self, shape: RoofShape, spacing: Positions) -> RoofFrame:
        """Return the frame; see `RoofRule`.

        Raises:
            CannotFrame: something in it cannot be framed so; the message says what would do.
        """
        laying = Laying(self, shape)
        left, right = between_gables(shape)
        lefts = (left, *spacing, right - self.section.breadth)
        return RoofFrame(
            slopes=laying.slopes(lefts),
            timber=self.material,
            ends=tuple(cladding_ends(laying)),
            against=against_gables(self.ridge, shape) if isinstance(self.ridge, RidgeBeam) else (),
            findings=tuple(far_from_studs(shape, lefts, self.section.breadth)),
        )
