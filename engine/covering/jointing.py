"""Heading joints of all lengths of boards: those of one kind of timber are planned together."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass, replace

from soleplate.engine.building_file import Count, LengthYield, Mm, Room, Stock, said
from soleplate.engine.covering.boards import Length
from soleplate.engine.covering.findings import JOINTS_NEAR, JOINTS_SAVE, JOINTS_SAVE_NOTHING
from soleplate.engine.covering.heading_joints import (
    EFFORT,
    BoardOnSale,
    CourseRun,
    JointPlan,
    JointRules,
    JointTask,
    joint_task,
    plan_joints,
)
from soleplate.engine.layout import BoardCount, BoardsOut
from soleplate.engine.rules import CladdingRule, Finding, Strip, Surface
from soleplate.engine.shapes import rounded

Sale = tuple[BoardOnSale, ...]


@dataclass(frozen=True, slots=True)
class Kind:
    """Lengths that are cut from the same boards and keep the same rules; `numbers` are their places."""

    sale: Sale
    rules: JointRules
    numbers: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class JointedBoards:
    """The joints of each length, mm along it, the longest to be had for each, and what is found."""

    joints: tuple[tuple[float, ...], ...]
    longest: tuple[float, ...]
    findings: tuple[tuple[Surface, Finding], ...]
    bought: tuple[BoardsOut, ...]


@dataclass(frozen=True, slots=True)
class _Planned:
    """One kind planned: the joints of each of its lengths, the plans they come from, and what is found."""

    joints: Sequence[tuple[float, ...]]
    plans: Sequence[JointPlan]
    findings: Sequence[tuple[Surface, Finding]]

    @property
    def value(self) -> float:
        """The money for all boards, or mm of timber where there are no prices."""
        return sum(plan.value for plan in self.plans)

    @property
    def count(self) -> int:
        """How many joints there are."""
        return sum(map(len, self.joints))


def heading_joints(
    lengths: Sequence[Length], rules: Sequence[CladdingRule], stock: Stock, room: Room
) -> JointedBoards:
    """Where each length is jointed; `rules` are the lengths' own.

    Where a wall cannot keep joints as far apart as they should be, they are as far apart as they can be
    there, and that is told. A length that cannot be jointed at all stays whole. Where more joints than the
    fewest are asked for, what they save is told.

    Raises:
        TooManyPiecesError: whatever the joints, there are more boards than `room` for them.
    """
    sales = _sales(lengths, rules, stock)
    joints: list[tuple[float, ...]] = [()] * len(lengths)
    findings: list[tuple[Surface, Finding]] = []
    bought: list[BoardsOut] = []
    kinds = _kinds(lengths, rules, sales, stock)
    room.after(sum(len(kind.numbers) for kind in kinds))
    tasks: list[JointTask] = []
    for kind in kinds:
        tasks.append(_task(kind, lengths, stock))
        room = room.after(tasks[-1].fewest_boards)
    for kind, task in zip(kinds, tasks, strict=True):
        planned = _planned(kind, task, lengths)
        if not kind.rules.fewest:
            fewest = replace(kind, rules=replace(kind.rules, fewest=True))
            planned = _saving(
                planned, _planned(fewest, _task(fewest, lengths, stock), lengths), kind, lengths
            )
        findings += planned.findings
        bought.append(_bought(lengths[kind.numbers[0]].strip, planned.plans))
        for number, places in zip(kind.numbers, planned.joints, strict=True):
            joints[number] = places
    longest = tuple(_longest(sale, stock).alone for sale in sales)
    return JointedBoards(tuple(joints), longest, tuple(findings), tuple(bought))


def _task(kind: Kind, lengths: Sequence[Length], stock: Stock) -> JointTask:
    own = [lengths[number] for number in kind.numbers]
    asked = _runs(own, _longest(kind.sale, stock), fewest=kind.rules.fewest)
    return joint_task(asked, kind.sale, kind.rules)


def _planned(kind: Kind, task: JointTask, lengths: Sequence[Length]) -> _Planned:
    """The joints of one kind; layers that cannot keep them apart are planned anew by themselves."""
    runs = task.runs
    # Few battens are too long for a length: there is nothing to choose that the saw plan does not.
    plan = task.plan(EFFORT if lengths[kind.numbers[0]].role.covers else 0)
    found, plans = plan.all_joints(runs), [plan]
    findings: list[tuple[Surface, Finding]] = []
    for layer, apart in _broken(plan).items():
        own = [index for index, run in enumerate(runs) if run.wall == layer]
        those = [runs[index] for index in own]
        eased = plan_joints(those, kind.sale, replace(kind.rules, courses_apart=apart))
        plans.append(eased)
        for index, places in zip(own, eased.all_joints(those), strict=True):
            found[index] = places
        surface = lengths[kind.numbers[own[0]]].surface
        findings.append((surface, _near(surface, apart, kind.rules.courses_apart)))
    return _Planned(found, plans, findings)


def _saving(more: _Planned, fewest: _Planned, kind: Kind, lengths: Sequence[Length]) -> _Planned:
    """That with `more` joints where it saves anything beside that with the fewest, and what is to be said."""
    first = lengths[kind.numbers[0]]
    if not first.role.covers:
        return fewest
    saved = fewest.value - more.value
    boards = said(
        f"{first.strip.role}s of {{thickness}} x {{width}}",
        thickness=Mm(first.strip.section.breadth, bare=True),
        width=Mm(first.strip.section.depth),
    )
    if saved <= 0.0 or more.count <= fewest.count:
        told = JOINTS_SAVE_NOTHING.of(value=0.0, boards=boards)
        return replace(fewest, findings=[*fewest.findings, (first.surface, told)])
    extra = more.count - fewest.count
    told = JOINTS_SAVE.of(
        value=round(saved, 3),
        joints=Count(extra, "heading joint", "heading joints"),
        share=100.0 * saved / fewest.value,
        what="timber" if kind.sale[0].price is None else "price",
        boards=boards,
    )
    return replace(more, findings=[*more.findings, (first.surface, told)])


def _bought(strip: Strip, plans: Sequence[JointPlan]) -> BoardsOut:
    """What the plans of one kind take; parts planned by themselves have no bound in common."""
    counts = Counter(cut.stock.length for plan in plans for cut in plan.lengths)
    whole = len(plans) == 1 and not plans[0].faults
    return BoardsOut(
        role=strip.role,
        section=(rounded(strip.section[0]), rounded(strip.section[1])),
        material=strip.material,
        lengths=tuple(
            BoardCount(length=rounded(length), count=count) for length, count in sorted(counts.items())
        ),
        value=rounded(sum(plan.value for plan in plans)),
        bound=rounded(plans[0].bound) if whole else None,
    )


def _sales(lengths: Sequence[Length], rules: Sequence[CladdingRule], stock: Stock) -> list[Sale]:
    """The lengths on sale for each length; there are thousands of few kinds."""
    known: dict[object, Sale] = {}
    found = []
    for length, rule in zip(lengths, rules, strict=True):
        key = (tuple(rule.lengths or ()), length.role.covers, length.strip.section, length.strip.material)
        if key not in known:
            known[key] = _sale(rule, length, stock)
        found.append(known[key])
    return found


def _sale(rule: CladdingRule, length: Length, stock: Stock) -> Sale:
    """The lengths on sale, untrimmed: the rule's own for its boards, else those of the stock."""
    own = {each for each in rule.lengths or () if stock.yields(each).alone}
    if own and length.role.covers:
        return tuple(BoardOnSale(each) for each in sorted(own))
    strip = length.strip
    listed = {row.length: row.cost for row in stock.on_sale(strip.section, strip.material)}
    priced = all(price is not None for price in listed.values())
    found = tuple(BoardOnSale(each, price if priced else None) for each, price in sorted(listed.items()))
    return found or (BoardOnSale(stock.longest_sold(strip.section, strip.material)),)


def _longest(sale: Sale, stock: Stock) -> LengthYield:
    """What the longest board on sale yields."""
    return stock.yields(max(row.length for row in sale))


def _kinds(
    lengths: Sequence[Length], rules: Sequence[CladdingRule], sales: Sequence[Sale], stock: Stock
) -> list[Kind]:
    groups: dict[object, list[int]] = {}
    for number, (length, rule, sale) in enumerate(zip(lengths, rules, sales, strict=True)):
        if not length.role.sheet:
            strip = length.strip
            section = tuple(rounded(side) for side in strip.section)
            key = (section, strip.material, sale, rule.joints, rule.joints_apart, rule.least_board)
            groups.setdefault(key, []).append(number)
    return [
        Kind(
            sales[numbers[0]],
            JointRules(
                courses_apart=rules[numbers[0]].joints_apart,
                least_board=rules[numbers[0]].least_board,
                kerf=stock.kerf,
                trim=stock.trim,
                margin=stock.margin,
                fewest=rules[numbers[0]].joints == "fewest",
            ),
            tuple(numbers),
        )
        for numbers in groups.values()
    ]


def _runs(lengths: Sequence[Length], longest: LengthYield, *, fewest: bool) -> list[CourseRun]:
    """What is planned; upright boards are counted from left to right as courses are upwards.

    `longest` is what the longest board to be had yields.
    """
    lefts: dict[str, set[float]] = {}
    for length in lengths:
        lefts.setdefault(_layer(length), set()).add(length.strip.whole.left)
    columns = {
        name: {left: number for number, left in enumerate(sorted(all_))} for name, all_ in lefts.items()
    }
    found = []
    for length in lengths:
        name, strip = _layer(length), length.strip
        course = columns[name][strip.whole.left] if strip.upright else strip.course
        start, end = length.ends
        places = length.places(longest, fewest=fewest) if strip.jointed else ()
        found.append(CourseRun(name, course, start, end, places))
    return found


def _layer(length: Length) -> str:
    """What is planned as a wall: the boards at one depth on one surface. No part's name has a tab."""
    name, facing = length.surface.key
    return f"{name}\t{facing}\t{length.strip.depth[1]:.3f}"


def _broken(plan: JointPlan) -> dict[str, int]:
    """The layers that cannot keep the rule, each with how many courses apart its joints can be."""
    return {fault.wall: fault.courses_apart or 1 for fault in plan.faults if fault.reason == "rule"}


def _near(surface: Surface, apart: int, wanted: int) -> Finding:
    kept = "one over the other" if apart == 1 else f"{apart} courses apart"
    return JOINTS_NEAR.of(
        part=surface.part, value=float(apart), limit=float(wanted), kept=kept, wanted=wanted
    ).after(surface.where)
