"""Straps that tie roofs and floors down against uplift by wind."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Annotated, Any, ClassVar, Final, Literal

from pydantic import Field

from soleplate.engine.rules import AnyLength, Fastener, FixingRule, Joint, JointFixing, Limits, Seat, Tie

TIED: Final = (
    "common practice, no source: what uplift there is, and what straps take, is for whoever checks the roof"
)


class UpliftStraps(FixingRule):
    """Steel straps from each rafter past the plates to a stud, and from bearers to their pads.

    Nailed at both ends; one to a pad is held by the pad itself. They are advice, and no calculation.
    """

    examples: ClassVar[Sequence[Mapping[str, Any]]] = (
        {"rule": "uplift-straps"},
        {"rule": "uplift-straps", "width": 25, "thickness": 1.2, "length": 400, "nails": 6},
    )

    rule: Literal["uplift-straps"] = "uplift-straps"
    width: Annotated[AnyLength, Limits(10.0, 100.0)] = 30.0
    """Of a strap."""
    thickness: Annotated[AnyLength, Limits(0.5, 6.0)] = 1.5
    """Of a strap."""
    length: Annotated[AnyLength, Limits(100.0, 2_000.0)] = 300.0
    """Of a strap besides the plates that it runs past: half above them and half below."""
    nails: Annotated[int, Field(ge=2, le=20)] = 4
    """At each end."""
    nail_diameter: Annotated[AnyLength, Limits(2.0, 6.0)] = 3.75
    """Of a nail."""
    nail_length: Annotated[AnyLength, Limits(20.0, 100.0)] = 30.0
    """Of a nail."""

    def fix(self, joint: Joint) -> JointFixing | None:
        """Return nothing: straps add to what fixes a joint."""
        return None

    def tie(self, seat: Seat) -> Tie:
        """Return the strap."""
        nail = Fastener("nail", self.nail_diameter, self.nail_length, "ring")
        return Tie(
            name="uplift strap",
            width=self.width,
            thickness=self.thickness,
            length=self.length + seat.between,
            fastener=nail,
            each_end=self.nails,
            basis=TIED,
        )
