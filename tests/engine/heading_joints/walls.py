"""Clad walls made up for tests and benchmarks."""

from __future__ import annotations

import itertools
import random
from collections.abc import Sequence

from soleplate.engine.covering.heading_joints import BoardOnSale, CourseRun

Hole = tuple[float, float, float, float]
"""Left, right, bottom, top, mm."""

USUAL = tuple(BoardOnSale(length) for length in (2400.0, 3000.0, 3600.0, 4200.0))

BREADTH = 45.0


def even(left: float, right: float, centres: float) -> list[float]:
    """Centre lines of the fewest studs, evenly spread, that are no more than `centres` apart."""
    number = 0
    while (bay := (right - left - number * BREADTH) / (number + 1)) > centres - BREADTH:
        number += 1
    return [left + bay * (k + 1) + BREADTH * k + BREADTH / 2 for k in range(number)]


def wall(
    name: str, length: float, height: float, cover: float, holes: Sequence[Hole] = (), centres: float = 600.0
) -> list[CourseRun]:
    """The runs of a wall's courses: studs even between end studs and those beside openings."""
    half = BREADTH / 2
    fixed = [half, length - half]
    for left, right, _, _ in holes:
        fixed += [left - 3 * half, left - half, right + half, right + 3 * half]
    fixed.sort()
    studs = list(fixed)
    for one, other in itertools.pairwise(fixed):
        if other - one > centres and not any(left < (one + other) / 2 < right for left, right, _, _ in holes):
            studs += even(one + half, other - half, centres)
    studs.sort()
    runs = []
    for course in range(1, int(height // cover) + 1):
        bottom, top = (course - 1) * cover - 20, course * cover - 20
        stretches = [(0.0, length)]
        for left, right, low, high in holes:
            if top > low and bottom < high:
                stretches = [
                    part
                    for one, other in stretches
                    for part in ((one, min(other, left - 5)), (max(one, right + 5), other))
                    if part[1] > part[0]
                ]
        for one, other in stretches:
            runs.append(CourseRun(name, course, one, other, tuple(x for x in studs if one < x < other)))
    return runs


def shed() -> list[CourseRun]:
    """Four walls 4500 and 2560 long, with double doors, a wide window and a small one."""
    return [
        *wall("front", 4500, 2236, 125, [(1500, 3000, 0, 1880)]),
        *wall("right", 2560, 2100, 125, [(830, 1730, 950, 1650)]),
        *wall("back", 4500, 1960, 125, [(1020, 3480, 1100, 1700)]),
        *wall("left", 2560, 2100, 125),
    ]


def some_wall(seed: int) -> list[CourseRun]:
    """A wall of 3 to 7.5 m with a door or a window or none, or both."""
    rng = random.Random(seed)
    length = rng.choice((3000.0, 3600.0, 4200.0, 4500.0, 4800.0, 5400.0, 6000.0, 7500.0)) + rng.choice(
        (0, 0, 140)
    )
    holes: list[Hole] = []
    if rng.random() < 0.6:
        left = rng.randrange(300, int(length / 2) - 950) if length > 2600 else 300
        holes.append((left, left + 900.0, 0.0, 1980.0))
    if rng.random() < 0.6:
        left = rng.randrange(int(length / 2) + 100, int(length) - 1000)
        holes.append((left, left + rng.choice((600.0, 750.0)), 950.0, 1750.0))
    return wall("w", length, rng.choice((2100.0, 2400.0)), rng.choice((95.0, 110.0, 125.0, 140.0)), holes)
