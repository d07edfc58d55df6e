"""Let-in braces: a board let flush into one face of studs and plates."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Annotated, Any, ClassVar, Final, Literal

from pydantic import Field

from soleplate.engine.rules import (
    PRACTICE,
    TOUCH,
    Brace,
    Braced,
    CannotFrame,
    Goods,
    GoodsKind,
    Member,
    Mm,
    Name,
    Outline,
    Section,
    SectionField,
    Wall,
    at_most,
)
from soleplate.plugins.bracing.diagonals import Diagonal, Rises, corner_to_corner, from_corner, whole_band
from soleplate.plugins.bracing.placing import Diagonals

LET_IN: Final = "IRC Table R602.10.4, as published by UpCodes"
"""A board 1 in by 4 in let in at 45 to 60 degrees, studs at most 16 in apart; two nails 2 1/2 in long into
each stud and plate."""

STEP: Final = 50.0
"""mm between the places at which a foot is tried off the studs."""

NAILS: Final = 2
NAIL: Final = (3.3, 63.5)
"""mm: 0.131 by 2 1/2 in."""
NAIL_KIND: Final = GoodsKind("brace nail", "piece", 0.1, PRACTICE)

DEEPEST: Final = 0.5
"""Of a stud's depth: more than half of it cut away leaves too little (common practice, no source)."""


class LetInBraces(Diagonals):
    """One board let flush into the studs and both plates, nailed to each.

    The cutting list tells the housing of every stud: how deep, how wide, at what angle. Cut them with the
    frame lying square, the board laid on it as the pattern.
    """

    examples: ClassVar[Sequence[Mapping[str, Any]]] = (
        {"rule": "let-in"},
        {"rule": "let-in", "ends": "left", "section": [19, 89], "face": "inside", "angle": 50},
    )
    least: ClassVar[float] = 45.0
    most: ClassVar[float] = 60.0

    rule: Literal["let-in"] = "let-in"
    angle: Annotated[float, Field(ge=45.0, le=60.0)] | None = None
    """From level, in degrees; else as near to 45 as there is room for."""
    section: SectionField = Section(25.0, 100.0)
    """Of the board, as [thickness, width]."""
    material: Name | None = None
    """What it is of; else of the frame's."""
    face: Literal["outside", "inside"] = "outside"
    """The face of the frame that it is let into."""

    def brace_wall(self, wall: Wall) -> Braced:
        """Return the braces of a wall; see `BracingRule`.

        Raises:
            CannotFrame: there is no room for one, or it is as thick as to cut the studs through.
        """
        thick = self.section[0]
        if thick > DEEPEST * wall.section.depth:
            raise CannotFrame(
                "a board {thick} thick leaves too little of studs {deep} deep; accepted is up to {most}",
                thick=Mm(thick),
                deep=Mm(wall.section.depth),
                most=at_most(DEEPEST * wall.section.depth),
            ).at("section")
        braces, found = self._placed(wall)
        nails = sum(2 * NAILS + NAILS * len(brace.crossed(wall.members)) for brace in braces)
        goods = Goods(NAIL_KIND, float(nails), NAIL, joins=True)
        return Braced(tuple(braces), goods=(goods,), findings=tuple(found))

    def _corners(self, wall: Wall, rises: Rises) -> Sequence[float]:
        return corners_of(wall, rises)

    def _off_studs(self, wall: Wall, rises: Rises) -> Sequence[float]:
        return every_so_far(wall, rises)

    def _angle_between(self, wall: Wall, foot: float, head: float) -> float | None:
        made = corner_to_corner((foot, 0.0), (head, top_at(wall, head)), self.section[1])
        return None if made is None else made.angle

    def _in_the_way(self, wall: Wall) -> Sequence[tuple[str, Outline]]:
        """Timbers of openings, which are not to be weakened, and other braces, where they are as deep."""
        near, far = self._depth(wall)
        return [
            (f"a {m.role}", m.outline)
            for m in wall.members
            if not _may_be_housed(wall, m) and m.depth[0] < far - TOUCH and m.depth[1] > near + TOUCH
        ]

    def _laid(self, wall: Wall, foot: float, angle: float, rises: Rises) -> tuple[Brace, ...]:
        thick, width = self.section
        diagonal = from_corner((foot, 0.0), angle, rises, width)
        outline, ends = whole_band(wall, diagonal), diagonal.centre_line(wall.outline)
        if outline is None or ends is None:
            return ()
        board = Member(
            "let-in brace", Section(thick, width), outline, self._depth(wall), diagonal.grain,
            material=self.material,
        )  # fmt: skip
        return (_brace(diagonal, outline, ends, board),)

    def _depth(self, wall: Wall) -> tuple[float, float]:
        thick, deep = self.section[0], wall.section.depth
        return (0.0, thick) if self.face == "outside" else (deep - thick, deep)


def _brace(
    diagonal: Diagonal, outline: Outline, ends: tuple[tuple[float, float], tuple[float, float]], board: Member
) -> Brace:
    return Brace(
        foot=ends[0],
        head=ends[1],
        width=diagonal.breadth,
        length=diagonal.length(outline),
        outline=outline,
        members=(board,),
        let_in=True,
        at_ends=NAILS,
        at_crossings=NAILS,
    )


def _may_be_housed(wall: Wall, member: Member) -> bool:
    role = wall.roles[member.role]
    return (
        role.full_height or role.past_ends or member.role in ("sole plate", "raked plate", "noggin", "packer")
    )


def corners_of(wall: Wall, rises: Rises) -> list[float]:
    """Where a foot may be: in the end of the wall, then at the near faces of studs, from that end on."""
    studs = [member for member in wall.members if wall.roles[member.role].full_height]
    if rises == "right":
        return sorted({0.0, *(round(member.left, 6) for member in studs)})
    return sorted({wall.length, *(round(member.right, 6) for member in studs)}, reverse=True)


def every_so_far(wall: Wall, rises: Rises) -> list[float]:
    """Places along a wall at even steps, from the end that a brace rises from."""
    steps = [step * STEP for step in range(1, int(wall.length / STEP))]
    return steps if rises == "right" else [wall.length - step for step in steps]


def top_at(wall: Wall, x: float) -> float:
    """How high the wall is there, its plates included, mm."""
    return max(
        (
            z0 + (x - x0) / (x1 - x0) * (z1 - z0)
            for (x1, z1), (x0, z0) in zip(wall.outline, (*wall.outline[1:], wall.outline[0]), strict=True)
            if min(x0, x1) <= x <= max(x0, x1) and x0 != x1
        ),
        default=0.0,
    )
