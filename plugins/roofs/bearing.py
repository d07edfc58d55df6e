"""Whether rafters bear near enough to studs."""

from __future__ import annotations

import itertools
from collections.abc import Iterator, Sequence
from typing import Final

from soleplate.engine.rules import Finding, FindingKind, Mm, RoofShape, at_most

WIDE_STUDS: Final = 600.0
WIDE_RAFTERS: Final = 406.4
NEAR: Final = 127.0
"""mm. Where studs stand 24 in apart, what bears on them at more than 16 in bears within 5 in of a stud (IBC
2018 2308.5.3.2, IRC R602.3.3); studs at 600 count as such."""

OFF_STUDS: Final = FindingKind(
    "rafter-off-studs",
    "note",
    "IBC 2018 2308.5.3.2, IRC R602.3.3",
    "{count} rafters rest on wall {wall} more than {near} from a stud, {furthest} at the most: where"
    " studs stand"
    " 24 in apart and rafters over 16 in, each is to rest that near to one, or on a third plate",
)


def far_from_studs(shape: RoofShape, lefts: Sequence[float], breadth: float) -> Iterator[Finding]:
    """Where studs and rafters stand so far apart that each rafter is to rest near a stud, and some do not."""
    for slope in shape.slopes:
        places = lefts if slope is shape.slopes[0] else [slope.length - x - breadth for x in lefts]
        centres = sorted(x + breadth / 2 for x in places)
        widest = max((b - a for a, b in itertools.pairwise(centres)), default=0.0)
        for plate in slope.plates:
            studs = [stud + breadth / 2 for stud in plate.studs]
            apart = max((b - a for a, b in itertools.pairwise(studs)), default=0.0)
            if apart < WIDE_STUDS or widest <= WIDE_RAFTERS:
                continue
            off = [min(abs(stud - centre) for stud in studs) for centre in centres]
            far = [distance for distance in off if distance > NEAR]
            if far:
                yield OFF_STUDS.of(
                    part=f"roof {slope.wall}",
                    value=round(max(far), 3),
                    limit=NEAR,
                    count=len(far),
                    wall=plate.wall,
                    near=at_most(NEAR),
                    furthest=Mm(max(far), ".0f"),
                )
