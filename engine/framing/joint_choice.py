"""Where the plates of a wall are jointed, chosen for all of them together.

Plates whose joints lie over one stud hinge there. So joints of different layers keep a wanted distance, and
the sole plate's keep off the studs under theirs. What is chosen has, in this order:

1. the largest least distance between joints of different top layers, up to the one wanted;
2. no joint of the sole plate over a stud with a joint above, where that can be;
3. the fewest parts;
4. the largest least distance from the sole plate's joints to those above, up to the one wanted;
5. the most even parts: the least sum of their squares, in whole mm2;
6. the leftmost joints, of the lowest layer first.

A layer may have one part more than it must, and no more: each joint is a weak place.

The search is exact. `_walk` goes along the wall with one foot on each layer's last joint, and takes
the hindmost foot further, always. What lies ahead depends on nothing but where the feet are, so of all ways
to one stand only the best is kept. A new joint need be compared with the other feet alone: every earlier
joint of theirs was hindmost when it was left, so it lies at or before the joint that the moving foot leaves,
and is further from the new joint than from that one, with which it was compared. Items 1 and 4 are the
largest distances that can be kept, found by halving, since joints that keep a distance keep every
shorter one.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from typing import Final, NamedTuple

EXACTLY: Final = 1e-6
"""mm. What floating point may be off by."""

OFF_A_STUD: Final = 1.0
"""mm. Joints further apart than this are over different studs."""


MOST_STEPS: Final = 5_000_000
"""Of a walk: about a second. A wall of 15 m with studs at 400 has a fifth of it."""


@dataclass(frozen=True, slots=True)
class Stretch:
    """A plate as it is laid, before any cut.

    `places` are where it may be jointed, mm, from left to right. `parts` has the length of each part that can
    be had, mm, by its ends: 0 is the plate's left end, `len(places) + 1` its right end, others count places
    from 1.
    """

    places: tuple[float, ...]
    parts: Mapping[tuple[int, int], float]


@dataclass(frozen=True, slots=True)
class Layer:
    """Plates in one line, from left to right, each of which can be had in parts."""

    stretches: tuple[Stretch, ...]
    is_sole: bool


def choose_joints(layers: Sequence[Layer], apart: float) -> list[tuple[float, ...]]:
    """The joints of each layer, mm; what is best is said above. `apart` is the distance wanted, mm.

    The sole plate comes first. Where the ways to go are over `MOST_STEPS`, which no ordinary wall has, the
    top layers and then the sole plate are chosen one after the other, each the best over those before it.
    """
    if not any(stretch.places for layer in layers for stretch in layer.stretches):
        return [() for _ in layers]
    if _steps(layers) <= MOST_STEPS:
        return _together(layers, apart)
    chosen: dict[int, tuple[float, ...]] = {}
    for index in sorted(range(len(layers)), key=lambda index: layers[index].is_sole):
        before = [_as_chosen(layers[other], joints) for other, joints in chosen.items()]
        chosen[index] = _together([*before, layers[index]], apart)[-1]
    return [chosen[index] for index in range(len(layers))]


def _steps(layers: Sequence[Layer]) -> int:
    """At most so many steps a walk has."""
    places = [sum(len(stretch.places) for stretch in layer.stretches) + 2 for layer in layers]
    return math.prod(places) * max(
        (len(stretch.parts) // (len(stretch.places) + 1) for layer in layers for stretch in layer.stretches),
        default=0,
    )


def _as_chosen(layer: Layer, joints: Sequence[float]) -> Layer:
    """A layer that can be had in one way alone."""
    stretches = []
    for stretch in layer.stretches:
        here = [0, *(number for number, x in enumerate(stretch.places, 1) if x in joints)]
        here.append(len(stretch.places) + 1)
        parts = {(i, i + 1): stretch.parts[pair] for i, pair in enumerate(itertools.pairwise(here))}
        stretches.append(Stretch(tuple(stretch.places[number - 1] for number in here[1:-1]), parts))
    return Layer(tuple(stretches), layer.is_sole)


def _together(layers: Sequence[Layer], apart: float) -> list[tuple[float, ...]]:
    """The joints of all layers at once."""
    lanes = [_Lane.of(layer) for layer in layers]
    if apart <= 0.0:
        return [_cheapest([lane], 0.0, 0.0).joints[0] for lane in lanes]
    tops = [lane for lane in lanes if not lane.is_sole]
    distances = _distances(lanes, apart)
    top = _largest(distances, lambda wanted: _cheapest(tops, wanted, 0.0).found)
    least = min(OFF_A_STUD, apart)
    best = _cheapest(lanes, top, least)
    if not best.found:
        least, best = 0.0, _cheapest(lanes, top, 0.0)
    sole = _largest(
        [least, *(distance for distance in distances if distance > least)],
        lambda wanted: _cheapest(lanes, top, wanted, best.parts).found,
    )
    return list(_cheapest(lanes, top, sole, best.parts).joints)


def least_apart(some: Sequence[float], others: Sequence[float]) -> tuple[float, float]:
    """The least distance between two layers' joints, and the joint of `some` that it is at, mm.

    Both must have joints.
    """
    return min((abs(one - other), one) for one in some for other in others)


_Node = tuple[int, int]
"""A joint by its stretch and its number in there; (0, 0) is the left end of a lane."""

_START: Final[_Node] = (0, 0)


class _Move(NamedTuple):
    """From one joint to the next, or to the right end: the parts that this completes, and their squares."""

    to: _Node
    parts: int
    squares: int


class _Plan(NamedTuple):
    """What a walk costs so far; of two plans the lesser is better."""

    parts: int
    squares: int
    joints: tuple[tuple[float, ...], ...]

    @property
    def found(self) -> bool:
        return self.parts >= 0


_NONE: Final = _Plan(-1, 0, ())


@dataclass(frozen=True, slots=True)
class _Lane:
    """A layer as a walk: what may follow on each joint, and the fewest parts from there to the right end."""

    is_sole: bool
    x: Mapping[_Node, float]
    moves: Mapping[_Node, Sequence[_Move]]
    fewest: Mapping[_Node, int]

    @classmethod
    def of(cls, layer: Layer) -> _Lane:
        end = (len(layer.stretches), 0)
        x: dict[_Node, float] = {end: math.inf}
        moves: dict[_Node, list[_Move]] = {end: []}
        fewest: dict[_Node, int] = {end: 0}
        onward = [_Move(end, 0, 0)]
        for number in reversed(range(len(layer.stretches))):
            stretch = layer.stretches[number]
            last = len(stretch.places) + 1
            for i in reversed(range(last)):
                node = (number, i)
                x[node] = stretch.places[i - 1] if i else -math.inf
                moves[node] = [
                    move
                    for j in range(i + 1, last + 1)
                    if (i, j) in stretch.parts
                    for move in _through(
                        round(stretch.parts[i, j] ** 2), onward if j == last else [_Move((number, j), 0, 0)]
                    )
                ]
                moves[node] = [move for move in moves[node] if move.to in fewest]
                if moves[node]:
                    fewest[node] = min(move.parts + fewest[move.to] for move in moves[node])
            onward = moves[number, 0]
        return cls(layer.is_sole, x, moves, fewest)


def _through(square: int, onward: Sequence[_Move]) -> list[_Move]:
    """The moves that begin with one part more."""
    return [_Move(move.to, move.parts + 1, move.squares + square) for move in onward]


def _cheapest(lanes: Sequence[_Lane], top: float, sole: float, most: int | None = None) -> _Plan:
    """The best plan whose joints keep `top` among top layers and `sole` from the sole plate's; or `_NONE`.

    It has at most so many parts in all: unless told, as few as there can be. These are tried one by one,
    since what has few parts is soon searched.
    """
    fewest = sum(lane.fewest[_START] for lane in lanes)
    for parts in range(fewest, fewest + len(lanes) + 1) if most is None else (most,):
        found = _walk(lanes, top, sole, parts)
        if found.found:
            return found
    return _NONE


def _walk(lanes: Sequence[_Lane], top: float, sole: float, most: int) -> _Plan:
    """The best plan of at most so many parts, or `_NONE`."""
    limits = [lane.fewest[_START] + 1 for lane in lanes]
    stands = {tuple((_START, 0) for _ in lanes): _Plan(0, 0, tuple(() for _ in lanes))}
    best = _NONE
    while stands:
        onward: dict[tuple[tuple[_Node, int], ...], _Plan] = {}
        for stand, plan in stands.items():
            where = [lane.x[node] for lane, (node, _) in zip(lanes, stand, strict=True)]
            x = min(where, default=math.inf)
            if x == math.inf:
                best = plan if not best.found else min(best, plan)
                continue
            foot = where.index(x)
            lane, (node, used) = lanes[foot], stand[foot]
            ahead = sum(each.fewest[at] for each, (at, _) in zip(lanes, stand, strict=True))
            spare = min(limits[foot] - used, most - plan.parts - ahead + lane.fewest[node])
            gaps = [
                (other, sole if lane.is_sole or lanes[k].is_sole else top)
                for k, other in enumerate(where)
                if k != foot and math.isfinite(other)
            ]
            for move in lane.moves[node]:
                if move.parts + lane.fewest[move.to] > spare:
                    continue
                place, joints = lane.x[move.to], plan.joints
                if place < math.inf:
                    if any(abs(place - other) < gap - EXACTLY for other, gap in gaps):
                        continue
                    joints = (*joints[:foot], (*joints[foot], place), *joints[foot + 1 :])
                after = (*stand[:foot], (move.to, used + move.parts), *stand[foot + 1 :])
                made = _Plan(plan.parts + move.parts, plan.squares + move.squares, joints)
                onward[after] = min(made, onward.get(after, made))
        stands = onward
    return best


def _distances(lanes: Sequence[_Lane], apart: float) -> list[float]:
    """All distances between places of different lanes, up to `apart`, which is the last; 0 is the first."""
    places = {x for lane in lanes for x in lane.x.values() if math.isfinite(x)}
    return sorted({0.0, apart, *(b - a for a in places for b in places if 0.0 < b - a < apart)})


def _largest(distances: Sequence[float], can_be: Callable[[float], bool]) -> float:
    """The largest distance that can be; the first of them can."""
    if can_be(distances[-1]):
        return distances[-1]
    low, high = 0, len(distances) - 1
    while high - low > 1:
        middle = (low + high) // 2
        low, high = (middle, high) if can_be(distances[middle]) else (low, middle)
    return distances[low]
