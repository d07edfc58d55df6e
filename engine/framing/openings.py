"""Openings framed by their rules: each by itself, then fitted to those above and below it."""

from __future__ import annotations

import itertools
from collections.abc import Callable, Sequence
from dataclasses import replace

from soleplate.engine.building_file import Mm, Reach, Room, UnbuildableError, at_least
from soleplate.engine.framing.stack_fitting import fitted, ground_of
from soleplate.engine.framing.stacks import above_each_other, reached, stacked
from soleplate.engine.framing.tasks import FramingTask
from soleplate.engine.registry import Asked, Registry
from soleplate.engine.rules import Beside, FramedOpening, Hole, OpeningRule, Wall
from soleplate.engine.shapes import TOUCH


def frame_openings(wall: Wall, task: FramingTask, asked: Asked, room: Room) -> list[FramedOpening]:
    """The framing of each opening beside others, as its rule makes it.

    Raises:
        TooManyPiecesError: there are more timbers than `room` for them.
        UnbuildableError: one cannot be framed, or two are too near to each other.
        RuleError: a rule failed, or returned what cannot be.
    """
    framings: list[FramedOpening] = []
    for index, hole in enumerate(wall.holes):
        framings.append(_framed(index, hole, wall, task, asked))
        room = room.after(len(framings[-1].members))
    _refuse_crowding(wall, framings, task, lambda one, other: False)
    return framings


def frame_walls_openings(
    wall: Wall, task: FramingTask, asked: Asked, registry: Registry, room: Room
) -> tuple[Wall, list[FramedOpening]]:
    """The wall with the holes that are left, and the framing of each, beside and above each other.

    Raises:
        TooManyPiecesError: there are more timbers than `room` for them.
        UnbuildableError: one cannot be framed, or two are too near to each other.
        RuleError: a rule failed, or returned what cannot be.
    """
    holes = list(wall.holes)
    stack = stacked(holes)
    beside = {index: _beside(index, wall, task, asked, registry) for index in stack}
    for index, reach in reached(holes, beside, loaded=wall.carries_roof).items():
        holes[index] = replace(holes[index], reach=reach)
    framings: dict[int, FramedOpening] = {}
    # Of a stack the lowest comes first: others stand over it.
    for index in sorted(
        range(len(holes)), key=lambda i: (i in stack, holes[i].bottom if i in stack else 0.0)
    ):
        if index in stack:
            under = [framings[i] for i in stack if i in framings]
            holes[index] = replace(holes[index], ground=ground_of(holes[index], under))
        framings[index] = _framed(index, holes[index], wall, task, asked)
        _blame_past(holes[index], framings[index], task.rules.framings[index], asked)
        room = room.after(len(framings[index].members))
        if (top := framings[index].top) is not None:
            holes[index] = replace(holes[index], top=top)
    wall = replace(wall, holes=tuple(holes))
    made = fitted(wall, [framings[index] for index in range(len(holes))], stack, task)
    _refuse_crowding(wall, made, task, above_each_other)
    return wall, made


def _framed(index: int, hole: Hole, wall: Wall, task: FramingTask, asked: Asked) -> FramedOpening:
    rule = task.rules.framings[index]
    lowest = wall.underside.lowest(hole.left, hole.right)
    if hole.top > lowest + TOUCH:
        raise UnbuildableError.at(
            task.pointer_to_height(index),
            "its top at {top} is over the underside of the top plate there, {lowest}",
            top=Mm(hole.top, ".0f"),
            lowest=Mm(lowest, ".0f"),
        )
    framing = asked(rule, rule.frame_opening, hole, wall, pointer=task.pointer(index))
    framing = asked.whole(rule, framing, FramedOpening)
    return replace(framing, members=asked.mark(rule, framing.members))


def _beside(index: int, wall: Wall, task: FramingTask, asked: Asked, registry: Registry) -> Beside:
    """What a stacked opening's rule stands beside it.

    Raises:
        UnbuildableError: it frames none above or below another.
        RuleError: it failed, or returned what cannot be.
    """
    rule = task.rules.framings[index]
    answer = asked(rule, rule.stands_beside, wall.holes[index], wall, pointer=task.pointer(index))
    if answer is not None:
        return asked.whole(rule, answer, Beside)
    others = [
        each.name
        for each in registry.of_family(rule.family)
        if issubclass(each.model, OpeningRule) and each.model.stands_beside is not OpeningRule.stands_beside
    ]
    raise UnbuildableError.at(
        task.pointer(index),
        f"{rule.name} frames no opening above or below another; accepted are {', '.join(others)}, or openings"
        " beside each other",
    )


def _blame_past(hole: Hole, framing: FramedOpening, rule: OpeningRule, asked: Asked) -> None:
    """Refuse timbers past the uprights of another opening that this one is framed up to.

    Raises:
        RuleError: there are some.
    """
    left, right = hole.reach
    for member in framing.members:
        if (left is not None and member.left < left - TOUCH) or (
            right is not None and member.right > right + TOUCH
        ):
            raise asked.fault(
                rule,
                f"stood a {member.role} from {member.left:.1f} to {member.right:.1f} mm, past the uprights of"
                " another opening that it was told to frame up to (Hole.reach)",
                "overlap",
            )


def _refuse_crowding(
    wall: Wall, framings: Sequence[FramedOpening], task: FramingTask, apart: Callable[[Hole, Hole], bool]
) -> None:
    """Refuse framings that stand in each other, but of two holes that are `apart`, or in a tee."""
    placed = sorted(enumerate(framings), key=lambda pair: pair[1].left)
    for place, (index, after) in enumerate(placed):
        for other, before in reversed(placed[:place]):
            pair = wall.holes[index], wall.holes[other]
            if after.left >= before.right - TOUCH or apart(*pair):
                continue
            left, right = sorted(pair, key=lambda hole: hole.left)
            if left.reach[1] is not None or right.reach[0] is not None:
                raise UnbuildableError.at(
                    task.pointer(index),
                    "it and {other}, side by side above or below another opening, would each be framed up to"
                    " studs beyond the other; accepted are a lower opening with the rule trimmed whose lintel"
                    " carries what is above it, or openings above each other alone",
                    other=wall.holes[other].name,
                )
            raise UnbuildableError.at(
                f"{task.pointer(index)}/at",
                "its framing starts at {left}, and that of the opening to its left ends at {right};"
                " accepted is {more} more between them",
                left=Mm(after.left, ".0f"),
                right=Mm(before.right, ".0f"),
                more=at_least(before.right - after.left, ".0f"),
            )
    for tee, (index, framing) in itertools.product(wall.tees, placed):
        if framing.left < tee.centre + tee.depth / 2 and tee.centre - tee.depth / 2 < framing.right:
            raise UnbuildableError.at(
                f"{task.pointer(index)}/at",
                "{partition} meets the wall at {centre}, within the opening's framing ({framing})",
                partition=tee.partition,
                centre=Mm(tee.centre, ".0f"),
                framing=Reach(framing.left, framing.right, ".0f"),
            )
