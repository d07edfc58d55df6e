"""The stage: from the parts of a layout to what fixes their pieces to each other, and the list of it."""

from __future__ import annotations

import math
from collections import Counter, defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Final, Literal

from soleplate.engine.building_file import Building, Count, Mm, Stock
from soleplate.engine.fixing.anchored import AFTER_RAISING, anchored
from soleplate.engine.fixing.answers import WHERE, JointAnswers
from soleplate.engine.fixing.contacts import contacts
from soleplate.engine.fixing.driven import Driven, DrivenRows, Order
from soleplate.engine.fixing.findings import END_NAILS, FIXINGS_LACK, JOINTS_UNFIXED, NAILS_SHORT
from soleplate.engine.fixing.joints import CROSSING, Covers, FoundJoint, is_seat, joints, unit_of
from soleplate.engine.fixing.placing import placed
from soleplate.engine.fixing.surroundings import OneDriven, Placement, Surroundings
from soleplate.engine.fixing.ties import ties, untied
from soleplate.engine.fixing.timbers import Framed, framed_pieces
from soleplate.engine.layout import (
    FixingFault,
    FixingPlace,
    FixingsRow,
    JointFixingOut,
    PartOut,
    TieOut,
    WallOut,
)
from soleplate.engine.registry import Registry
from soleplate.engine.rules import (
    Finding,
    FixingWay,
    Goods,
    GoodsKind,
    JointFixing,
)
from soleplate.engine.shapes import Vector, dot, rounded

WASTE: Final = 0.2
WASTE_BASIS: Final = "US Army EN0069A, Table 4-1: 20 % of nails are wasted"

TIMES_HELD: Final = 3.0
"""Of a nail's length to the thickness that it holds (NAVEDTRA 14119)."""


@dataclass(frozen=True, slots=True)
class FixedJoints:
    """What fixes all joints, the list of it, what of it is to buy, and what was found."""

    fixings: tuple[JointFixingOut, ...] = ()
    ties: tuple[TieOut, ...] = ()
    fixings_list: tuple[FixingsRow, ...] = ()
    goods: tuple[tuple[str, Goods], ...] = ()
    findings: tuple[Finding, ...] = ()


def fix_joints(
    parts: Sequence[PartOut], building: Building, registry: Registry, spares: Mapping[str, float]
) -> FixedJoints:
    """Fix all joints by the building's own rules, then by those that are installed; nothing unless asked.

    Args:
        parts: of the layout.
        building: what was asked for.
        registry: the installed rules.
        spares: of each kind of anchor the share to buy besides, as its goods have it.

    Raises:
        RuleError: a rule failed, or returned what cannot be.
        UnbuildableError: a rule cannot serve the building.
    """
    if getattr(building, WHERE, None) is None:
        return FixedJoints(findings=tuple(untied(parts, ())))
    pieces = framed_pieces(parts, registry.roles)
    units = [unit_of(each) for each in pieces]
    found = contacts(pieces)
    covers = Covers(found, units)
    near = Surroundings(pieces, units, covers, Driven(), DrivenRows(), Order())
    collected = _Collected(pieces)
    collected.fixings += anchored(parts, pieces, near.driven)
    held = {each.through for each in collected.fixings}
    answers = JointAnswers(building, registry)
    every = joints(found, pieces, units, covers, _braced(parts))
    for joint in every:
        if joint.kind == "base" and pieces[joint.through].piece.mark in held:
            continue
        if not collected.is_held(joint):
            fixing = answers.to(joint.told)
            collected.take(joint, fixing, None if fixing is None else placed(joint, fixing, near))
    seats = [joint for joint in every if is_seat(joint, pieces)]
    return collected.fixed(ties(parts, pieces, seats, answers.tie), parts, building.stock, spares)


def _braced(parts: Sequence[PartOut]) -> Mapping[str, Sequence[tuple[float, float]]]:
    """From where to where each wall has braces, mm along it."""
    return {
        wall.name: [
            (min(brace.foot[0], brace.head[0]), max(brace.foot[0], brace.head[0])) for brace in wall.braces
        ]
        for wall in parts
        if isinstance(wall, WallOut)
    }


class _Collected:
    """What comes of joint after joint."""

    def __init__(self, pieces: Sequence[Framed]) -> None:
        self._pieces = pieces
        self.fixings: list[JointFixingOut] = []
        self._goods: list[tuple[str, Goods]] = []
        self._lacking: dict[tuple[str, str], list[tuple[FoundJoint, FixingFault]]] = defaultdict(list)
        self._unfixed: dict[str, list[FoundJoint]] = defaultdict(list)
        self._held: list[tuple[float, float]] = []
        self._gone_through: set[frozenset[int]] = set()

    def is_held(self, joint: FoundJoint) -> bool:
        """Whether other fixings hold it: what joins three plies joins the two that lie behind too."""
        return frozenset((joint.through, joint.into)) in self._gone_through

    def take(self, joint: FoundJoint, fixing: JointFixing | None, placement: Placement | None) -> None:
        """One joint, what a rule says of it, and where that goes; without ways it goes nowhere."""
        part = self._pieces[joint.through].part
        if fixing is None:
            self._unfixed[part].append(joint)
        if fixing is None or placement is None:
            return
        self.fixings += _told(joint, fixing, placement, self._pieces)
        for fault in placement.faults[-1:]:
            self._lacking[part, fault.what].append((joint, fault))
        if placement.driven and placement.way.way != "skew" and placement.way.fastener.kind == "nail":
            self._held.append((placement.way.fastener.length, joint.told.thickness - joint.gap))
        if placement.driven:
            self._goods.append((part, _goods(placement.way, len(placement.driven))))
        if placement.driven and joint.beyond is not None and not placement.faults:
            self._gone_through.add(frozenset((joint.into, joint.beyond)))

    def fixed(
        self,
        tied: tuple[TieOut, ...],
        parts: Sequence[PartOut],
        stock: Stock,
        spares: Mapping[str, float],
    ) -> FixedJoints:
        """All of it, in the order of the pieces that are gone through; and what is tied down."""
        order = {each.piece.mark: number for number, each in enumerate(self._pieces)}
        last = len(order)
        self.fixings.sort(key=lambda each: (order[each.through], order.get(each.into, last)))
        findings = (*_lacking(self._lacking, self._pieces), *_unfixed(self._unfixed, self._pieces))
        if any(each.way == "through" for each in self.fixings):
            findings = (*findings, END_NAILS.of())
        findings = (*findings, *_short(self._held), *untied(parts, tied))
        part_of = {each.piece.mark: each.part for each in self._pieces}
        goods = (*self._goods, *((part_of[each.from_], sort) for each in tied for sort in _of_tie(each)))
        return FixedJoints(
            tuple(self.fixings), tied, _fixings_list(self.fixings, tied, stock, spares), goods, findings
        )


def _told(
    joint: FoundJoint, fixing: JointFixing, placement: Placement, pieces: Sequence[Framed]
) -> Iterator[JointFixingOut]:
    """What comes out of a joint: one for each time at which some of it is driven."""
    by_time: dict[str | None, list[OneDriven]] = {}
    for each in placement.driven:
        when = None if each.before is None else f"before {pieces[each.before].piece.mark}"
        by_time.setdefault(when, []).append(each)
    fastener = placement.way.fastener
    # What joins walls, or a wall and a floor or roof, can be driven only where both stand.
    stands = placement.raised_first or unit_of(pieces[joint.through]) != unit_of(pieces[joint.into])
    for when, driven in by_time.items() or [(None, [])]:
        yield JointFixingOut(
            joint=joint.kind,
            through=pieces[joint.through].piece.mark,
            into=pieces[joint.into].piece.mark,
            kind=fastener.kind,
            diameter=rounded(fastener.diameter),
            length=rounded(fastener.length),
            shank=fastener.shank,
            way=placement.way.way,
            pilot=placement.pilot,
            when=AFTER_RAISING if when is None and stands else when,
            side=_side(joint, pieces) if joint.kind == "corner" and driven else None,
            places=tuple(
                FixingPlace(head=_place(each.line[0]), point=_place(each.line[1])) for each in driven
            ),
            faults=placement.faults,
            basis=fixing.basis,
        )


def _side(joint: FoundJoint, pieces: Sequence[Framed]) -> Literal["inside", "outside", "bay"]:
    """From where what joins two walls is driven: heads are where the contact does not look."""
    inwards = dot(joint.direction, pieces[joint.through].view.inwards)
    return "inside" if inwards < -CROSSING else "outside" if inwards > CROSSING else "bay"


def _place(place: Vector) -> Vector:
    return rounded(place[0]), rounded(place[1]), rounded(place[2])


Shank = Literal["smooth", "ring", "thread"]


def _fixings_list(
    fixings: Iterable[JointFixingOut], tied: Iterable[TieOut], stock: Stock, spares: Mapping[str, float]
) -> tuple[FixingsRow, ...]:
    """How many of each sort; what bends and drops on top, as the goods have it; and how many boxes."""
    counts: Counter[tuple[str, float, float, Shank]] = Counter()
    for each in fixings:
        counts[each.kind, each.diameter, each.length, each.shank] += len(each.places)
    for tie in tied:
        counts["nail", tie.diameter, tie.nail_length, tie.shank] += tie.nails
    rows = (
        (sort, math.ceil(counts[sort] * (1 + spares.get(sort[0], WASTE)) - 1e-6))
        for sort in sorted(counts)
        if counts[sort]
    )
    return tuple(
        FixingsRow(
            kind=sort[0],
            diameter=sort[1],
            length=sort[2],
            shank=sort[3],
            count=counts[sort],
            with_waste=bought,
            box=box,
            boxes=math.ceil(bought / box) if box else None,
        )
        for sort, bought in rows
        for box in [stock.box_of(*sort[1:3])]
    )


def _of_tie(tie: TieOut) -> Iterator[Goods]:
    """A strap and its nails."""
    yield Goods(GoodsKind(tie.kind, "piece", 0.0, tie.basis), 1.0, (tie.width, tie.thickness, tie.length))
    nail = GoodsKind(f"{tie.shank} shank nail", "piece", WASTE, WASTE_BASIS)
    yield Goods(nail, float(tie.nails), (tie.diameter, tie.nail_length))


def _goods(way: FixingWay, count: int) -> Goods:
    fastener = way.fastener
    name = f"{fastener.shank} shank nail" if fastener.kind == "nail" else "screw"
    return Goods(
        GoodsKind(name, "piece", WASTE, WASTE_BASIS), float(count), (fastener.diameter, fastener.length)
    )


def _lacking(
    lacking: dict[tuple[str, str], list[tuple[FoundJoint, FixingFault]]], pieces: Sequence[Framed]
) -> Iterator[Finding]:
    for (part, what), those in lacking.items():
        worst = min((fault for _, fault in those), key=lambda fault: fault.has - fault.needs)
        marks = dict.fromkeys(pieces[joint.into].piece.mark for joint, _ in those)
        lengths = what != "places"
        yield FIXINGS_LACK.of(
            part=part,
            pieces=tuple(marks),
            value=worst.has,
            limit=worst.needs,
            count=Count(len(those), "joint", "joints"),
            where=part,
            what=what,
            has=Mm(worst.has) if lengths else f"{worst.has:.0f}",
            needs=Mm(worst.needs) if lengths else f"{worst.needs:.0f}",
        )


def _short(held: Sequence[tuple[float, float]]) -> Iterator[Finding]:
    """That nails are shorter than the rule of thumb has it for what they hold: the worst of them."""
    if not held:
        return
    length, thick = min(held, key=lambda each: (each[0] / each[1], each))
    ratio = length / thick
    if ratio < TIMES_HELD:
        yield NAILS_SHORT.of(
            value=round(ratio, 2),
            limit=TIMES_HELD,
            length=Mm(length),
            thick=Mm(round(thick, 1)),
            ratio=f"{ratio:.2g}",
        )


def _unfixed(unfixed: dict[str, list[FoundJoint]], pieces: Sequence[Framed]) -> Iterator[Finding]:
    for part, those in unfixed.items():
        first = those[0]
        marks = dict.fromkeys(pieces[joint.into].piece.mark for joint in those)
        yield JOINTS_UNFIXED.of(
            part=part,
            pieces=tuple(marks),
            count=Count(len(those), "joint", "joints"),
            where=part,
            through=pieces[first.through].piece.mark,
            into=pieces[first.into].piece.mark,
        )
