"""A schedule of nails for small timber frames: how many, and which way, by what meets what."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from typing import Annotated, Any, ClassVar, Final, Literal

from soleplate.engine.rules import (
    PRACTICE,
    ROLES,
    AnyLength,
    Fastener,
    FixingRule,
    FixingWay,
    Joint,
    JointFixing,
    Limits,
)

TABLE: Final = "Washington Administrative Code 246-359-340, Table 340"
STUD_TO_PLATE: Final = f"{TABLE} rows 7 and 8; NHBC Standards 6.3.5: two nails a joint"
UPRIGHTS: Final = f"{TABLE} row 9, at 600 mm for its 24 in"
PLATES: Final = f"{TABLE} row 10, at 400 mm for its 16 in"
SPLICED: Final = f"{TABLE} row 10: eight where plates lap a splice, else at 400 mm for its 16 in"
LAPS: Final = f"{TABLE} row 13"
LINTEL_PLIES: Final = f"{TABLE} row 14, at 400 mm for its 16 in along each edge"
LINTEL_END: Final = f"{TABLE} row 16; through the king stud by common practice, no source"
NOGGIN: Final = "common practice, no source; skewed it takes three by Table 340 row 11"
JOIST_SEAT: Final = f"{TABLE} row 1"
RAFTER_SEAT: Final = f"{TABLE} row 19"
TIE: Final = f"{TABLE} row 18"
BRACE: Final = f"{TABLE} row 20"
SOLE: Final = f"{TABLE} row 6, at 400 mm for its 16 in"
SOLE_BRACED: Final = f"{TABLE} row 6: three to 16 in where a wall is braced"
CORNER: Final = f"at 400 mm (common practice, no source); {TABLE} row 23 has 24 in"
HELD_BY_OTHERS: Final = "the uprights beside it and the plate over it hold it (common practice, no source)"
BLOCKING_SEAT: Final = "IBC 2018 Table 2304.10.1 item 1, three in all: skewed"
RIM_SEAT: Final = f"{TABLE} row 12, at 150 mm for its 6 in"
OTHER_TABLE: Final = "International Building Code, Table 2304.10.1"
RIM: Final = f"{OTHER_TABLE}, from memory: three end nails from a rim joist into each joist"
TIE_SEAT: Final = f"{OTHER_TABLE}, from memory: three skewed from a ceiling joist into a plate"
RIDGE: Final = f"{OTHER_TABLE} row 7: two end nails or three skewed"
BLOCKING: Final = f"{OTHER_TABLE} row 1: two at each end; at a plate three skewed ({TABLE} row 11)"
ON_PLATE: Final = f"two (common practice, no source); skewed as blocking, {TABLE} row 11"
HELD_BY_PLIES: Final = "the plies on both sides of it hold it (common practice, no source)"
HELD_BY_SEAT: Final = "the plate that it stands on holds it (common practice, no source)"
HELD_BY_RAFTERS: Final = "the rafters and rungs that it is nailed up to hold it (common practice, no source)"
HELD_BY_RIM: Final = "the timber beside it under the plate holds it (common practice, no source)"

PLATE_ROLES: Final = frozenset({"sole plate", "head plate", "raked plate"})
BRACES: Final = frozenset({"let-in brace"})
TRIM: Final = frozenset({"fascia", "barge board", "soffit"})
RAFTERS: Final = frozenset({"rafter", "fly rafter"})

UPRIGHT_CENTRES: Final = 600.0
PLATE_CENTRES: Final = 400.0
PACKER_CENTRES: Final = 300.0
"""mm (common practice, no source)."""

LEAST_SEAT: Final = 40.0
"""mm. A sole plate is nailed to what lies under it for at least that much (common practice, no source)."""

RIM_CENTRES: Final = 150.0
"""mm."""

FROM_ENDS: Final = 50.0
"""mm from the ends of a contact to the first and the last nail (common practice, no source)."""

IN_SPLICE: Final = 8
"""Nails where plates lap a splice (Table 340 row 10)."""

LEAST_APART: Final = 40.0
"""mm. What nails in a short lap stand apart at the least (common practice, no source)."""

MOST: Final = 40
"""Nails in one joint."""

CORNER_FROM_ENDS: Final = 100.0
"""mm (common practice, no source)."""

TALL: Final = 120.0
"""mm. Ends taller than this take three nails (common practice, no source)."""

SHORTER: Final = (75.0, 63.0, 50.0, 40.0)
"""mm. Lengths of nails for what is too thin for the usual ones (common practice, no source)."""

TIMES_HELD: Final = 3.0
"""Of a nail's length to the thickness that it holds (NAVEDTRA 14119)."""

SOFFIT_NAILS: Final = 2
"""At each rafter (common practice, no source)."""

THIN_DIAMETER: Final = 2.8
"""mm, of nails shorter than 75 mm (common practice, no source)."""

UNDER_FACE: Final = 5.0
"""mm of timber left under a point, so that none stands out or goes into the deck (common practice, no
source)."""


class FramingNails(FixingRule):
    """Nails for studs, plates, noggins, openings, corners, floors and roofs.

    Straight through where the nail reaches, else skewed; shorter ones where timber is thin.
    """

    examples: ClassVar[Sequence[Mapping[str, Any]]] = (
        {"rule": "framing-nails"},
        {"rule": "framing-nails", "diameter": 3.75, "length": 90, "shank": "smooth"},
    )

    rule: Literal["framing-nails"] = "framing-nails"
    diameter: Annotated[AnyLength, Limits(2.0, 6.0)] = 3.1
    """Of the usual nails."""
    length: Annotated[AnyLength, Limits(40.0, 200.0)] = 90.0
    """Of the usual nails."""
    skew_diameter: Annotated[AnyLength, Limits(2.0, 6.0)] = 2.8
    """Of those that are skewed."""
    skew_length: Annotated[AnyLength, Limits(40.0, 200.0)] = 63.0
    """Of those that are skewed."""
    shank: Literal["smooth", "ring"] = "ring"
    """What their shanks are like."""

    def fix(self, joint: Joint) -> JointFixing | None:
        """Return how many nails a joint takes; nothing for trim, or for roles that plugins bring."""
        if not joint.roles <= ROLES.keys():
            return None
        if "soffit" in joint.roles:
            return self._soffit(joint)
        if joint.roles <= TRIM:
            return None
        if joint.kind == "end":
            return self._end(joint)
        if joint.kind in ("splice", "corner"):
            return self._between(joint)
        if joint.kind == "base":
            if min(joint.along, joint.across) < LEAST_SEAT or "threshold" in joint.roles:
                return JointFixing((), HELD_BY_RIM)
            return self._sole(joint)
        if joint.roles & BRACES:
            return JointFixing((*self._group(joint, 2), self._skew(2)), BRACE)
        return self._crossing(joint) if joint.crosses else self._beside(joint)

    def _end(self, joint: Joint) -> JointFixing:
        """An end on a side."""
        through, into = joint.through.role, joint.into.role
        if "packer" in joint.roles:
            return JointFixing((), HELD_BY_PLIES)
        if "blocking" in joint.roles and joint.roles & {*PLATE_ROLES, "ridge board"}:
            return JointFixing((), HELD_BY_SEAT)
        count = 3 if max(joint.along, joint.across) > TALL else 2
        if through in PLATE_ROLES and _stands(into):
            return JointFixing((self._through(2), self._skew(4), self._skew(2)), STUD_TO_PLATE)
        if into == "lintel":
            return JointFixing((self._through(count), self._skew(4), self._skew(2)), LINTEL_END)
        if into in RAFTERS and through == "ridge board":
            return JointFixing((self._through(2), self._skew(3), self._skew(2)), RIDGE)
        if into == "joist" and through == "rim joist":
            return JointFixing((self._through(3), self._skew(3), self._skew(2)), RIM)
        if into in RAFTERS or into == "joist":
            return JointFixing((self._through(count), self._skew(3), self._skew(2)), PRACTICE)
        if into == "noggin" and joint.into.part != "wall":
            return JointFixing((self._through(2), self._skew(2)), BLOCKING)
        if _stands(into):
            return JointFixing((self._through(2), self._skew(4), self._skew(2)), STUD_TO_PLATE)
        return JointFixing((self._through(count), self._skew(2)), NOGGIN if into == "noggin" else PRACTICE)

    def _between(self, joint: Joint) -> JointFixing:
        """Two ends, or two walls."""
        if joint.kind == "corner" and joint.crosses and joint.roles <= PLATE_ROLES and _is_lap(joint):
            return JointFixing(tuple(self._group(joint, 2)), LAPS)
        if joint.kind == "corner" and _stands(joint.through.role) and _stands(joint.into.role):
            return JointFixing(tuple(self._rows(joint, PLATE_CENTRES, CORNER_FROM_ENDS)), CORNER)
        return JointFixing((), HELD_BY_OTHERS)

    def _crossing(self, joint: Joint) -> JointFixing:
        """Sides that cross: what lies on a plate or a bearer is skewed, what lies beside another nailed."""
        if joint.roles & RAFTERS and joint.roles & PLATE_ROLES:
            return JointFixing((self._skew(3), self._skew(2)), RAFTER_SEAT)
        if "bearer" in joint.roles:
            return JointFixing((self._skew(3), self._skew(2)), JOIST_SEAT)
        if "tie" in joint.roles and joint.roles & PLATE_ROLES:
            return JointFixing((self._skew(3), self._skew(2)), TIE_SEAT)
        if "tie" in joint.roles:
            return JointFixing(tuple(self._group(joint, 3)), TIE)
        if joint.roles & PLATE_ROLES and "slope" in (joint.through.part, joint.into.part):
            return JointFixing((*self._group(joint, 2), self._skew(3), self._skew(2)), ON_PLATE)
        return JointFixing((*self._group(joint, 2), self._skew(2)), PRACTICE)

    def _sole(self, joint: Joint) -> JointFixing:
        """A sole plate on a floor."""
        if not joint.braced:
            return JointFixing(tuple(self._rows(joint, PLATE_CENTRES)), SOLE)
        if joint.along <= PLATE_CENTRES:
            return JointFixing((*self._group(joint, 3), *self._rows(joint, PLATE_CENTRES)), SOLE_BRACED)
        return JointFixing(tuple(self._rows(joint, PLATE_CENTRES / 3)), SOLE_BRACED)

    def _beside(self, joint: Joint) -> JointFixing:
        """Sides along each other."""
        if "blocking" in joint.roles and joint.roles & PLATE_ROLES:
            return JointFixing((self._skew(3), self._skew(2)), BLOCKING_SEAT)
        if "bearer" in joint.roles:
            count = min(max(math.ceil(joint.along / RIM_CENTRES), 2), MOST)
            return JointFixing((self._skew(count), self._skew(2)), RIM_SEAT)
        if "lintel" in joint.roles and len(joint.roles) == 1:
            return JointFixing(tuple(self._rows(joint, PLATE_CENTRES, rows=2)), LINTEL_PLIES)
        if joint.roles <= PLATE_ROLES and joint.spliced:
            close = (joint.along - 2 * FROM_ENDS) / (IN_SPLICE - 1)
            return JointFixing(tuple(self._rows(joint, min(PLATE_CENTRES, max(close, LEAST_APART)))), SPLICED)
        if joint.roles <= PLATE_ROLES:
            return JointFixing(tuple(self._rows(joint, PLATE_CENTRES)), PLATES)
        if _stands(joint.through.role) and _stands(joint.into.role):
            return JointFixing(tuple(self._rows(joint, UPRIGHT_CENTRES)), UPRIGHTS)
        return JointFixing(tuple(self._rows(joint, PACKER_CENTRES)), PRACTICE)

    def _soffit(self, joint: Joint) -> JointFixing:
        """A soffit under what it is nailed up to, with nails as short as hold it."""
        if not joint.roles & {*RAFTERS, "rung"} or joint.into.role == "soffit":
            return JointFixing((), HELD_BY_RAFTERS)
        long = sorted({self.length, *SHORTER})
        nail = self._nail(next((each for each in long if each >= TIMES_HELD * joint.thickness), self.length))
        centres = None if joint.crosses else PACKER_CENTRES
        count = SOFFIT_NAILS if joint.crosses else None
        return JointFixing((FixingWay("face", nail, count, centres, FROM_ENDS),), PRACTICE)

    def _through(self, count: int) -> FixingWay:
        return FixingWay("through", self._nail(self.length), count)

    def _skew(self, count: int) -> FixingWay:
        return FixingWay("skew", Fastener("nail", self.skew_diameter, self.skew_length, self.shank), count)

    def _group(self, joint: Joint, count: int) -> Iterator[FixingWay]:
        for nail in self._fitting(joint):
            yield FixingWay("face", nail, count)

    def _rows(
        self, joint: Joint, centres: float, from_ends: float = FROM_ENDS, rows: int = 1
    ) -> Iterator[FixingWay]:
        for nail in self._fitting(joint):
            yield FixingWay("face", nail, None, centres, from_ends, rows)

    def _fitting(self, joint: Joint) -> Iterator[Fastener]:
        """The longest nail that ends within the second piece, then shorter ones."""
        deepest = joint.thickness + joint.reach - UNDER_FACE
        lengths = [self.length, *(each for each in SHORTER if each < self.length)]
        fitting = [length for length in lengths if joint.thickness < length <= deepest]
        for length in fitting[:3] or lengths[-1:]:
            yield self._nail(length)

    def _nail(self, length: float) -> Fastener:
        thin = length < SHORTER[0] and length < self.length
        return Fastener(
            "nail", min(self.diameter, THIN_DIAMETER) if thin else self.diameter, length, self.shank
        )


def _stands(role: str) -> bool:
    return ROLES[role].lies == "upright"


def _is_lap(joint: Joint) -> bool:
    """Whether one plate lies on the other, not against its side: then they touch over both breadths."""
    return min(joint.along, joint.across) >= min(joint.through.section.depth, joint.into.section.depth) - 1.0
