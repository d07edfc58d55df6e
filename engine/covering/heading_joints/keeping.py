"""Whether the courses of one wall can keep their joints apart at all: a search through all choices.

Leaving out a joint only makes it easier for other courses. So only least sets of joints are tried: those of
which none can be left out, for want of a board long enough.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Final

from soleplate.engine.covering.heading_joints.task import PlacedRun
from soleplate.engine.covering.heading_joints.ways import RunSpan, Way

MOST_STEPS: Final = 20_000
"""Choices of joints looked at before a wall is given up."""


Joints = tuple[tuple[int, int], ...]
"""(course, the supports with a joint in it as bits), by rising course."""


@dataclass(frozen=True, slots=True)
class Kept:
    """A way for every run, which keep the rule together; `None` where none were found.

    `stuck` is then the run that the search never got past, and `proven` says whether there are none.
    """

    ways: tuple[Way, ...] | None
    stuck: int
    proven: bool


def keep_apart(runs: Sequence[PlacedRun], apart: int, most_steps: int = MOST_STEPS) -> Kept:
    """Ways for one wall's runs, given by rising course, with joints on one support `apart` courses apart.

    Depth first, a run at each level. All that the runs above must know of those below is which supports have
    joints in the last courses; a state from which the search came back empty is never entered again.
    """
    dead: set[tuple[int, Joints]] = set()

    # Of each level: the way chosen, the joints in recent courses below, and the ways not tried yet.
    chosen: list[Way] = []
    below: list[Joints] = [()]
    untried = [_least_ways(runs[0].span, 0)]

    steps = furthest = 0
    while untried:
        level = len(chosen)
        steps += 1
        if steps > most_steps:
            return Kept(None, furthest, proven=False)

        # No way is left here: remember that, and go back a level.
        way = next(untried[-1], None)
        if way is None:
            dead.add((level, below[-1]))
            untried.pop()
            below.pop()
            if chosen:
                chosen.pop()
            continue

        if level + 1 == len(runs):
            return Kept((*chosen, way), level, proven=True)

        # Only joints less than `apart` courses below the next run can stand in its way.
        course = runs[level + 1].course
        joints = (*below[-1], (runs[level].course, way.joints))
        recent = _by_course(each for each in joints if each[0] > course - apart)
        if (level + 1, recent) in dead:
            continue

        blocked = 0
        for _, supports in recent:
            blocked |= supports

        furthest = max(furthest, level + 1)
        chosen.append(way)
        below.append(recent)
        untried.append(_least_ways(runs[level + 1].span, blocked))

    return Kept(None, furthest, proven=True)


def most_apart(runs: Sequence[PlacedRun], below: int) -> int:
    """The most courses that joints on one support can be kept apart: less than `below`, at least 1."""
    return next((apart for apart in range(below - 1, 1, -1) if keep_apart(runs, apart).ways), 1)


def _by_course(joints: Iterator[tuple[int, int]]) -> Joints:
    """Joints of one course taken together; courses without any are left out."""
    together: dict[int, int] = {}
    for course, bits in joints:
        together[course] = together.get(course, 0) | bits
    return tuple(sorted((course, bits) for course, bits in together.items() if bits))


def _least_ways(span: RunSpan, blocked: int) -> Iterator[Way]:
    """Ways with least sets of joints, on supports that are not blocked; long boards first."""
    open_to_end = span.open_to_end(blocked)
    last = len(span.places) - 1
    path: list[tuple[int, int]] = []

    def extended(before: int | None, place: int, joints: int) -> Iterator[Way]:
        """Ways that begin as `path` does, whose last board goes from `before` to `place`."""
        if place == last:
            ends, sizes = zip(*path, strict=True)
            yield Way(joints, ends, tuple(sorted(sizes, reverse=True)))
            return

        # A board from the place before may reach on to `end`: then the joint here could be left out.
        beyond = {end for end, _ in span.onward[before]} if before is not None else set()
        for end, size in reversed(span.onward[place]):
            if open_to_end[end] and end not in beyond:
                path.append((end, size))
                yield from extended(place, end, joints | span.bits[end])
                path.pop()

    return extended(None, 0, 0)
