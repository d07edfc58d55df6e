"""Rules that make corners, and tees where a partition meets a wall, so that linings can be nailed.

The end studs of both walls are there already. What a rule adds stands in the wall that runs through.
"""

from __future__ import annotations

import math
from abc import ABC, abstractmethod
from collections.abc import Iterator, Mapping, Sequence
from typing import Any, ClassVar, Final, Literal

from soleplate.engine.rules import (
    TOUCH,
    Corner,
    CornerRule,
    Member,
    Section,
    Tee,
    TopLine,
    Wall,
    WallEnd,
    hookimpl,
    upright,
)

BLOCK: Final = 300.0
"""mm. The length of a block between studs (common practice, no source)."""

LEDGE: Final = 20.0
"""mm of a corner stud that a lining needs beside the neighbour's face (common practice, no source)."""

LEAST_BLOCK: Final = 10.0
"""mm. Thinner blocks split (common practice, no source)."""


class Nailing(CornerRule, ABC):
    """Base of the corner rules of this module: what would overlap what stands already is left out."""

    def lay_corner(self, corner: Corner) -> Sequence[Member]:
        """Return what stands beside the end stud of a wall that runs through; see `CornerRule`."""
        if corner.meets.kind != "through":
            return ()
        wall = corner.wall
        made = list(self.at_corner(corner))
        free = (2 * wall.breadth, wall.length - 2 * wall.breadth)
        inner = (wall.breadth, free[1]) if corner.end == "left" else (free[0], wall.length - wall.breadth)
        if any(m.left < inner[0] - TOUCH or m.right > inner[1] + TOUCH for m in made):
            return ()
        if corner.end == "right" and _overlaps(made, _spans(self._left_corner(wall))):
            return ()
        return made

    def lay_tee(self, tee: Tee, wall: Wall) -> Sequence[Member]:
        """Return what stands behind a partition; see `CornerRule`. An end stud there serves as well."""
        ends = [(-math.inf, wall.breadth), (wall.length - wall.breadth, math.inf)]
        right = Corner(wall, "right", wall.ends[1])
        taken = [*ends, *_spans(self._left_corner(wall)), *_spans(self.lay_corner(right))]
        for other in wall.tees:
            made = [member for member in self.at_tee(other, wall) if not _overlaps([member], taken)]
            if other == tee:
                return made
            taken += _spans(made)
        return ()

    def _left_corner(self, wall: Wall) -> Sequence[Member]:
        return self.lay_corner(Corner(wall, "left", wall.ends[0]))

    @abstractmethod
    def at_corner(self, corner: Corner) -> Iterator[Member]:
        """What goes beside the end stud of a wall that runs through."""

    @abstractmethod
    def at_tee(self, tee: Tee, wall: Wall) -> Iterator[Member]:
        """What goes behind a partition."""


def _spans(members: Sequence[Member]) -> list[tuple[float, float]]:
    return [(member.left, member.right) for member in members]


def _overlaps(members: Sequence[Member], taken: Sequence[tuple[float, float]]) -> bool:
    return any(m.left < right - TOUCH and m.right > left + TOUCH for m in members for left, right in taken)


def _stud(wall: Wall, left: float) -> Iterator[Member]:
    """A full corner stud with its left face at `left` mm; none where the wall is too low."""
    stud = upright("corner stud", wall.section, left, wall.sole_thickness, wall.underside)
    if stud is not None:
        yield stud


def _flat_stud(corner: Corner, wall: Wall) -> Iterator[Member]:
    """A stud turned flat against the end stud, at the inside, or the outside of a re-entrant corner.

    One that is no deeper than broad is not turned: that would gain nothing.
    """
    if wall.depth <= wall.breadth:
        yield from _stud(wall, corner.left_face(wall.breadth, wall.breadth))
        return
    section = Section(wall.depth, wall.breadth)
    left = corner.left_face(wall.breadth, section.breadth)
    stud = upright("corner stud", section, left, wall.sole_thickness, wall.underside)
    if stud is not None:
        start = 0.0 if corner.meets.reentrant else wall.depth - wall.breadth
        yield Member(stud.role, wall.section, stud.outline, (start, start + wall.breadth), stud.grain)


def _blocks(wall: Wall, left: float, width: float) -> Iterator[Member]:
    """Upright blocks at the bottom, in the middle and at the top, as many as the height has room for."""
    bottom, line = wall.sole_thickness, wall.underside
    top = line.lowest(left, left + width)
    room = top - bottom
    if room <= 0:
        return
    section = Section(width, wall.depth)
    places: list[tuple[float, TopLine]] = []
    if room < 2 * BLOCK:
        places.append((bottom, _level(min(bottom + BLOCK, top))))
    else:
        places.append((bottom, _level(bottom + BLOCK)))
        if room >= 3 * BLOCK:
            middle = (bottom + top) / 2
            places.append((middle - BLOCK / 2, _level(middle + BLOCK / 2)))
        places.append((top - BLOCK, line))
    for foot, head in places:
        block = upright("packer", section, left, foot, head)
        if block is not None:
            yield block


def _level(height: float) -> TopLine:
    return TopLine(((0.0, height), (1.0, height)))


def _tee_faces(tee: Tee, breadth: float) -> tuple[float, float]:
    """Left faces of two studs centred on the partition's faces, or side by side where it is too thin."""
    reach = max(tee.depth / 2 + breadth / 2, breadth)
    return tee.centre - reach, tee.centre + reach - breadth


class Plain(Nailing):
    """Nothing but the end studs at a corner, and one stud behind a partition."""

    stands_in: ClassVar[bool] = True
    examples: ClassVar[Sequence[Mapping[str, Any]]] = ({"rule": "plain"},)

    rule: Literal["plain"] = "plain"

    def at_corner(self, corner: Corner) -> Iterator[Member]:
        """Nothing."""
        yield from ()

    def at_tee(self, tee: Tee, wall: Wall) -> Iterator[Member]:
        """One stud on the partition's centre line."""
        yield from _stud(wall, tee.centre - wall.breadth / 2)


class ThreeStud(Nailing):
    """A third stud at each corner, turned flat against the end stud, and two studs behind a partition.

    They give the lining of both walls an edge to be nailed to (at least three studs at an outer corner:
    IBC 2018 2308.5.2).
    """

    examples: ClassVar[Sequence[Mapping[str, Any]]] = ({"rule": "three-stud"},)

    rule: Literal["three-stud"] = "three-stud"

    def at_corner(self, corner: Corner) -> Iterator[Member]:
        """One stud turned flat."""
        yield from _flat_stud(corner, corner.wall)

    def at_tee(self, tee: Tee, wall: Wall) -> Iterator[Member]:
        """A stud under each face of the partition, half of it beside the face."""
        for left in _tee_faces(tee, wall.breadth):
            yield from _stud(wall, left)


class Boxed(Nailing):
    """A corner post: the end stud, blocks, and a second full stud, so far in that the lining finds it.

    Behind a partition stand two studs with blocks between them.
    """

    examples: ClassVar[Sequence[Mapping[str, Any]]] = ({"rule": "boxed"},)

    rule: Literal["boxed"] = "boxed"

    def at_corner(self, corner: Corner) -> Iterator[Member]:
        """Layers of blocks, and a stud that shows at least 20 mm beside the neighbour's inner face."""
        wall = corner.wall
        layers = _layers(corner.meets, wall.breadth)
        for layer in range(1, layers + 1):
            yield from _blocks(wall, corner.left_face(layer * wall.breadth, wall.breadth), wall.breadth)
        yield from _stud(wall, corner.left_face((layers + 1) * wall.breadth, wall.breadth))

    def at_tee(self, tee: Tee, wall: Wall) -> Iterator[Member]:
        """A stud under each face of the partition, with blocks in the gap between them."""
        left, right = _tee_faces(tee, wall.breadth)
        yield from _stud(wall, left)
        gap = right - left - wall.breadth
        if gap >= LEAST_BLOCK:
            yield from _blocks(wall, left + wall.breadth, gap)
        yield from _stud(wall, right)


def _layers(end: WallEnd, breadth: float) -> int:
    """How many layers of blocks bring the second stud past the neighbour's inner face, with a ledge."""
    return max(1, math.ceil((end.neighbour_depth + LEDGE - 2 * breadth) / breadth - 1e-9))


@hookimpl
def register_rules() -> list[type[CornerRule]]:
    """Offer the rules of this module."""
    return [Plain, ThreeStud, Boxed]
