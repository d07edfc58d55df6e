"""From contacts to joints: what kind each is, which piece is gone through, and what lies around it."""

from __future__ import annotations

import itertools
import math
from collections import defaultdict
from collections.abc import Container, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Final

from soleplate.engine.fixing.contacts import Contact
from soleplate.engine.fixing.timbers import Framed
from soleplate.engine.rules import JoinedPiece, Joint, JointKind
from soleplate.engine.shapes import (
    Outline,
    Point,
    Section,
    Vector,
    area,
    bounds,
    contains,
    cross,
    dot,
    moved,
    rectangle,
    turned,
    unit,
)

CROSSING: Final = 0.7
"""Cosine between two grains below which they cross."""

SKIN: Final = 0.5
"""mm under a face at which it is asked how far timber goes on."""

INSIDE: Final = 1.0
"""mm from a contact's side from which that is asked, so that bevelled ends are met too."""

SHORTEST: Final = 200.0
"""mm. Parts of a sole plate's joint are no shorter (common practice, no source)."""

SAMPLED: Final = (0.5, 0.2, 0.4, 0.6, 0.8)
"""Shares of a contact's length at which it is asked whether its far side is free."""


@dataclass(frozen=True, slots=True)
class FoundJoint:
    """A joint with its geometry, mm.

    `way` points from `through` into `into`, square to the contact, and `direction` as a straight fixing goes:
    through a raked plate in line with what ends there; `right` runs along the grain of `through`
    in the plane of the contact, `up` across it; `outline` is the contact in these axes, `offset` its plane's.
    """

    kind: JointKind
    through: int
    into: int
    way: Vector
    right: Vector
    up: Vector
    offset: float
    outline: Outline
    gap: float
    direction: Vector
    told: Joint
    beyond: int | None = None
    """Of plies, the piece behind `into`, into which a fixing may go on."""

    @property
    def box(self) -> tuple[float, float, float, float]:
        """Left, right, bottom and top of the contact."""
        return bounds(self.outline)

    @property
    def is_box(self) -> bool:
        """Whether it is a rectangle in these axes."""
        left, right, bottom, top = self.box
        return len(self.outline) == 4 and abs(area(self.outline) - (right - left) * (top - bottom)) < 0.1

    def point(self, x: float, y: float) -> Vector:
        """A place in the contact, in the world."""
        return moved(moved(moved((0.0, 0.0, 0.0), self.right, x), self.up, y), self.way, self.offset)

    @property
    def middle(self) -> Point:
        """Of the contact."""
        left, right, bottom, top = self.box
        return (left + right) / 2, (bottom + top) / 2


class Covers:
    """What lies on the faces of each piece."""

    def __init__(self, contacts: Sequence[Contact], units: Sequence[str]) -> None:
        self._units = units
        self._on: Mapping[int, list[tuple[Vector, float, Contact, int]]] = defaultdict(list)
        for each in contacts:
            if not each.gap:
                normal = each.plane.normal
                self._on[each.one].append((normal, each.offset, each, each.other))
                self._on[each.other].append((turned(normal), -each.offset, each, each.one))

    def at(self, piece: int, place: Vector, way: Vector, units: frozenset[str] | None) -> int | None:
        """The piece that lies on another where that is left at a place; of some units alone, where given."""
        for normal, offset, contact, other in self._on[piece]:
            if (
                dot(normal, way) > CROSSING
                and abs(dot(normal, place) - offset) < 0.2
                and (units is None or self._units[other] in units)
                and contains(contact.outline, contact.plane.of(place))
            ):
                return other
        return None


def is_seat(joint: FoundJoint, pieces: Sequence[Framed]) -> bool:
    """Whether a raked piece of a roof lies on a level plate of a wall."""
    both = {pieces[index].kind: pieces[index] for index in (joint.through, joint.into)}
    return both.keys() == {"wall", "slope"} and both["slope"].lies == "raked" and both["wall"].lies == "level"


def unit_of(framed: Framed) -> str:
    """What is framed together: a wall by its name, a floor, a roof."""
    return framed.part if framed.kind == "wall" else f"/{framed.kind}"


Stretches = Mapping[str, Sequence[tuple[float, float]]]
"""Of walls by their names, from where to where along them, mm."""


def joints(
    found: Sequence[Contact],
    pieces: Sequence[Framed],
    units: Sequence[str],
    covers: Covers,
    braced: Stretches,
) -> tuple[FoundJoint, ...]:
    """One joint for every two pieces that lie on each other, in the order in which they take their places.

    Rafters on their plates come first, as they are nailed before what goes between them; then the smallest
    contact. Walls are `braced` where told.
    """
    largest: dict[tuple[int, int], Contact] = {}
    for each in found:
        pair = (min(each.one, each.other), max(each.one, each.other))
        if pair not in largest or area(each.outline) > area(largest[pair].outline) + 1e-6:
            largest[pair] = each
    spliced = {
        index
        for each in found
        if each.kinds == ("end", "end") and units[each.one] == units[each.other]
        for index in (each.one, each.other)
    }
    made = (
        joint
        for each in largest.values()
        for joint in _known(_joint(each, pieces, units, covers), pieces, spliced, braced)
    )
    return tuple(
        sorted(
            made,
            key=lambda joint: (
                not is_seat(joint, pieces),
                round(area(joint.outline), 3),
                joint.through,
                joint.into,
            ),
        )
    )


def _joint(contact: Contact, pieces: Sequence[Framed], units: Sequence[str], covers: Covers) -> FoundJoint:
    one, other = contact.one, contact.other
    forward, backward = contact.plane.normal, turned(contact.plane.normal)
    kind = _kind(contact, pieces, units)
    both = [
        _seen(contact, kind, one, other, forward, pieces, covers),
        _seen(contact, kind, other, one, backward, pieces, covers),
    ]
    if kind == "base":
        return next(each for each in both if pieces[each.through].kind == "wall")
    ends = [each == "end" for each in contact.kinds]
    if ends[0] != ends[1]:
        return both[1] if ends[0] else both[0]
    return min(both, key=lambda each: _preferred(each, pieces, units, covers))


def _known(
    joint: FoundJoint, pieces: Sequence[Framed], spliced: Container[int], braced: Stretches
) -> Iterator[FoundJoint]:
    """With what is known of it besides its geometry: whether plates are spliced, or braces stand over it.

    A sole plate's is parted where braces begin and end.
    """
    through = pieces[joint.through]
    stretches = braced.get(through.part, ())
    if joint.kind == "side" and (joint.through in spliced or joint.into in spliced):
        yield replace(joint, told=replace(joint.told, spliced=True))
    elif joint.kind == "base" and stretches and joint.is_box:
        yield from _by_braces(joint, through, stretches)
    else:
        yield joint


def _by_braces(
    joint: FoundJoint, through: Framed, stretches: Sequence[tuple[float, float]]
) -> Iterator[FoundJoint]:
    """The parts of a sole plate's joint that are under braces, and those that are not."""
    left, right, bottom, top = joint.box
    start = dot(through.view.origin, joint.right)
    ahead = 1.0 if dot(through.view.right, joint.right) > 0 else -1.0
    under = [sorted((start + ahead * low, start + ahead * high)) for low, high in stretches]
    cuts = [left]
    for at in sorted(x for each in under for x in each):
        if at - cuts[-1] >= SHORTEST and right - at >= SHORTEST:
            cuts.append(at)
    for low, high in itertools.pairwise((*cuts, right)):
        is_braced = any(first <= (low + high) / 2 <= last for first, last in under)
        told = replace(joint.told, along=round(high - low, 3), braced=is_braced)
        yield replace(joint, outline=rectangle(low, high, bottom, top), told=told)


def _preferred(
    joint: FoundJoint, pieces: Sequence[Framed], units: Sequence[str], covers: Covers
) -> tuple[bool, float, bool, str]:
    """First what can be reached, then the thinner, heads outdoors; of what lies on another the lower."""
    back = turned(joint.way)
    own = frozenset((units[joint.through], units[joint.into]))
    covered = all(
        covers.at(
            joint.through,
            moved(place, back, pieces[joint.through].way_out(place, back)),
            back,
            own if len(own) == 1 else None,
        )
        is not None
        for place in _sampled(joint)
    )
    lies_on = joint.kind == "plies" and joint.told.through.part == joint.told.into.part == "floor"
    if joint.told.crosses or lies_on:
        # What is let in, or lies beside another, is gone through where it is the thinner.
        thickness = 0.0 if abs(joint.way[2]) > 0.5 else round(joint.told.thickness, 1)
        return joint.way[2] < 0.5, thickness, covered, pieces[joint.through].piece.mark
    inwards = dot(pieces[joint.through].view.inwards, joint.way) > 0.5
    return covered, round(joint.told.thickness, 1), not inwards, pieces[joint.through].piece.mark


def _sampled(joint: FoundJoint) -> Iterator[Vector]:
    """Some places of the contact, along its longer side."""
    left, right, bottom, top = joint.box
    x, y = joint.middle
    for share in SAMPLED:
        is_long = right - left > top - bottom
        yield (
            joint.point(left + (right - left) * share, y)
            if is_long
            else joint.point(x, bottom + (top - bottom) * share)
        )


def _kind(contact: Contact, pieces: Sequence[Framed], units: Sequence[str]) -> JointKind:
    one, other = pieces[contact.one], pieces[contact.other]
    if contact.gap or {one.kind, other.kind} == {"wall", "floor"}:
        return "base"
    if units[contact.one] != units[contact.other] and one.kind == other.kind == "wall":
        return "corner"
    ends = contact.kinds.count("end")
    if ends:
        return "splice" if ends == 2 else "end"
    return "plies" if contact.kinds == ("broad", "broad") else "side"


def _seen(
    contact: Contact,
    kind: JointKind,
    through: int,
    into: int,
    way: Vector,
    pieces: Sequence[Framed],
    covers: Covers,
) -> FoundJoint:
    """The joint as it is where one of the two is gone through."""
    first, second = pieces[through], pieces[into]
    grain = moved(first.grain, way, -dot(first.grain, way))
    right = unit(grain if math.hypot(*grain) > 0.1 else contact.plane.right)
    up = cross(way, right)
    corners = [contact.point(x, y) for x, y in contact.outline]
    outline = _anticlockwise([(dot(corner, right), dot(corner, up)) for corner in corners])
    left, across, bottom, top = bounds(outline)
    middle = moved(
        moved(moved((0.0, 0.0, 0.0), right, (left + across) / 2), up, (bottom + top) / 2),
        way,
        offset := dot(corners[0], way),
    )
    direction = way
    if kind == "end" and first.lies == "raked":
        direction = second.grain if dot(second.grain, way) > 0 else turned(second.grain)
    foot = moved(middle, direction, contact.gap)
    reach, beyond = second.way_out(foot, direction), None
    if kind == "plies":
        far = moved(foot, way, reach)
        third = covers.at(into, far, way, None)
        if third is not None and abs(dot(pieces[third].grain, second.grain)) > CROSSING:
            beyond, reach = third, reach + pieces[third].way_out(far, way)
    told = Joint(
        kind=kind,
        through=_told(first),
        into=_told(second),
        along=round(across - left, 3),
        across=round(top - bottom, 3),
        thickness=round(first.way_out(middle, turned(direction)) + contact.gap, 3),
        reach=round(reach, 3),
        crosses=abs(dot(first.grain, second.grain)) < CROSSING,
    )
    return FoundJoint(
        kind, through, into, way, right, up, offset, outline, contact.gap, direction, told, beyond
    )


def _told(framed: Framed) -> JoinedPiece:
    return JoinedPiece(framed.piece.role, Section(*framed.piece.section), framed.kind)


def _anticlockwise(corners: list[Point]) -> Outline:
    return tuple(corners) if area(corners) > 0 else tuple(reversed(corners))


@dataclass(frozen=True, slots=True)
class Beyond:
    """What lies beyond one side of a contact of one of its pieces.

    `room` is how far its timber goes on there, mm; whether it `is_end`; and how much of a way towards that
    side is square to its end or its edge, which is not all where the contact is askew to its grain.
    """

    room: float
    is_end: bool
    square: float


def room_beside(joint: FoundJoint, pieces: Sequence[Framed]) -> Iterator[tuple[Beyond, Beyond]]:
    """Of each side of the contact, left, right, bottom and top, what lies beyond it of both pieces.

    Of `through`, then of `into`.
    """
    left, right, bottom, top = joint.box
    x, y = joint.middle
    back = turned(joint.way)
    left, right, bottom, top = left + INSIDE, right - INSIDE, bottom + INSIDE, top - INSIDE
    for axis, place in (
        (turned(joint.right), joint.point(left, y)),
        (joint.right, joint.point(right, y)),
        (turned(joint.up), joint.point(x, bottom)),
        (joint.up, joint.point(x, top)),
    ):
        yield (
            _beyond(pieces[joint.through], moved(place, back, SKIN), axis),
            _beyond(pieces[joint.into], moved(place, joint.way, joint.gap + SKIN), axis),
        )


def _beyond(framed: Framed, place: Vector, axis: Vector) -> Beyond:
    along = abs(dot(framed.grain, axis))
    is_end = along > CROSSING
    square = along if is_end else math.sqrt(max(1.0 - along * along, 0.0))
    return Beyond(framed.way_out(place, axis) - INSIDE, is_end, square)
