"""The order of work as lines of text, to be read on the site or in a terminal."""

from __future__ import annotations

from collections.abc import Iterator

from soleplate.api.work import OrderAnswer
from soleplate.engine.layout import CAUTIONS, BlockedWay, InTheWay, OrderOfWork, WorkStep


def order_lines(answer: OrderAnswer) -> Iterator[str]:
    """The steps, or what is in the way; then what was found, and the usual cautions."""
    order = answer.order_of_work
    if order is None:
        yield "walls on their own have no order"
    elif order.possible is None:
        yield "the order of work was not found out"
    elif order.possible:
        yield from _steps(order)
    else:
        yield from _in_the_way(order)
    for finding in answer.findings:
        place = f" {finding.part}:" if finding.part else ""
        yield f"{finding.level}:{place} {finding.message} [{finding.code}; {finding.basis}]"
    for caution in CAUTIONS:
        yield f"caution: {caution}"


def _steps(order: OrderOfWork) -> Iterator[str]:
    sequences = "" if order.orders is None else f"; the walls can be raised in {order.orders} sequences"
    yield f"best order of {order.states} sets of standing walls{sequences}"
    for step in order.steps:
        yield from _step(step)
    if order.hours is not None:
        yield f"{order.hours.dry:.1f} h that have to be dry, {order.hours.under_cover:.1f} h under cover"
    if order.closed_in is not None:
        after, short = order.closed_in.after, order.closed_in.short_hours
        yield f"the roof is on after {after}" if after else f"{short:.1f} dry hours short of a roof"


def _step(step: WorkStep) -> Iterator[str]:
    people = "1 person" if step.people == 1 else f"{step.people} people"
    lift = f", {step.weight_kg:.0f} kg, {step.peak_kg:.0f} kg of it to lift at once" if step.peak_kg else ""
    when = f", {step.during}" if step.during else ""
    yield f"{step.number:3d}  {step.display} ({people}{lift}, {step.hours:.2f} h{when})"
    for brace in step.braces:
        yield f"     braces of {brace.wall}: {brace.where}, off after step {brace.off_after}"
    for reason in step.reasons:
        yield f"     {reason}"


def _in_the_way(order: OrderOfWork) -> Iterator[str]:
    yield "no order: at the most these stand together"
    for names in order.furthest:
        yield f"  {', '.join(names) or 'none'}"
    for way in order.ways:
        yield f"  {_way(way)}"
    for each in order.in_the_way:
        yield f"  {_change(each)}"
    for helps in order.may_help:
        yield f"  {helps.display}"


def _way(way: BlockedWay) -> str:
    how = f" {way.how}" if way.how else ""
    near = [f"{name} by {short:.0f} mm" for name, short in way.obstacles.items()]
    braces = [f"no brace for {name}" for name in way.braces]
    width = [] if way.width is None else [f"no way broader than {way.width:.0f} mm"]
    inside = ", ".join([*way.walls, *near, *braces, *width])
    return f"{way.wall}, {way.way}{how}: {inside or 'nothing'} in the way"


def _change(each: InTheWay) -> str:
    changes = [
        f"{word} {by:.0f} mm{where}"
        for word, by, where in (
            ("raised by", each.raise_, ""),
            ("cut down by", each.lower, ""),
            ("pushed back by", each.push, f" at edge {each.edge}"),
        )
        if by is not None
    ]
    names = " and ".join(each.obstacles)
    if changes:
        return f"there is an order with {names} {', or '.join(changes)}"
    return f"there is an order without {names}"
