"""A floor of joists between rim joists, on bearers and pads, with its deck."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from typing import Annotated, Any, ClassVar, Final, Literal

from soleplate.engine.rules import (
    TOUCH,
    AnyLength,
    CannotFrame,
    CladdingRule,
    Doorway,
    FloorFrame,
    FloorPlan,
    FloorRule,
    Hatch,
    Items,
    Limits,
    Member,
    Mm,
    Name,
    NogginRule,
    Point,
    Reach,
    StudRule,
    TopLine,
    Wall,
    WallEnd,
    at_least,
    at_most,
    level,
    rectangle,
    upright,
)
from soleplate.plugins.floors.lying import Lying, Runs
from soleplate.plugins.floors.members import Bearers, FloorOpening, JoistSection, Threshold

MOST_OPENINGS: Final = 20

MOST_PADS: Final = 1_000
"""Under one floor; a small timber building has some dozens."""

CALLED: Final = (
    ("stud", "joist"),
    ("king stud", "joist"),
    ("trimmer", "joist"),
    ("cripple", "joist"),
    ("head", "trimmer joist"),
    ("sill", "trimmer joist"),
    ("lintel", "trimmer joist"),
)
"""The floor's names of what stud and opening rules make."""


class Joists(FloorRule):
    """Joists from rim joist to rim joist, spaced by any stud rule, under the deck of any rule that lays one.

    The rim joists run along the outline, flush with the walls' outer faces. Its top is the underside of the
    sole plates, so that no wall moves.
    """

    examples: ClassVar[Sequence[Mapping[str, Any]]] = (
        {
            "rule": "joists", "section": [45, 145], "material": "C16", "runs": "front-back",
            "joists": {"rule": "fixed-centres", "centres": 400},
            "noggins": {"rule": "straight", "behind_sheets": 1220},
            "bearers": {"section": [95, 95], "rows": 3, "pads": {"apart": 1500, "size": 300}},
            "deck": {
                "rule": "sheets", "width": 2440, "height": 1220, "thickness": 18, "material": "OSB",
                "density": 640,
            },
            "threshold": {"section": [20, 70]},
            "insulation": 100,
        },
        {
            "rule": "joists", "section": [45, 120], "runs": "left-right",
            "joists": {"rule": "equal-bays", "largest_bay": 450},
            "openings": [
                {
                    "name": "hatch", "at": {"left": 700}, "from_front": 400, "width": 500, "depth": 500,
                    "framing": {"rule": "trimmed-joists", "doubled": True},
                },
            ],
            "deck": {"rule": "tongue-and-groove", "width": 120, "cover": 110, "gap": 2, "thickness": 20},
        },
    )  # fmt: skip

    rule: Literal["joists"] = "joists"
    section: JoistSection
    """Of joists and rim joists, as [breadth, depth]: they lie on edge."""
    material: Name | None = None
    """What they are of; else of the walls' timber."""
    runs: Runs = "front-back"
    """The way that joists run; rim joists run across."""
    joists: StudRule
    """How joists are spaced: from the left along the front, or from the front along the right side."""
    noggins: NogginRule | None = None
    """How noggins are set between joists; none without it."""
    openings: Annotated[tuple[FloorOpening, ...], Items(0, MOST_OPENINGS)] = ()
    """Its hatches."""
    bearers: Bearers | None = None
    """What joists lie on."""
    deck: CladdingRule | None = None
    """What lies on the joists; nothing without it."""
    threshold: Threshold | None = None
    """What lies in the gap of each door of the outer walls; nothing without it."""
    insulation: Annotated[AnyLength, Limits(10.0, 600.0)] | None = None
    """How thick insulation between the joists is; none without it."""

    def lay_floor(self, plan: FloorPlan) -> FloorFrame:
        """Return the floor, mm; see `FloorRule`.

        Raises:
            CannotFrame: a hatch has no room, or bearers or joists have none.
        """
        lying = Lying(plan, self.runs, self.deck.build_out if self.deck is not None else 0.0)
        breadth, depth = self.section
        length, width = lying.length, lying.width
        if min(length, width) < 4 * breadth:
            raise CannotFrame(
                "{least} of floor has no room between rim joists of {breadth}; accepted is at least {more}",
                least=Mm(min(length, width)),
                breadth=Mm(breadth),
                more=at_least(4 * breadth),
            ).at("section")
        underside = TopLine(((0.0, width - breadth), (length, width - breadth)))
        wall = Wall(
            name="floor",
            length=length,
            depth=depth,
            section=self.section,
            top=TopLine(((0.0, width), (length, width))),
            ends=(WallEnd("free"), WallEnd("free")),
            underside=underside,
        )
        rims = [
            level("rim joist", self.section, (0.0, length, v, v + breadth), (0.0, depth))
            for v in (0.0, width - breadth)
        ]
        ends = [upright("joist", self.section, u, breadth, underside) for u in (0.0, length - breadth)]
        bearers = tuple(self._bearers(lying))
        hatches = tuple(self._hatches(lying, bearers))
        pads = self.bearers.pads if self.bearers is not None else None
        return FloorFrame(
            view=lying.view,
            lying=wall,
            plates=tuple(rims),
            ends=tuple(end for end in ends if end is not None),
            bearers=bearers,
            others=tuple(self._thresholds(lying)),
            spacing=self.joists,
            noggins=self.noggins,
            hatches=hatches,
            called=CALLED,
            material=self.material,
            deck=self.deck,
            pads=tuple(self._pads(length, bearers)),
            pad_size=pads.size if pads is not None else None,
            insulation=self.insulation,
        )

    def _bearers(self, lying: Lying) -> Iterator[Member]:
        """Equally spaced along the joists, the outer ones flush with the rim joists."""
        if self.bearers is None:
            return
        rows, (breadth, high) = self.bearers.rows, self.bearers.section
        clear = (lying.width - rows * breadth) / (rows - 1)
        if clear <= 0.0:
            raise CannotFrame(
                "{rows} bearers of {breadth} have no room along {width}; accepted are up to {most}",
                rows=rows,
                breadth=Mm(breadth),
                width=Mm(lying.width),
                most=max(math.ceil(lying.width / breadth) - 1, 1),
            ).at("bearers", "rows")
        top = self.section.depth
        for row in range(rows):
            bottom = row * (breadth + clear)
            yield level(
                "bearer",
                self.bearers.section,
                (0.0, lying.length, bottom, bottom + breadth),
                (top, top + high),
                material=self.bearers.material or self.material,
            )

    def _pads(self, length: float, bearers: Sequence[Member]) -> Iterator[Point]:
        """Centres of the pads, equally spaced along each bearer, in the plane of the floor."""
        if self.bearers is None or self.bearers.pads is None:
            return
        size, apart = self.bearers.pads.size, self.bearers.pads.apart
        if length < size:
            raise CannotFrame(
                "a pad of {size} is longer than the bearers ({length}); accepted is up to that",
                size=Mm(size),
                length=Mm(length),
            ).at("bearers", "pads", "size")
        bays = max(math.ceil((length - size) / apart - 1e-9), 1 if length - size > TOUCH else 0)
        if len(bearers) * (bays + 1) > MOST_PADS:
            raise CannotFrame(
                "{count} pads under {rows} bearers; accepted are up to {most}: space them wider",
                count=len(bearers) * (bays + 1),
                rows=len(bearers),
                most=MOST_PADS,
            ).at("bearers", "pads", "apart")
        step = (length - size) / bays if bays else 0.0
        if bays and step < size - TOUCH:
            raise CannotFrame(
                "pads of {size} at every {step} of bearers {length} long would stand in each other; accepted"
                " is up to {most}, or pads further apart",
                size=Mm(size),
                step=Mm(step, ".1f"),
                length=Mm(length),
                most=at_most(min(length, apart) / 2),
            ).at("bearers", "pads", "size")
        for bearer in bearers:
            middle = (bearer.bottom + bearer.top) / 2
            for number in range(bays + 1):
                yield (size / 2 + number * step, middle)

    def _hatches(self, lying: Lying, bearers: Sequence[Member]) -> Iterator[Hatch]:
        """The hatches in the plane of the floor, each clear of rims, bearers and the others."""
        names: list[str] = []
        for index, opening in enumerate(self.openings):
            if opening.name in names:
                raise CannotFrame(f"two openings are called {opening.name!r}; give each its own name").at(
                    "openings", index, "name"
                )
            names.append(opening.name)
            left, right = opening.at.edges(opening.width, lying.plan.length)
            front, back = opening.from_front, opening.from_front + opening.depth
            self._refuse_edge(index, "at", "along the front", (left, right), lying.plan.length)
            self._refuse_edge(index, "from_front", "from the front", (front, back), lying.plan.width)
            hole = lying.hole(opening.name, (left, right), (front, back))
            for row, bearer in enumerate(bearers, 1):
                if hole.bottom < bearer.top - TOUCH and bearer.bottom < hole.top - TOUCH:
                    raise CannotFrame(
                        "bearer {row} ({bearer}) lies under it ({hole}), told along the joists; accepted is a"
                        " place or size clear of it, or other rows",
                        row=row,
                        bearer=Reach(bearer.bottom, bearer.top, ".0f"),
                        hole=Reach(hole.bottom, hole.top, ".0f"),
                    ).at("openings", index)
            yield Hatch(hole, opening.framing, index)

    def _refuse_edge(
        self, index: int, member: str, along: str, edges: tuple[float, float], over_all: float
    ) -> None:
        """Refuse a hatch so near an edge of the floor that its timbers meet the rim or end joist there."""
        room = 2 * self.section.breadth
        start, end = edges
        if start < room - TOUCH or end > over_all - room + TOUCH:
            raise CannotFrame(
                f"it is at {{place}} {along}; accepted is {{room}}: a joist has room beside the one at the"
                " edge",
                place=Reach(start, end),
                room=Reach(room, over_all - room),
            ).at("openings", index, member)

    def _thresholds(self, lying: Lying) -> Iterator[Member]:
        """A board in the gap of each door, on the deck."""
        if self.threshold is None:
            return
        thick, wide = self.threshold.section
        for door in lying.plan.doorways:
            x, y = _along_face(door, wide)
            hole = lying.hole(door.name, x, y)
            across = door.face in ("front", "back")
            is_along_u = across == (self.runs == "front-back")
            outline = rectangle(hole.left, hole.right, hole.bottom, hole.top)
            yield Member(
                "threshold",
                self.threshold.section,
                outline,
                (-lying.below - thick, -lying.below),
                0.0 if is_along_u else 90.0,
                material=self.threshold.material or self.material,
            )


def _along_face(door: Doorway, wide: float) -> tuple[tuple[float, float], tuple[float, float]]:
    """What a threshold takes up along X and along Y, its face in the wall's outer one."""
    x, y = (door.left, door.right), (door.front, door.back)
    if door.face == "front":
        y = (door.front, door.front + wide)
    elif door.face == "back":
        y = (door.back - wide, door.back)
    elif door.face == "left":
        x = (door.left, door.left + wide)
    else:
        x = (door.right - wide, door.right)
    return x, y
