"""Boards on lengths: the state that the search changes, run by run."""

from __future__ import annotations

from bisect import bisect_left, insort
from collections.abc import Mapping, Sequence
from typing import Final, NamedTuple

from soleplate.engine.covering.heading_joints.job import JointRules
from soleplate.engine.covering.heading_joints.packing import CutBoard, Packing
from soleplate.engine.covering.heading_joints.task import Kinds, PlacedRun
from soleplate.engine.covering.heading_joints.ways import NANO, RunSpan, Way

EACH_BOARD: Final = 10 * NANO
"""What each board counts for beside its saw cut, so that no joint is made for next to nothing."""


class RestCost(NamedTuple):
    """What a rest counts for while boards are laid: `each` nm, and `share` hundredths of its length.

    So boards that use up a length are preferred, and one long rest is preferred to two short ones.
    """

    each: int
    share: int


class Cutting:
    """Runs made up of boards, and the lengths that these are cut from.

    Runs are known by their place in `runs`. A length without boards is not bought. `dear` says what a board
    of a size counts for as waste in itself, nm.
    """

    def __init__(
        self,
        runs: Sequence[PlacedRun],
        kinds: Kinds,
        rules: JointRules,
        rest_cost: RestCost,
        dear: Mapping[int, int],
    ) -> None:
        self.runs = runs
        self.kinds = kinds
        self.rules = rules
        self.rest_cost = rest_cost
        self.dear = dear

        self.tried = 0
        """Ways looked at so far."""
        self.chosen = 0
        """How often there was more than one way."""
        self.boards: list[tuple[CutBoard, ...]] = []
        """The boards on each length."""
        self.filled: list[int] = []
        """The room taken up on each length."""

        self._rooms: list[int] = []
        """The room of each length."""
        self._rests: list[tuple[int, int]] = []
        """(room left, length) of those that may still take a board, by rising room."""
        self._laid: list[tuple[CutBoard, ...]] = [()] * len(runs)
        """The boards of each run."""
        self._length_of: dict[CutBoard, int] = {}
        self._joints: dict[tuple[str, int], int] = {}
        """The supports with a joint, as bits, by wall and course."""
        self._openings: dict[int, tuple[int, int]] = {}
        """What `_opening` returned, by size."""
        self._smallest = min(size for run in runs for size in run.span.useful)

    def copy(self) -> Cutting:
        """A copy that can be changed on its own."""
        other = Cutting.__new__(Cutting)
        for name, value in vars(self).items():
            setattr(other, name, value.copy() if isinstance(value, list | dict) else value)
        return other

    @property
    def cost(self) -> int:
        """The cost of all lengths, each of the cheapest kind that holds its boards."""
        costs, cheapest = self.kinds.costs, self.kinds.cheapest
        return sum([costs[cheapest(filled)] for filled in self.filled if filled])

    @property
    def wastes(self) -> list[int]:
        """What is left over of each length, were it of the kind to buy; 0 for one without boards."""
        rooms, cheapest = self.kinds.rooms, self.kinds.cheapest
        return [rooms[cheapest(filled)] - filled if filled else 0 for filled in self.filled]

    def lay(self, run: int) -> bool:
        """Make up a run, stage by stage, in the way that wastes least; returns whether there is one."""
        span = self.runs[run].span
        blocked = self._blocked(run)
        open_to_end = span.open_to_end(blocked)

        place, last = 0, len(span.places) - 1
        while place < last:
            ways = self._open_ways(span, place, blocked, open_to_end)
            if not ways:
                self.take_up(run)
                return False

            way = ways[0]
            if len(ways) > 1:
                self.chosen += 1
                way = min(ways, key=lambda way: self._waste_of(way, span.fewest))
            self.put(run, place, way)
            place = way.ends[-1]
        return True

    def _open_ways(
        self, span: RunSpan, place: int, blocked: int, open_to_end: Sequence[bool]
    ) -> Sequence[Way]:
        """The ways on from a place that keep the rule; where asked, those of the fewest boards alone."""
        for fewest in (True, False) if self.rules.fewest else (False,):
            # A stage must not end where no boards lead on.
            ways = [
                way
                for way in span.ways(place, fewest=fewest)
                if not way.joints & blocked and open_to_end[way.ends[-1]]
            ]
            self.tried += len(ways)
            if ways:
                return ways
        return ()

    def put(self, run: int, start: int, way: Way) -> None:
        """Cut the boards of a way, the longest first, from the rests that they fit best or new lengths."""
        span = self.runs[run].span
        boards = []
        for end in way.ends:
            boards.append(CutBoard(span.size_of[start][end], run, start, end))
            start = end

        for board in sorted(boards, key=lambda board: -board.size):
            # The tightest rest is taken, unless what becomes of it counts for more than opening a length.
            at = bisect_left(self._rests, (board.size, -1))
            cost, kind = self._opening(board.size)
            if (
                at < len(self._rests)
                and self._cost_of_rest(self._rests[at][0] - board.size)
                - self._cost_of_rest(self._rests[at][0])
                <= cost
            ):
                self._hold(board, self._rests[at][1])
            else:
                self._hold(board, self._open(kind))

        self._laid[run] += tuple(boards)
        key = self.runs[run].wall, self.runs[run].course
        self._joints[key] = self._joints.get(key, 0) | way.joints

    def take_up(self, run: int) -> None:
        """Take a run's boards off their lengths, and forget its joints."""
        bits, joints = self.runs[run].span.bits, 0
        for board in self._laid[run]:
            joints |= bits[board.end]
            length = self._length_of.pop(board)
            self._fill(length, -board.size)
            self.boards[length] = tuple(other for other in self.boards[length] if other != board)
        self._laid[run] = ()

        key = self.runs[run].wall, self.runs[run].course
        if joints:
            self._joints[key] &= ~joints

    def recut(self, packing: Packing) -> Cutting:
        """A copy with the same boards on other lengths."""
        other = self.copy()
        other.boards, other.filled, other._rooms, other._rests, other._length_of = [], [], [], [], {}
        for boards in packing:
            length = other._open(self.kinds.cheapest(sum(board.size for board in boards)))
            for board in boards:
                other._hold(board, length)
        return other

    def _blocked(self, run: int) -> int:
        """The supports on which a run may have no joint because of joints in other courses."""
        wall, course = self.runs[run].wall, self.runs[run].course
        found = 0
        apart = self.rules.courses_apart
        for near in range(course - apart + 1, course + apart):
            found |= self._joints.get((wall, near), 0)
        return found

    def _waste_of(self, way: Way, fewest: Sequence[int | None]) -> int:
        """What cutting the boards of a way counts for as waste, nm, were it cut as `put` does.

        This is called for every way that is looked at, and so it works with plain numbers on the rests as
        they are, and changes nothing.
        """
        rests, smallest, (each, share) = self._rests, self._smallest, self.rest_cost
        dear = self.dear

        # Every board counts, those still to come in later stages among them.
        total = EACH_BOARD * (len(way.ends) + (fewest[way.ends[-1]] or 0))

        # What earlier boards of this way have changed: places in `rests` that they used, and rests they left.
        used: list[int] = []
        opened: list[int] = []

        for size in way.sizes:
            total += dear.get(size, 0)

            # The tightest rest that no board of this way has used.
            at = bisect_left(rests, (size, -1))
            while at in used:
                at += 1
            room = rests[at][0] if at < len(rests) else 0

            # A rest that this way has left itself, where that is tighter.
            if opened and (again := min([rest for rest in opened if rest >= size], default=0)):
                again = again if not room or again < room else 0
            else:
                again = 0

            # Cut from that rest, if what becomes of it counts for no more than opening a length.
            cost, kind = self._openings.get(size) or self._opening(size)
            if tight := again or room:
                rest = tight - size
                change = (rest if rest < smallest else each + share * rest // 100) - (
                    each + share * tight // 100
                )
                if change <= cost:
                    total += change
                    if again:
                        opened.remove(again)
                    else:
                        used.append(at)
                    if rest >= smallest:
                        opened.append(rest)
                    continue

            total += cost
            opened.append(self.kinds.rooms[kind] - size)

        return total

    def _opening(self, size: int) -> tuple[int, int]:
        """What opening a length for a board counts for as waste at the least, and which kind has that."""
        known = self._openings.get(size)
        if known is None:
            # A kind that is dear for its room wastes what its price would buy more at the lowest price.
            cost, room = self.kinds.best
            known = self._openings[size] = min(
                (price * room // cost - each + self._cost_of_rest(each - size), kind)
                for kind, (price, each) in enumerate(zip(self.kinds.costs, self.kinds.rooms, strict=True))
                if each >= size
            )
        return known

    def _cost_of_rest(self, rest: int) -> int:
        """What a rest counts for: all of it, if no board can come from it."""
        return rest if rest < self._smallest else self.rest_cost.each + self.rest_cost.share * rest // 100

    def _open(self, kind: int) -> int:
        """Open a length of a kind; returns its number."""
        self.boards.append(())
        self.filled.append(0)
        self._rooms.append(self.kinds.rooms[kind])
        return len(self.boards) - 1

    def _hold(self, board: CutBoard, length: int) -> None:
        self.boards[length] += (board,)
        self._length_of[board] = length
        self._fill(length, board.size)

    def _fill(self, length: int, by: int) -> None:
        """Change how much of a length is taken up, and with it the rests that may still take a board."""
        room = self._rooms[length] - self.filled[length]
        if self.filled[length] and room >= self._smallest:
            del self._rests[bisect_left(self._rests, (room, length))]

        self.filled[length] += by
        room -= by

        # One without boards is not bought, and so it is no rest.
        if self.filled[length] and room >= self._smallest:
            insort(self._rests, (room, length))
