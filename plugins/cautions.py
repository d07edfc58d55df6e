"""First findings: what a builder should look at again in a finished layout. Advisory, never an approval."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import Final

from soleplate.engine.building import Building
from soleplate.engine.hookspecs import hookimpl
from soleplate.engine.layout import Finding, Layout, WallOut
from soleplate.engine.outline import SingleWalls
from soleplate.engine.rules import NAILING_ROOM
from soleplate.engine.timber import MEAN_DENSITY, UNKNOWN_DENSITY

PRACTICE: Final = "common practice, no source"
WIDEST_CENTRES: Final = 600.0
"""mm between stud centres, NHBC Standards 6.3.9 Table 3."""
LIFT: Final = 25.0
"""kg a person, close to the body between knuckle and elbow height: HSE guideline filter, as restated."""
BRACING: Final = frozenset({"brace", "sheet"})


def wide_and_narrow_bays(wall: WallOut) -> Iterator[Finding]:
    """Bays too wide for the lining, and bays too narrow to nail in."""
    breadth = max(piece.section[0] for piece in wall.pieces if piece.role == "stud")
    widest = max((bay.clear for bay in wall.bays), default=0.0)
    if widest + breadth > WIDEST_CENTRES + 0.001:
        yield Finding(
            level="warn",
            code="wide-bay",
            message=f"the widest bay is {widest:.0f} mm clear, {widest + breadth:.0f} mm at centres: too wide"
            " for most linings, and for the studs unless they are known to carry it",
            wall=wall.name,
            value=round(widest + breadth, 3),
            limit=WIDEST_CENTRES,
            basis="NHBC Standards 6.3.9 Table 3 (studs at 600 mm at the most)",
        )
    for bay in wall.bays:
        if bay.clear < NAILING_ROOM:
            yield Finding(
                level="warn",
                code="narrow-bay",
                message=f"the bay at {bay.from_:.0f} mm is {bay.clear:.0f} mm wide, too narrow to nail in",
                wall=wall.name,
                value=bay.clear,
                limit=NAILING_ROOM,
                basis=PRACTICE,
            )


def missing_lintels(wall: WallOut) -> Iterator[Finding]:
    """Openings without a lintel in a wall that carries the roof."""
    roles = {piece.mark: piece.role for piece in wall.pieces}
    for opening in wall.openings:
        own = {roles[mark] for mark in opening.pieces}
        if opening.framing != "panes" and "lintel" not in own:
            yield Finding(
                level="warn",
                code="no-lintel",
                message=f"{opening.name} has no lintel, and the roof rests on this wall",
                wall=wall.name,
                pieces=opening.pieces,
                basis=PRACTICE,
            )


def heavy_wall(wall: WallOut, people: int) -> Iterator[Finding]:
    """A wall that is more than those who lift it should lift."""
    if wall.weight_kg > LIFT * people:
        yield Finding(
            level="warn",
            code="heavy-wall",
            message=f"the frame weighs {wall.weight_kg:.0f} kg, {wall.weight_kg / people:.0f} kg a person;"
            " get help, or raise it in parts",
            wall=wall.name,
            value=wall.weight_kg,
            limit=LIFT * people,
            basis="HSE guideline filter, 25 kg a person, as restated",
        )


@hookimpl
def check_layout(layout: Layout, building: Building) -> Iterable[Finding]:
    """The findings that ship with Soleplate."""
    found: list[Finding] = []
    for wall in layout.walls:
        found += wide_and_narrow_bays(wall)
        if carries_roof(wall, building):
            found += missing_lintels(wall)
        found += heavy_wall(wall, building.site.people)
    if not any(piece.role in BRACING for wall in layout.walls for piece in wall.pieces):
        found.append(
            Finding(
                level="warn",
                code="no-bracing",
                message="nothing in the layout braces the walls: add sheets or let-in braces, and keep the"
                " temporary braces on until they are fixed",
                basis=PRACTICE,
            )
        )
    frames = [building.frame, *(block.frame for block in building.walls.values() if block.frame)]
    for name in sorted({f.material for f in frames if f.density is None and f.material not in MEAN_DENSITY}):
        found.append(
            Finding(
                level="note",
                code="unknown-density",
                message=f"the density of {name} is not known; it is weighed at {UNKNOWN_DENSITY:.0f} kg/m3",
                value=UNKNOWN_DENSITY,
                basis="from memory",
            )
        )
    return found


def carries_roof(wall: WallOut, building: Building) -> bool:
    """Whether rafters rest on the wall: on those with a level top, or as a wall on its own says."""
    if isinstance(building.outline, SingleWalls):
        return any(single.carries_roof for single in building.outline.walls if single.name == wall.name)
    heights = [z for _, z in wall.top_line]
    return max(heights) - min(heights) < 0.001
