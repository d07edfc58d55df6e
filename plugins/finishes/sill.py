"""Sills: the board that a window stands on, and the groove under it from which water drips."""

from __future__ import annotations

from typing import Annotated, Final

from soleplate.engine.rules import AnyLength, Finding, FindingKind, Limits, Mm, Model, at_least

SILLS: Final = "Ontario Building Code, appendix note A-9.27.3.8.(5)"
"""A sill slopes outwards, ends at the jambs, and has a drip at least 5 mm out from the cladding below."""

LEAST_DRIP: Final = 5.0
"""mm from the face of the cladding to the drip (`SILLS`)."""

GROOVE_BEHIND: Final = 6.0
"""mm from a sill's front edge to its groove (common practice, no source)."""
GROOVE_WIDE: Final = 6.0
GROOVE_DEEP: Final = 4.0
"""mm of the groove itself (common practice, no source)."""

FALL: Final = 8
"""A sill falls by 1 in so many: between 1 in 8 and 1 in 10 in a manual of joinery."""

SILL_THROAT: Final = FindingKind(
    "sill-throat",
    "note",
    SILLS,
    "plane the top of its sill to fall outwards by 1 in {fall} from the lining on, and run a groove {wide}"
    " wide and {deep} deep along its underside, {behind} behind the front edge: it drips {clear} out from"
    " what lies below",
)
SILL_SHORT: Final = FindingKind(
    "sill-short",
    "warn",
    SILLS,
    "its sill drips {clear} out from what lies below; accepted is {least} or more, with a projection of"
    " {projection}",
)


class Sill(Model):
    """A board under a window, which stands out over what lies below it."""

    thickness: Annotated[AnyLength, Limits(12.0, 150.0)] = 32.0
    """Of the board."""
    projection: Annotated[AnyLength, Limits(0.0, 200.0)] = 35.0
    """How far it stands out over the face of the cladding, or of the frame where that is bare."""

    def found(self) -> Finding:
        """How its groove is run, or that it stands out too little for one."""
        taken = GROOVE_BEHIND + GROOVE_WIDE
        clear = self.projection - taken
        if clear < LEAST_DRIP:
            return SILL_SHORT.of(
                value=max(clear, 0.0),
                limit=LEAST_DRIP,
                clear=Mm(max(clear, 0.0)),
                least=at_least(LEAST_DRIP),
                projection=at_least(LEAST_DRIP + taken),
            )
        return SILL_THROAT.of(
            value=clear,
            limit=LEAST_DRIP,
            fall=FALL,
            wide=Mm(GROOVE_WIDE),
            deep=Mm(GROOVE_DEEP),
            behind=Mm(GROOVE_BEHIND),
            clear=Mm(clear),
        )
