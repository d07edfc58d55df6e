"""What heading joints are chosen from, and what is chosen. Lengths and places are mm along the runs."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal


@dataclass(frozen=True, slots=True)
class CourseRun:
    """A stretch of one course between openings and edges, to be made up of boards end to end.

    `left` and `right` are its ends over long points; both are always allowed as ends of boards. `supports`
    are the centre lines that a heading joint may stand on, in any order; those outside the run are passed
    over. Runs with the same `wall` share supports: joints on one support are told apart by `course`.
    """

    wall: str
    course: int
    left: float
    right: float
    supports: tuple[float, ...] = ()

    @property
    def length(self) -> float:
        """Over long points, mm."""
        return self.right - self.left


@dataclass(frozen=True, slots=True)
class BoardOnSale:
    """A length of board on sale, mm; `price` of one in money. Either all on sale have a price, or none."""

    length: float
    price: float | None = None


@dataclass(frozen=True, slots=True)
class JointRules:
    """What every joint and every cut keeps to.

    Joints on one support are at least `courses_apart` courses apart; 2 means never in adjacent courses
    (NBS clause on heading joints: over supports, at least two board widths apart on one support). A board
    is not shorter than `least_board` unless it is a whole run. Lengths bought lose `trim` at each end (its
    saw cut included) and `kerf` between boards, and `margin` of each is left over. A board that nothing lets
    be shorter may take up the margin of the longest. With the `fewest` a run has no more boards than it must,
    unless the joints beside it leave no other way; else it may have more where that saves timber.
    """

    courses_apart: int = 2
    least_board: float = 0.0
    kerf: float = 3.0
    trim: float = 0.0
    margin: float = 0.0
    fewest: bool = False


@dataclass(frozen=True, slots=True)
class LaidBoard:
    """A board of a run; `run` is the run's index among those asked for."""

    run: int
    left: float
    right: float

    @property
    def length(self) -> float:
        """Over long points, mm."""
        return self.right - self.left


@dataclass(frozen=True, slots=True)
class CutLength:
    """A length bought and what is cut from it: indices into the plan's `boards`, longest first."""

    stock: BoardOnSale
    boards: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class JointFault:
    """Why a run cannot be jointed.

    `too-far`: no support within reach of the longest board in the gap from `left` to `right`.
    `too-short`: joints are within reach, but each choice has a board under the least length.
    `rule`: each course by itself can be jointed, but not so many together; `courses_apart` is then the most
    that can be kept to in this wall, 1 where joints must fall on one support in adjacent courses.
    """

    reason: Literal["too-far", "too-short", "rule"]
    run: int
    wall: str
    course: int
    left: float
    right: float
    message: str
    courses_apart: int | None = None


@dataclass(frozen=True, slots=True)
class JointPlan:
    """The boards of every run, left to right and run by run, and the lengths that they are cut from.

    Runs that a fault names have no boards, nor has any other run of a wall whose fault is `rule`: nothing is
    relaxed. `value` is the money for all lengths, or mm of timber bought where there are no prices; no choice
    of joints and cuts has a lower value than `bound`. `least_lengths` is likewise the fewest lengths that do.
    """

    boards: tuple[LaidBoard, ...]
    lengths: tuple[CutLength, ...]
    value: float
    bound: float
    least_lengths: int
    faults: tuple[JointFault, ...] = ()

    @property
    def gap(self) -> float:
        """How far `value` may be above the least there is, as a share of the bound."""
        return self.value / self.bound - 1.0 if self.bound else 0.0

    def joints(self, run: int) -> tuple[float, ...]:
        """The places of one run's heading joints, left to right."""
        return tuple(board.left for board in self.boards if board.run == run)[1:]

    def all_joints(self, runs: Sequence[CourseRun]) -> list[tuple[float, ...]]:
        """The places of every run's heading joints, for all `runs` that were asked for."""
        found: list[list[float]] = [[] for _ in runs]
        for board in self.boards:
            if board.left > runs[board.run].left:
                found[board.run].append(board.left)
        return [tuple(places) for places in found]
