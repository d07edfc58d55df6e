"""Whether the courses of one wall can keep the rule at all, searched to the end.

A joint that can be left out only makes it easier for other courses, so none but the joints of least sets are
tried: those of which no one can be left out for want of a board long enough.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Final

from soleplate.engine.covering.heading_joints.task import Run
from soleplate.engine.covering.heading_joints.ways import Span, Way

MOST_STEPS: Final = 20_000
"""Choices of joints looked at before a wall is given up."""


@dataclass(frozen=True, slots=True)
class Kept:
    """A way for every run that keeps the rule together; `None` where none was found.

    `stuck` is then the run that was never reached past, and `proven` tells that there is no way.
    """

    ways: tuple[Way, ...] | None
    stuck: int
    proven: bool


def keep_apart(runs: Sequence[Run], apart: int, most_steps: int = MOST_STEPS) -> Kept:
    """Ways for one wall's runs, by rising course, so that joints on a support are `apart` courses apart."""
    dead: set[tuple[int, tuple[tuple[int, int], ...]]] = set()
    chosen: list[Way] = []
    near: list[tuple[tuple[int, int], ...]] = [()]
    options = [_least_ways(runs[0].span, 0)]
    steps = furthest = 0
    while options:
        at = len(chosen)
        steps += 1
        if steps > most_steps:
            return Kept(None, furthest, proven=False)
        way = next(options[-1], None)
        if way is None:
            dead.add((at, near[-1]))
            options.pop()
            near.pop()
            if chosen:
                chosen.pop()
            continue
        if at + 1 == len(runs):
            return Kept((*chosen, way), at, proven=True)
        course = runs[at + 1].course
        joints = (*near[-1], (runs[at].course, way.joints))
        recent = _by_course(each for each in joints if each[0] > course - apart)
        if (at + 1, recent) in dead:
            continue
        blocked = 0
        for _, bits in recent:
            blocked |= bits
        furthest = max(furthest, at + 1)
        chosen.append(way)
        near.append(recent)
        options.append(_least_ways(runs[at + 1].span, blocked))
    return Kept(None, furthest, proven=True)


def most_apart(runs: Sequence[Run], below: int) -> int:
    """The most courses that joints on one support can be kept apart: less than `below`, at least 1."""
    return next((apart for apart in range(below - 1, 1, -1) if keep_apart(runs, apart).ways), 1)


def _by_course(joints: Iterator[tuple[int, int]]) -> tuple[tuple[int, int], ...]:
    together: dict[int, int] = {}
    for course, bits in joints:
        together[course] = together.get(course, 0) | bits
    return tuple(sorted((course, bits) for course, bits in together.items() if bits))


def _least_ways(span: Span, blocked: int) -> Iterator[Way]:
    """Least sets of joints on supports that are not blocked."""
    open_to_end = span.open_to_end(blocked)
    last = len(span.places) - 1
    path: list[tuple[int, int]] = []

    def extended(before: int | None, place: int, joints: int) -> Iterator[Way]:
        if place == last:
            ends, sizes = zip(*path, strict=True)
            yield Way(joints, ends, tuple(sorted(sizes, reverse=True)))
            return
        beyond = {end for end, _ in span.boards[before]} if before is not None else set()
        for end, size in reversed(span.boards[place]):
            if open_to_end[end] and end not in beyond:
                path.append((end, size))
                yield from extended(place, end, joints | span.bits[end])
                path.pop()

    return extended(None, 0, 0)
