"""Corner rules: what stands at a corner besides the end stud, and where a partition meets a wall."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import Literal

from soleplate.engine.hookspecs import hookimpl
from soleplate.engine.members import Member, upright
from soleplate.engine.outline import Tee
from soleplate.engine.rules import Corner, CornerRule, PlatedWall
from soleplate.engine.timber import Section

ROLE = "corner stud"


class PlainCorner(CornerRule):
    """End studs alone at a corner, and one stud in the middle of a tee."""

    rule: Literal["plain"] = "plain"
    """Picks this rule."""

    stands_in = True
    examples = ({"rule": "plain"},)

    def lay_corner(self, corner: Corner) -> Sequence[Member]:
        """Nothing besides the end stud."""
        return ()

    def lay_tee(self, tee: Tee, wall: PlatedWall) -> Sequence[Member]:
        """One stud centred on the partition, to fix its end stud to."""
        return _studs(wall, [tee.centre - wall.breadth / 2])


class ThreeStudCorner(CornerRule):
    """A third stud, turned flat against the end stud, so that the lining has something to be nailed to."""

    rule: Literal["three-stud"] = "three-stud"
    """Picks this rule."""

    examples = ({"rule": "three-stud"},)

    def lay_corner(self, corner: Corner) -> Sequence[Member]:
        """A stud turned flat in the wall that runs through: at the inside, or outside a re-entrant corner."""
        wall = corner.wall
        if corner.meets.kind != "through":
            return ()
        left = corner.left_face(wall.breadth, wall.depth)
        flat = upright(ROLE, Section(wall.depth, wall.breadth), left, wall.sole_thickness, wall.underside)
        if flat is None:
            return ()
        depth = (0.0, wall.breadth) if corner.meets.reentrant else (wall.depth - wall.breadth, wall.depth)
        return (Member(ROLE, wall.section, flat.outline, depth, flat.grain),)

    def lay_tee(self, tee: Tee, wall: PlatedWall) -> Sequence[Member]:
        """Two studs, each half behind a face of the partition and half beside it for the lining."""
        apart = max(tee.depth, wall.breadth)
        return _studs(
            wall, [tee.centre - apart / 2 - wall.breadth / 2, tee.centre + apart / 2 - wall.breadth / 2]
        )


def _studs(wall: PlatedWall, lefts: Iterable[float]) -> list[Member]:
    studs = (upright(ROLE, wall.section, left, wall.sole_thickness, wall.underside) for left in lefts)
    return [stud for stud in studs if stud is not None]


@hookimpl
def register_corner_rules() -> Iterable[type[CornerRule]]:
    """The corner rules that ship with Soleplate."""
    return [PlainCorner, ThreeStudCorner]
