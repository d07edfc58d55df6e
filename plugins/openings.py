"""Rules that frame doors, windows and gaps.

A hole is as wide and high as the building file says: the
timbers stand round it.
"""

from __future__ import annotations

import itertools
from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import Annotated, Any, ClassVar, Final, Literal

from pydantic import Field

from soleplate.engine.rules import (
    LEAST_CRIPPLE,
    PANE_COVER,
    PANE_JOINT,
    PRACTICE,
    TOUCH,
    UPRIGHT,
    AnyLength,
    Building,
    CannotFrame,
    Cripples,
    EndFixing,
    Finding,
    FindingKind,
    FramedOpening,
    Glazing,
    Hole,
    Layout,
    Limits,
    Member,
    Mm,
    Model,
    Name,
    OpeningRule,
    Section,
    SectionField,
    Wall,
    WallBlock,
    at_least,
    hookimpl,
    level,
    pane_findings,
    picked,
    rectangle,
    upright,
)

PACKED_OVER: Final = FindingKind(
    "packed-over-lintel",
    "warn",
    PRACTICE,
    "pack the {room} between it and the top plate above; it is too low for cripples",
)
PACKED_UNDER: Final = FindingKind(
    "packed-under-sill",
    "warn",
    PRACTICE,
    "pack the {room} between the sill and the sole plate; it is too low for cripples",
)
LINTEL_PROUD: Final = FindingKind(
    "lintel-proud", "warn", PRACTICE, "the lintel stands {proud} proud of the wall's inside"
)

LEAST_GAP: Final = 0.5
"""mm. A lower gap over a lintel is not worth a packer (common practice, no source)."""

THINNEST_PACKER: Final = 1.0
"""mm."""

LEAST_PANE: Final = 20.0
"""mm of clear glass between studs; less is no pane."""

NOGGIN_FIXINGS: Final = (EndFixing(2, "through"), EndFixing(2, "skew"))
"""Two at each end, so that it cannot turn (common practice, no source)."""


def _full_stud(role: str, left: float, wall: Wall) -> Member:
    """A stud from the sole plate to the top plate, its left face at `left` mm."""
    stud = upright(role, wall.section, left, wall.sole_thickness, wall.underside)
    if stud is None:
        raise CannotFrame(
            "the wall is too low for a {role} at {left}; accepted is a higher wall",
            role=role,
            left=Mm(left, ".0f"),
        )
    return stud


def _refuse_ends(hole: Hole, wall: Wall, beside: float, timbers: str) -> None:
    """Refuse timbers, `beside` mm along the wall at each side of the hole, that don't fit in beside the end.

    They may stand in the end stud's very place: then one timber serves for both.
    """
    breadth = wall.breadth
    for side, room in (("left", hole.left - beside), ("right", wall.length - hole.right - beside)):
        if abs(room) <= TOUCH or room >= breadth - TOUCH:
            continue
        raise CannotFrame(
            "there are {room} from the opening to the wall's {side} end for the {timbers}"
            " ({beside}) and the end stud; accepted is {beside} exactly, where they take the end"
            " stud's place, or at least {least}",
            room=Mm(room + beside, ".1f"),
            side=side,
            timbers=timbers,
            beside=Mm(beside),
            least=at_least(beside + breadth),
        )


def _refuse_low(what: str, top: float, left: float, right: float, wall: Wall) -> None:
    """Refuse a piece whose top is over the underside of the top plate somewhere on its length."""
    lowest = wall.underside.lowest(max(left, 0.0), min(right, wall.length))
    if top > lowest + TOUCH:
        raise CannotFrame(
            "the {what} would reach {top} and the underside of the top plate is at {lowest} there;"
            " accepted is an opening or {what} {lower} lower",
            what=what,
            top=Mm(top, ".1f"),
            lowest=Mm(lowest, ".1f"),
            lower=at_least(top - lowest, ".1f"),
        )


def _refuse_flat(hole: Hole, wall: Wall) -> None:
    """Refuse a hole that ends below the top of the sole plate."""
    if hole.top <= wall.sole_thickness + TOUCH:
        raise CannotFrame(
            "its top at {top} is within the sole plate; accepted is over {sole_thickness}",
            top=Mm(hole.top, ".1f"),
            sole_thickness=at_least(wall.sole_thickness),
        )


def _over(left: float, right: float, bottom: float, wall: Wall) -> tuple[Cripples | None, list[Finding]]:
    """The cripples over a lintel or head, and what is to be said where the gap is too low for them."""
    room = wall.underside.highest(left, right) - bottom
    if room >= LEAST_CRIPPLE:
        return Cripples(left, right, bottom), []
    if room <= LEAST_GAP:
        return None, []
    return None, [PACKED_OVER.of(value=room, room=Mm(room, ".1f"))]


def _sill(hole: Hole, wall: Wall) -> tuple[list[Member], Cripples | None, list[Finding]]:
    """The flat sill of a hole, the cripples under it, and what is to be said of the gap there.

    Raises:
        CannotFrame: the hole's underside leaves no room for a sill over the sole plate.
    """
    sole, thick = wall.sole_thickness, wall.breadth
    if hole.reaches_floor or abs(hole.bottom - sole) <= TOUCH:
        return [], None, []
    if hole.bottom < sole + thick - TOUCH:
        raise CannotFrame(
            "its underside at {bottom} leaves no room for a sill over the sole plate; accepted is 0"
            " (down to the floor), {sole} (on the sole plate), or at least {least}",
            bottom=Mm(hole.bottom, ".1f"),
            sole=Mm(sole),
            least=at_least(sole + thick),
        )
    underside = hole.bottom - thick
    sill = level("sill", wall.section, (hole.left, hole.right, underside, hole.bottom), wall.through_wall)
    room = underside - sole
    if room >= LEAST_CRIPPLE:
        return [sill], Cripples(hole.left, hole.right, underside), []
    if room <= LEAST_GAP:
        return [sill], None, []
    return [sill], None, [PACKED_UNDER.of(value=room, room=Mm(room, ".1f"))]


class Lintel(Model):
    """A beam on edge over an opening, of one or more plies side by side."""

    section: SectionField
    """Of one ply, as [thickness, height]."""
    plies: Annotated[int, Field(ge=1, le=4)] = 1
    """How many."""
    material: Name | None = None
    """What it is of; else of the frame's."""

    def members(self, left: float, right: float, bottom: float, depth: float) -> list[Member]:
        """Plies and packers of a lintel in a wall `depth` mm deep; all lengths mm.

        The plies start at the wall's outer face; the last of several is flush with the inside, and a packer
        fills what is left. Plies thicker than the wall stand proud of the inside.
        """
        thick, height = self.section
        box = (left, right, bottom, bottom + height)
        spare = depth - self.plies * thick
        starts = [ply * thick for ply in range(self.plies)]
        packs = spare >= THINNEST_PACKER
        if packs and self.plies > 1:
            starts[-1] = depth - thick
        ply = Section(thick, height)
        made = [level("lintel", ply, box, (start, start + thick), material=self.material) for start in starts]
        if packs:
            start = thick if self.plies == 1 else (self.plies - 1) * thick
            made.append(level("packer", Section(spare, height), box, (start, start + spare)))
        return made

    def reports(self, depth: float) -> list[Finding]:
        """What is to be said of it in a wall `depth` mm deep."""
        proud = self.plies * self.section[0] - depth
        if proud <= TOUCH:
            return []
        return [LINTEL_PROUD.of(value=proud, proud=Mm(proud, ".1f"))]


class Trimmed(OpeningRule):
    """King studs, trimmers, a lintel or a flat head on them, a sill, and cripples above and below.

    King studs stand full height; the trimmers beside them reach up to the opening's head.
    """

    stands_in: ClassVar[bool] = True
    examples: ClassVar[Sequence[Mapping[str, Any]]] = (
        {"rule": "trimmed"},
        {"rule": "trimmed", "lintel": {"section": [45, 145], "plies": 2}},
        {"rule": "trimmed", "trimmers": 2, "kings": 2, "lintel": {"section": [45, 195]}},
    )

    rule: Literal["trimmed"] = "trimmed"
    trimmers: Annotated[int, Field(ge=1, le=3)] = 1
    """At each side, under the lintel."""
    kings: Annotated[int, Field(ge=1, le=2)] = 1
    """At each side, full height."""
    lintel: Lintel | None = None
    """The beam over the opening; a flat piece of the stud section without it."""

    def frame_opening(self, hole: Hole, wall: Wall) -> FramedOpening:
        """Return the framing, mm; see `OpeningRule`.

        Raises:
            CannotFrame: lintel, kings or sill do not fit in.
        """
        breadth = wall.breadth
        bearing = self.trimmers * breadth
        left, right = hole.left - bearing, hole.right + bearing
        outer = bearing + self.kings * breadth
        what, height = ("head", breadth) if self.lintel is None else ("lintel", self.lintel.section[1])
        top = hole.top + height
        _refuse_flat(hole, wall)
        _refuse_ends(hole, wall, outer, "trimmers and king studs")
        _refuse_low(what, top, left, right, wall)
        sill, under, reported = _sill(hole, wall)
        over, more = _over(left, right, top, wall)
        reported += more
        if self.lintel is None:
            beam = [level("head", wall.section, (left, right, hole.top, top), wall.through_wall)]
        else:
            beam = self.lintel.members(left, right, hole.top, wall.depth)
            reported += self.lintel.reports(wall.depth)
        return FramedOpening(
            members=(*self._uprights(hole, wall), *beam, *sill),
            left=hole.left - outer,
            right=hole.right + outer,
            over=over,
            under=under,
            has_lintel=self.lintel is not None,
            findings=tuple(reported),
        )

    def _uprights(self, hole: Hole, wall: Wall) -> list[Member]:
        """Trimmers and kings of both sides, from the hole outwards."""
        breadth = wall.breadth
        made: list[Member] = []
        for step in range(self.trimmers + self.kings):
            for left in (hole.left - (step + 1) * breadth, hole.right + step * breadth):
                if step >= self.trimmers:
                    made.append(_full_stud("king stud", left, wall))
                else:
                    outline = rectangle(left, left + breadth, wall.sole_thickness, hole.top)
                    made.append(Member("trimmer", wall.section, outline, wall.through_wall, UPRIGHT))
        return made


class SingleStuds(OpeningRule):
    """One full stud at each side, a flat head and a flat sill between them, and cripples above and below.

    For light walls and narrow openings: nothing but the head carries what is above.
    """

    examples: ClassVar[Sequence[Mapping[str, Any]]] = ({"rule": "single-studs"},)

    rule: Literal["single-studs"] = "single-studs"

    def frame_opening(self, hole: Hole, wall: Wall) -> FramedOpening:
        """Return the framing, mm; see `OpeningRule`.

        Raises:
            CannotFrame: studs, head or sill do not fit in.
        """
        breadth = wall.breadth
        top = hole.top + breadth
        _refuse_flat(hole, wall)
        _refuse_ends(hole, wall, breadth, "stud")
        _refuse_low("head", top, hole.left, hole.right, wall)
        sill, under, reported = _sill(hole, wall)
        over, more = _over(hole.left, hole.right, top, wall)
        return FramedOpening(
            members=(
                _full_stud("stud", hole.left - breadth, wall),
                _full_stud("stud", hole.right, wall),
                level("head", wall.section, (hole.left, hole.right, hole.top, top), wall.through_wall),
                *sill,
            ),
            left=hole.left - breadth,
            right=hole.right + breadth,
            over=over,
            under=under,
            findings=(*reported, *more),
        )


class Panes(OpeningRule):
    """A row of fixed panes of equal width that meet on the centre lines of studs.

    The studs run through at full height, one also on the row's either edge, and noggins between them carry
    the panes below and close them in above.
    """

    examples: ClassVar[Sequence[Mapping[str, Any]]] = (
        {"rule": "panes", "panes": 3},
        {"rule": "panes", "panes": 2, "edge_cover": 15},
        {"rule": "panes", "panes": 3, "edge_cover": 20, "glazing": {"material": "polycarbonate", "shank": 5}},
    )

    rule: Literal["panes"] = "panes"
    panes: Annotated[int, Field(ge=1, le=30)]
    """How many, side by side over the opening's width."""
    edge_cover: Annotated[AnyLength, Limits(0.0, 100.0)] = 0.0
    """How far the panes lap the noggins below and above."""
    glazing: Glazing | None = None
    """What the panes are of, for their width, their joints and their cover on the studs; not told without."""

    def frame_opening(self, hole: Hole, wall: Wall) -> FramedOpening:
        """Return the framing, mm; see `OpeningRule`.

        Raises:
            CannotFrame: it is a door, the panes are too narrow, or studs or noggins do not fit in.
        """
        breadth = wall.breadth
        pane = hole.width / self.panes
        self._refuse(hole, wall, pane)
        lines = tuple(hole.left + k * pane for k in range(self.panes + 1))
        below = hole.bottom + self.edge_cover
        above = hole.top - self.edge_cover
        members = [_full_stud("stud", line - breadth / 2, wall) for line in lines]
        for line, after in itertools.pairwise(lines):
            left, right = line + breadth / 2, after - breadth / 2
            _refuse_low("noggin over the panes", above + breadth, left, right, wall)
            for bottom in (below - breadth, above):
                box = (left, right, bottom, bottom + breadth)
                members.append(level("noggin", wall.section, box, wall.through_wall, fixings=NOGGIN_FIXINGS))
        return FramedOpening(
            members=tuple(members),
            left=hole.left - breadth / 2,
            right=hole.right + breadth / 2,
            stud_lines=lines,
        )

    def _refuse(self, hole: Hole, wall: Wall, pane: float) -> None:
        breadth, sole = wall.breadth, wall.sole_thickness
        if hole.kind == "door":
            raise CannotFrame("panes are fixed, and studs run through them; accepted is a window or a gap")
        if hole.reaches_floor:
            raise CannotFrame("the studs between panes stand on the sole plate; accepted is a sill over 0")
        if pane < breadth + LEAST_PANE:
            most = int(hole.width // (breadth + LEAST_PANE))
            raise CannotFrame(
                "{panes} panes in {width} are {pane} each, between studs of {breadth}; accepted are"
                " panes of at least {least}, here up to {most}",
                panes=self.panes,
                width=Mm(hole.width),
                pane=Mm(pane, ".1f"),
                breadth=Mm(breadth),
                least=at_least(breadth + LEAST_PANE),
                most=most,
            )
        least = sole + breadth - self.edge_cover
        if hole.bottom < least - TOUCH:
            raise CannotFrame(
                "its underside at {bottom} leaves no room for the noggins under the panes; accepted is"
                " at least {least}",
                bottom=Mm(hole.bottom, ".1f"),
                least=at_least(least),
            )
        if hole.top - hole.bottom <= 2 * self.edge_cover + TOUCH:
            raise CannotFrame(
                "the noggins would meet: the opening is {height} high and the panes lap them by"
                " {edge_cover} twice; accepted is less edge_cover",
                height=Mm(hole.top - hole.bottom),
                edge_cover=Mm(self.edge_cover),
            )
        _refuse_ends(hole, wall, breadth / 2, "stud")


@hookimpl
def register_rules() -> list[type[OpeningRule]]:
    """Offer the rules of this module."""
    return [Trimmed, SingleStuds, Panes]


@hookimpl
def check_layout(layout: Layout, building: Building) -> Iterable[Finding]:
    """Return how glazing panes are cut and fitted, and where too little of them is held."""
    return list(_glazed(layout, building))


def _glazed(layout: Layout, building: Building) -> Iterator[Finding]:
    for wall in layout.walls:
        block = building.walls.get(wall.name, WallBlock())
        for opening, out in zip(block.openings, wall.openings, strict=True):
            framing = next(
                filter(None, (picked(each, OpeningRule) for each in (opening, block, building.defaults))),
                None,
            )
            if isinstance(framing, Panes) and framing.glazing is not None:
                yield from pane_findings(wall, out, framing.glazing, framing.panes, framing.edge_cover)


@hookimpl
def register_finding_kinds() -> list[FindingKind]:
    """Offer the kinds of findings."""
    return [PACKED_OVER, PACKED_UNDER, LINTEL_PROUD, PANE_JOINT, PANE_COVER]
