"""Whether pieces of any parts take up the same place in the world."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from dataclasses import dataclass

from soleplate.engine.shapes import Member, Solid, View, overlapping


@dataclass(frozen=True, slots=True)
class Placed:
    """A member of a part in the world; `face` tells boards of one face, which lap by their profile."""

    part: str
    member: Member
    view: View
    face: str | None = None

    @property
    def solids(self) -> list[Solid]:
        """In the world: one, or where it has housings what is left of it in several."""
        return [Solid(outline, depth, self.view) for outline, depth in self.member.bodies]


def in_one_place(placed: Sequence[Placed], parts: Collection[str]) -> tuple[Placed, Placed] | None:
    """The first two that overlap, in their order, one of them of these `parts`; boards of one face may."""
    solids = [(index, solid) for index, each in enumerate(placed) for solid in each.solids]
    met = {(solids[one][0], solids[other][0]) for one, other in overlapping([solid for _, solid in solids])}
    for one, other in sorted(met):
        first, second = placed[one], placed[other]
        if first.part not in parts and second.part not in parts:
            continue
        if first.face is None or (first.part, first.face) != (second.part, second.face):
            return first, second
    return None
