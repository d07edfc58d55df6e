"""Whether what finishes an opening would stand in anything else of the building."""

from __future__ import annotations

import itertools
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from typing import Self

from soleplate.engine.covering import Covered
from soleplate.engine.framing import Part
from soleplate.engine.shapes import Member, Roles, Solid, overlap_in_space


@dataclass(frozen=True, slots=True)
class InPlace:
    """A piece in the world: of which part, and as what."""

    part: str
    role: str
    solid: Solid

    @classmethod
    def of(cls, part: Part, member: Member) -> Self:
        """A member of a part, or what lies on it."""
        view = next(view for view in part.views if view.name == member.view)
        return cls(part.name, member.role, Solid(member.outline, member.depth, view))


Pair = tuple[InPlace, InPlace]


def in_place(parts: Sequence[Part], covered: Covered) -> Iterator[InPlace]:
    """All timbers and boards of the building."""
    by_name = {part.name: part for part in parts}
    yield from (InPlace.of(part, member) for part in parts for member in part.members)
    for (name, _), cladding in covered.claddings.items():
        yield from (InPlace.of(by_name[name], board.member) for board in cladding.boards)


def overlap_among(made: Sequence[InPlace], roles: Roles) -> Pair | None:
    """The first two pieces that share a place; boards, which lap by their profile, may."""
    pairs = itertools.combinations(made, 2)
    return _first(pair for pair in pairs if not all(roles[each.role].covers for each in pair))


def overlap_with(made: Sequence[InPlace], there: Sequence[InPlace]) -> Pair | None:
    """The first piece that shares a place with one that is there already, and that."""
    return _first(itertools.product(made, _near(made, there)))


def _first(pairs: Iterable[Pair]) -> Pair | None:
    return next((pair for pair in pairs if overlap_in_space(pair[0].solid, pair[1].solid)), None)


def _near(made: Sequence[InPlace], there: Sequence[InPlace]) -> list[InPlace]:
    """Those within the box round all that is made: few of a building, found quickly."""
    if not made:
        return []
    least = [min(each.solid.extent[0][axis] for each in made) for axis in range(3)]
    most = [max(each.solid.extent[1][axis] for each in made) for axis in range(3)]
    return [each for each in there if _meets(each.solid, least, most)]


def _meets(solid: Solid, least: Sequence[float], most: Sequence[float]) -> bool:
    starts, ends = solid.extent
    return all(starts[axis] < most[axis] and ends[axis] > least[axis] for axis in range(3))
