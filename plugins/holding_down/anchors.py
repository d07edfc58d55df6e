"""What holds sole plates down: anchor bolts on masonry or concrete, screws on a timber floor."""

from __future__ import annotations

import math
from abc import ABC, abstractmethod
from collections.abc import Iterator, Mapping, Sequence
from typing import Annotated, Any, ClassVar, Final, Literal

from soleplate.engine.rules import (
    PRACTICE,
    Anchor,
    AnyLength,
    CannotFrame,
    Finding,
    FindingKind,
    Goods,
    GoodsKind,
    HeldDown,
    HoldingDownRule,
    Limits,
    Mm,
    Reach,
    SoleLength,
    at_least,
    said,
)
from soleplate.plugins.holding_down.places import Spacing, anchor_places, over

ANCHORAGE: Final = "IRC R403.1.6, as restated by the American Wood Council"
"""Half-inch bolts 7 in into the base, at most 6 ft apart, two in each length of plate, one within 12 in of
each end and none within 7 diameters."""

SOLE_NAILED: Final = "Washington Administrative Code 246-359-340, Table 340 row 6"
"""Sole plates to floors at 16 in."""

FURTHEST_APART: Final = 1828.8
FURTHEST_FROM_END: Final = 304.8
LEAST_DIAMETERS: Final = 7.0
EMBEDDED: Final = 177.8
PLATE_WASHER: Final = 50.0
"""mm, square; the nut is turned over it, clear of studs (common practice, no source)."""
OVER_PLATE: Final = 25.0
"""mm of thread over the plate for washer and nut (common practice, no source)."""

SCREW_APART: Final = 406.4
INTO_FLOOR: Final = 60.0
"""mm of a screw into the floor's timber: some 10 diameters of a 6 mm screw (common practice, no source)."""
LEAST_HELD: Final = 6.0
"""Diameters of a screw under the plate: EN 1995-1-1, 8.7.2(3), from memory: the threaded part in the
timber at the point's side is at least 6 d long."""
DRIVER: Final = 25.0
"""mm from a stud to a screw, for the driver's chuck (common practice, no source)."""

STRIP_WIDTHS: Final = (100.0, 150.0, 225.0, 300.0, 450.0, 600.0)
"""mm. As damp-proof strip is rolled (common practice, no source)."""
STRIP_LAP: Final = 100.0
"""mm at each joint and corner (NHBC Standards 5.2: damp-proof courses lap by 100 mm)."""

BOLT: Final = GoodsKind("anchor bolt", "piece", 0.0, ANCHORAGE)
SCREW: Final = GoodsKind("sole plate screw", "piece", 0.1, PRACTICE)
STRIP: Final = GoodsKind("damp-proof strip", "m", 0.05, PRACTICE)

ANCHORS_APART: Final = FindingKind(
    "anchors-apart",
    "warn",
    ANCHORAGE,
    "the sole plate from {sole} is not held from {reach}, for what stands on it leaves no place there:"
    " strap the studs down there",
)

ANCHOR_ALONE: Final = FindingKind(
    "anchor-alone",
    "warn",
    ANCHORAGE,
    "the sole plate from {sole} is so short that it has {count}, not two: strap the studs beside it down to"
    " the base",
)

ANCHORS_FEW: Final = FindingKind(
    "anchors-few",
    "warn",
    ANCHORAGE,
    "anchor bolts at up to {centres} and {end} from the ends of a plate are further apart than {most} and"
    " {most_end}",
)

KINDS: Final = (ANCHOR_ALONE, ANCHORS_APART, ANCHORS_FEW)


class _Anchored(HoldingDownRule, ABC):
    """Base of the rules that set anchors along sole plates."""

    centres: Annotated[AnyLength, Limits(100.0, 3_000.0)]
    from_ends: Annotated[AnyLength, Limits(20.0, 1_000.0)]
    damp_proof_strip: bool
    width: Annotated[AnyLength, Limits(20.0, 1_000.0)] | None = None
    """Of the strip; else the narrowest that is sold and no narrower than the plate."""

    def _spacing(self, diameter: float, clear: float) -> Spacing:
        least = LEAST_DIAMETERS * diameter
        return Spacing(self.centres, max(self.from_ends, least), least, clear)

    @abstractmethod
    def _anchor(self, at: float, sole: SoleLength) -> Anchor:
        """One of them."""

    def _held(self, sole: SoleLength, spacing: Spacing, found: Sequence[Finding] = ()) -> HeldDown:
        places = anchor_places(sole.left, sole.right, sole.taken, spacing)
        return HeldDown(
            tuple(self._anchor(at, sole) for at in places),
            tuple(self._strip(sole)),
            (*found, *_found(sole, places, spacing)),
        )

    def _strip(self, sole: SoleLength) -> Iterator[Goods]:
        """What is laid under it: as long as it is and a lap."""
        if self.damp_proof_strip:
            wide = sole.section.depth
            width = self.width or next((w for w in STRIP_WIDTHS if w >= wide), math.ceil(wide / 50.0) * 50.0)
            yield Goods(STRIP, sole.right - sole.left + STRIP_LAP, (width,))


def _found(sole: SoleLength, places: Sequence[float], spacing: Spacing) -> Iterator[Finding]:
    whole = Reach(sole.left, sole.right, ".0f")
    if len(places) < 2:
        count = said("one anchor" if places else "none")
        yield ANCHOR_ALONE.of(value=float(len(places)), limit=2.0, sole=whole, count=count)
    if places:
        for one, other in over(sole.left, sole.right, places, spacing):
            yield ANCHORS_APART.of(
                value=round(other - one, 3), sole=whole, reach=Reach(one, other, ".0f"), limit=spacing.centres
            )


class AnchorBolts(_Anchored):
    """Bolts cast or fixed into masonry or concrete, with plate washers, on a strip that keeps damp out.

    At least two in each length of plate. None stands where a stud does, nor so near that its nut could not
    be turned.
    """

    examples: ClassVar[Sequence[Mapping[str, Any]]] = (
        {"rule": "anchor-bolts"},
        {"rule": "anchor-bolts", "centres": 1200, "from_ends": 200, "diameter": 10, "embedment": 120},
    )

    rule: Literal["anchor-bolts"] = "anchor-bolts"
    centres: Annotated[AnyLength, Limits(100.0, 3_000.0)] = 1_800.0
    """The most from bolt to bolt."""
    from_ends: Annotated[AnyLength, Limits(20.0, 1_000.0)] = 300.0
    """The most from each end of a plate to its first bolt; never under 7 diameters."""
    diameter: Annotated[AnyLength, Limits(6.0, 30.0)] = 12.0
    """Of a bolt."""
    embedment: Annotated[AnyLength, Limits(40.0, 500.0)] = 180.0
    """How deep a bolt goes into the base."""
    damp_proof_strip: bool = True
    """Whether a damp-proof strip lies under the plate."""

    def hold_down(self, sole: SoleLength) -> HeldDown:
        """Return the bolts of a length of plate; see `HoldingDownRule`.

        Raises:
            CannotFrame: the wall stands on a timber floor.
        """
        if sole.on_floor:
            raise CannotFrame(
                "anchor bolts go into masonry or concrete, and the wall stands on a timber floor; accepted is"
                " sole-screws"
            )
        found = []
        if self.centres > FURTHEST_APART or self.from_ends > FURTHEST_FROM_END:
            few = ANCHORS_FEW.of(
                value=self.centres,
                limit=FURTHEST_APART,
                centres=Mm(self.centres),
                end=Mm(self.from_ends),
                most=Mm(FURTHEST_APART),
                most_end=Mm(FURTHEST_FROM_END),
            )
            found.append(few)
        return self._held(sole, self._spacing(self.diameter, PLATE_WASHER / 2), found)

    def _anchor(self, at: float, sole: SoleLength) -> Anchor:
        return Anchor(at, BOLT, self.diameter, self.embedment + sole.section.breadth + OVER_PLATE)


class SoleScrews(_Anchored):
    """Screws down through the sole plate into the timber of a floor, or into plugs in a base."""

    examples: ClassVar[Sequence[Mapping[str, Any]]] = (
        {"rule": "sole-screws"},
        {"rule": "sole-screws", "centres": 300, "diameter": 8, "length": 150},
    )

    rule: Literal["sole-screws"] = "sole-screws"
    centres: Annotated[AnyLength, Limits(100.0, 3_000.0)] = 400.0
    """The most from screw to screw."""
    from_ends: Annotated[AnyLength, Limits(20.0, 1_000.0)] = 100.0
    """The most from each end of a plate to its first screw; never under 7 diameters."""
    diameter: Annotated[AnyLength, Limits(4.0, 14.0)] = 6.0
    """Of a screw."""
    length: Annotated[AnyLength, Limits(40.0, 400.0)] | None = None
    """Of a screw; else the plate's thickness and 60 mm."""
    damp_proof_strip: bool = False
    """Whether a damp-proof strip lies under the plate."""

    def hold_down(self, sole: SoleLength) -> HeldDown:
        """Return the screws of a length of plate; see `HoldingDownRule`.

        Raises:
            CannotFrame: they are too short to reach through the plate.
        """
        thick = sole.section.breadth
        least = thick + LEAST_HELD * self.diameter
        if self.length is not None and self.length < least:
            raise CannotFrame(
                "screws {length} long hold nothing under a plate {thick} thick; accepted is at least {least}",
                length=Mm(self.length),
                thick=Mm(thick),
                least=at_least(least),
            )
        return self._held(sole, self._spacing(self.diameter, DRIVER))

    def _anchor(self, at: float, sole: SoleLength) -> Anchor:
        return Anchor(at, SCREW, self.diameter, self.length or sole.section.breadth + INTO_FLOOR)
