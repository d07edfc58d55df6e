"""Braces cut in: pieces of the wall's own timber between the studs, in one line from plate to plate."""

from __future__ import annotations

import itertools
import math
from collections.abc import Mapping, Sequence
from typing import Annotated, Any, ClassVar, Final, Literal

from pydantic import Field

from soleplate.engine.rules import (
    NAILING_ROOM,
    PRACTICE,
    TOUCH,
    Brace,
    Braced,
    EndFixing,
    FindingKind,
    Member,
    MmList,
    Outline,
    Wall,
    clip,
    overlap,
)
from soleplate.plugins.bracing.diagonals import Diagonal, Rises
from soleplate.plugins.bracing.placing import Diagonals

SKEWED: Final = EndFixing(2, "skew")
"""Two at an end, so that the piece cannot turn (common practice, no source)."""

LEAST_BREADTHS: Final = 3.0
"""Of its breadth: so long is the last piece where there is a choice (common practice, no source)."""

NOGGINS_FOR_BRACE: Final = FindingKind(
    "noggins-for-brace",
    "note",
    PRACTICE,
    "{number:g} of the noggins are left out, in the bays at {where}: a brace runs there, and holds the"
    " studs; what is fixed to a noggin there needs a piece of its own",
)

Span = tuple[float, float]


class CutInBraces(Diagonals):
    """Pieces cut in between the studs, in one line from the sole plate up to the top plate.

    They need no timber of another size, and keep the faces of the wall flat. Both ends of each piece are
    mitred to its stud. Noggins that the line meets are left out.
    """

    examples: ClassVar[Sequence[Mapping[str, Any]]] = (
        {"rule": "cut-in"},
        {"rule": "cut-in", "ends": "right", "angle": 50},
    )
    least: ClassVar[float] = 35.0
    most: ClassVar[float] = 60.0

    rule: Literal["cut-in"] = "cut-in"
    angle: Annotated[float, Field(ge=35.0, le=60.0)] | None = None
    """From level, in degrees; else as near to 45 as there is room for."""

    def brace_wall(self, wall: Wall) -> Braced:
        """Return the braces of a wall; see `BracingRule`.

        Raises:
            CannotFrame: there is no room for one.
        """
        braces, found = self._placed(wall)
        pieces = [member.outline for brace in braces for member in brace.members]
        gone = tuple(
            member
            for member in wall.members
            if member.role == "noggin" and any(overlap(piece, member.outline) for piece in pieces)
        )
        if gone:
            where = MmList(tuple(sorted({member.left for member in gone}))[:12])
            found.append(NOGGINS_FOR_BRACE.of(value=float(len(gone)), number=float(len(gone)), where=where))
        return Braced(tuple(braces), gone, findings=tuple(found))

    def _corners(self, wall: Wall, rises: Rises) -> Sequence[float]:
        bays = [bay for bay in bays_of(wall) if bay[1] - bay[0] >= NAILING_ROOM]
        return [left for left, _ in bays] if rises == "right" else [right for _, right in reversed(bays)]

    def _angle_between(self, wall: Wall, foot: float, head: float) -> float | None:
        if abs(head - foot) < TOUCH:
            return None
        up = wall.underside.at(head) - wall.sole_thickness
        return math.degrees(math.atan2(up, abs(head - foot)))

    def _in_the_way(self, wall: Wall) -> Sequence[tuple[str, Outline]]:
        """Timbers of openings, packers of corners, and other braces."""
        return [(f"a {m.role}", m.outline) for m in wall.members if not _gives_way(wall, m)]

    def _laid(self, wall: Wall, foot: float, angle: float, rises: Rises) -> tuple[Brace, ...]:
        diagonal = Diagonal((foot, wall.sole_thickness), angle, rises, wall.breadth)
        bays = bays_of(wall)
        region = between_plates(wall, bays[0][0], bays[-1][1]) if bays else ()
        ends = diagonal.centre_line(region) if region else None
        if ends is None:
            return ()
        (near, low), (head, high) = ends
        # An end stud cuts it where it is not up under the top plate yet.
        if abs(low - wall.sole_thickness) > TOUCH or abs(high - wall.underside.at(head)) > TOUCH:
            return ()
        start, end = min(near, head), max(near, head)
        bays = [bay for bay in bays if bay[0] < end and start < bay[1]]
        pieces = [piece for bay in bays if (piece := self._piece(wall, diagonal, bay))]
        if not pieces or (self._is_free and _ends_short(wall, diagonal, bays)):
            return ()
        whole = diagonal.band(region)
        return (
            Brace(
                foot=ends[0],
                head=ends[1],
                width=wall.breadth,
                length=max(diagonal.length(piece) for piece in (whole, *pieces)),
                outline=whole,
                members=tuple(
                    Member(
                        "brace", wall.section, piece, (0.0, wall.section.depth), diagonal.grain,
                        fixings=(SKEWED, SKEWED),
                    )
                    for piece in pieces
                ),
            ),
        )  # fmt: skip

    @property
    def _is_free(self) -> bool:
        """Whether it may be steeper or flatter."""
        return self.angle is None and self.from_ is None

    def _piece(self, wall: Wall, diagonal: Diagonal, bay: Span) -> Outline:
        """What lies in a bay; nothing where the centre line is hardly in it.

        A sliver splits when it is nailed; the piece beside it reaches the plate.
        """
        region = between_plates(wall, *bay)
        ends = diagonal.centre_line(region)
        if ends is None or math.dist(*ends) < wall.breadth:
            return ()
        return diagonal.band(region)


def _ends_short(wall: Wall, diagonal: Diagonal, bays: Sequence[Span]) -> bool:
    """Whether the piece under the top plate would be a wedge beside a stud, hardly longer than broad."""
    for bay in bays:
        ends = diagonal.centre_line(between_plates(wall, *bay))
        if ends is not None and abs(ends[1][1] - wall.underside.at(ends[1][0])) < TOUCH:
            return math.dist(*ends) < LEAST_BREADTHS * wall.breadth
    return False


def _gives_way(wall: Wall, member: Member) -> bool:
    """Whether a brace may be cut in where a member is: between studs and plates, in place of noggins."""
    role = wall.roles[member.role]
    return role.full_height or role.past_ends or member.role in ("sole plate", "raked plate", "noggin")


def bays_of(wall: Wall) -> list[Span]:
    """The clear spaces between timbers from plate to plate, left to right; those side by side are one."""
    spans: list[Span] = []
    for member in sorted(wall.members, key=lambda member: member.left):
        if wall.roles[member.role].full_height:
            if spans and member.left < spans[-1][1] + 1.0:
                spans[-1] = (spans[-1][0], max(spans[-1][1], member.right))
            else:
                spans.append((member.left, member.right))
    return [(one[1], other[0]) for one, other in itertools.pairwise(spans)]


def between_plates(wall: Wall, left: float, right: float) -> Outline:
    """The face between two places, from the sole plate to the underside of the top plate."""
    top = wall.underside.between(left, right)
    low = wall.sole_thickness
    if min(z for _, z in top) <= low + TOUCH:
        return ()
    outline: Outline = ((left, low), (right, low), *reversed(top))
    return clip(outline, (left, low), (right, low))
