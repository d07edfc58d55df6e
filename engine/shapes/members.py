"""Members: pieces before they have a mark.

A member is a prism, an outline in the wall's face extruded
over a depth interval, and everything else about it (length, ends, volume) is read off that shape.
"""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from typing import Final, Literal

from soleplate.engine.shapes.housings import BodyPart, Housing, bodies
from soleplate.engine.shapes.outlines import (
    Outline,
    area,
    bounds,
    rectangle,
    sides_of_box,
    span_at,
)
from soleplate.engine.shapes.sections import Section
from soleplate.engine.shapes.top_lines import TopLine, under

ALONG = 0.0
"""The grain of a plate, noggin or lintel: along the wall, degrees from level."""

UPRIGHT = 90.0
"""The grain of a stud."""


NOBODY: Final[tuple[str, str]] = ("", "")
"""In place of plugin and rule: the engine itself made a piece, or it is not filled in yet."""


@dataclass(frozen=True, slots=True)
class EndFixing:
    """How an end is fixed: how many fixings, and whether straight through or skewed."""

    count: int
    way: Literal["through", "skew"]


@dataclass(frozen=True, slots=True)
class Member:
    """One piece of timber, not yet numbered.

    `outline` is (x, z) in mm, counter-clockwise, in the plane of the part's `view`, which is a wall's face
    unless it says so; `depth` the interval from that plane inwards; `grain` the direction of its length,
    degrees from level. `layer` numbers plates laid on each other, from the studs outwards. `material` is
    what it is of, where that is not the wall's. Of what is `of_sheet`, a strip sawn from a sheet, the section
    is the sheet's thickness and its own width. `housings` are cut out for what the engine lets into it;
    `made_by` is filled in by the engine too: plugin and rule.
    """

    role: str
    section: Section
    outline: Outline
    depth: tuple[float, float]
    grain: float = ALONG
    layer: int = 0
    fixings: tuple[EndFixing, EndFixing] | None = None
    material: str | None = None
    view: str = "face"
    of_sheet: bool = False
    housings: tuple[Housing, ...] = field(default=(), compare=False)
    made_by: tuple[str, str] = field(default=NOBODY, compare=False)

    left: float = field(init=False, compare=False)
    right: float = field(init=False, compare=False)
    bottom: float = field(init=False, compare=False)
    top: float = field(init=False, compare=False)
    is_box: bool = field(init=False, compare=False)
    """Whether its outline is a rectangle of level and plumb edges: most are, and need no geometry."""

    def __post_init__(self) -> None:
        """Work out its extent once, mm: it is asked for at every step."""
        box = sides_of_box(self.outline)
        left, right, bottom, top = box or bounds(self.outline)
        object.__setattr__(self, "left", left)
        object.__setattr__(self, "right", right)
        object.__setattr__(self, "bottom", bottom)
        object.__setattr__(self, "top", top)
        object.__setattr__(self, "is_box", box is not None)

    @property
    def is_upright(self) -> bool:
        """Whether its length stands plumb."""
        return self.grain == UPRIGHT

    @property
    def bodies(self) -> tuple[BodyPart, ...]:
        """Itself less its housings: prisms that lie against each other."""
        return bodies(self.outline, self.depth, [(each.outline, each.depth) for each in self.housings])

    @property
    def area(self) -> float:
        """Of its outline, mm2."""
        return (self.right - self.left) * (self.top - self.bottom) if self.is_box else area(self.outline)

    @property
    def volume(self) -> float:
        """mm3."""
        if not self.housings:
            return self.area * (self.depth[1] - self.depth[0])
        return sum(area(outline) * (far - near) for outline, (near, far) in self.bodies)

    def span(self, x: float) -> tuple[float, float]:
        """Its lowest and its highest point over `x`, which must lie between its sides, mm."""
        return (self.bottom, self.top) if self.is_box else span_at(self.outline, x)

    def by(self, maker: tuple[str, str]) -> Member:
        """The same with who made it, plugin and rule; `replace` would take twice the time."""
        return Member(
            self.role,
            self.section,
            self.outline,
            self.depth,
            self.grain,
            self.layer,
            self.fixings,
            self.material,
            self.view,
            self.of_sheet,
            self.housings,
            maker,
        )

    def moved(self, outline: Outline) -> Member:
        """The same timber with another outline."""
        return replace(self, outline=outline)


def upright(
    role: str,
    section: Section,
    left: float,
    bottom: float,
    line: TopLine,
    *,
    depth: float | None = None,
    made_by: tuple[str, str] = NOBODY,
) -> Member | None:
    """A stud from `bottom` up to a line, its left face at `left`; `None` where there is no room.

    It stands at the wall's outer face and goes as deep as its section, or as `depth`. The engine fills in
    `made_by`.
    """
    outline = under(line, left, left + section.breadth, bottom)
    if not outline:
        return None
    return Member(role, section, outline, (0.0, depth or section.depth), UPRIGHT, made_by=made_by)


def level(
    role: str,
    section: Section,
    box: tuple[float, float, float, float],
    depth: tuple[float, float],
    *,
    fixings: tuple[EndFixing, EndFixing] | None = None,
    material: str | None = None,
    of_sheet: bool = False,
    made_by: tuple[str, str] = NOBODY,
) -> Member:
    """A piece lying level: a plate, sill, lintel or noggin. `box` is left, right, bottom and top.

    The engine fills in `made_by`.
    """
    return Member(
        role,
        section,
        rectangle(*box),
        depth,
        ALONG,
        fixings=fixings,
        material=material,
        of_sheet=of_sheet,
        made_by=made_by,
    )
