"""Boards on lengths: what the search changes, run by run."""

from __future__ import annotations

from bisect import bisect_left, insort
from collections.abc import Mapping, Sequence
from typing import Final, NamedTuple

from soleplate.engine.covering.heading_joints.packing import Cut, Piece
from soleplate.engine.covering.heading_joints.task import Kinds, Run
from soleplate.engine.covering.heading_joints.ways import NANO, Way

EACH_BOARD: Final = 10 * NANO
"""What a board more is held to cost beside its saw cut, so that no joint is made for next to nothing."""


class Taste(NamedTuple):
    """What a rest is held to cost while boards are laid: `each` nm, and `share` hundredths of its length.

    So boards that use up a length are liked, and one long rest is liked better than two short ones.
    """

    each: int
    share: int


class Cutting:
    """Runs made up of boards, and the lengths that these are cut from.

    Runs are known by their place in `runs`. A length without pieces means nothing. `dear` is what a board of
    a size is held to waste in itself, nm.
    """

    def __init__(
        self, runs: Sequence[Run], kinds: Kinds, apart: int, taste: Taste, dear: Mapping[int, int]
    ) -> None:
        self.runs = runs
        self.kinds = kinds
        self.apart = apart
        self.taste = taste
        self.dear = dear
        self.tried = 0
        """Ways looked at so far."""
        self.pieces: list[tuple[Piece, ...]] = []
        """Of each length."""
        self.filled: list[int] = []
        """The room taken up on each length."""
        self._rooms: list[int] = []
        self._rests: list[tuple[int, int]] = []
        """(room left, length) of those that may still take a board, in order."""
        self._laid: list[tuple[Piece, ...]] = [()] * len(runs)
        self._holder: dict[Piece, int] = {}
        self._joints: dict[tuple[str, int], int] = {}
        self._openings: dict[int, tuple[int, int]] = {}
        self._smallest = min(size for run in runs for size in run.span.useful)

    def copy(self) -> Cutting:
        """A copy that can be changed on its own."""
        other = Cutting.__new__(Cutting)
        for name, value in vars(self).items():
            setattr(other, name, value.copy() if isinstance(value, list | dict) else value)
        return other

    @property
    def cost(self) -> int:
        """Of all lengths, each of the cheapest kind that holds its boards."""
        costs, cheapest = self.kinds.costs, self.kinds.cheapest
        return sum([costs[cheapest(filled)] for filled in self.filled if filled])

    @property
    def wastes(self) -> list[int]:
        """What is left over of each length, were it of the kind to buy; 0 for one without boards."""
        rooms, cheapest = self.kinds.rooms, self.kinds.cheapest
        return [rooms[cheapest(filled)] - filled if filled else 0 for filled in self.filled]

    def lay(self, run: int) -> bool:
        """Make up a run, stage by stage, in the way that wastes least; whether there is one."""
        span = self.runs[run].span
        blocked = self._blocked(run)
        open_to_end = span.open_to_end(blocked)
        place, last = 0, len(span.places) - 1
        while place < last:
            ways = [way for way in span.ways(place) if not way.joints & blocked and open_to_end[way.ends[-1]]]
            self.tried += len(ways)
            if not ways:
                self.take_up(run)
                return False
            way = ways[0] if len(ways) == 1 else min(ways, key=lambda way: self._waste_of(way, span.fewest))
            self.put(run, place, way)
            place = way.ends[-1]
        return True

    def put(self, run: int, start: int, way: Way) -> None:
        """Cut the boards of a way, the longest first, from the rests that they fit best or new lengths."""
        span = self.runs[run].span
        pieces = []
        for end in way.ends:
            pieces.append(Piece(dict(span.boards[start])[end], run, start, end))
            start = end
        for piece in sorted(pieces, key=lambda piece: -piece.size):
            at = bisect_left(self._rests, (piece.size, -1))
            cost, kind = self._opening(piece.size)
            if (
                at < len(self._rests)
                and self._held(self._rests[at][0] - piece.size) - self._held(self._rests[at][0]) <= cost
            ):
                self._hold(piece, self._rests[at][1])
            else:
                self._hold(piece, self._open(kind))
        self._laid[run] += tuple(pieces)
        key = self.runs[run].wall, self.runs[run].course
        self._joints[key] = self._joints.get(key, 0) | way.joints

    def take_up(self, run: int) -> None:
        """Put a run's boards back."""
        bits, joints = self.runs[run].span.bits, 0
        for piece in self._laid[run]:
            joints |= bits[piece.end]
            length = self._holder.pop(piece)
            self._fill(length, -piece.size)
            self.pieces[length] = tuple(other for other in self.pieces[length] if other != piece)
        self._laid[run] = ()
        key = self.runs[run].wall, self.runs[run].course
        if joints:
            self._joints[key] &= ~joints

    def recut(self, cut: Cut) -> Cutting:
        """The same boards on other lengths."""
        other = self.copy()
        other.pieces, other.filled, other._rooms, other._rests, other._holder = [], [], [], [], {}
        for pieces in cut:
            length = other._open(self.kinds.cheapest(sum(piece.size for piece in pieces)))
            for piece in pieces:
                other._hold(piece, length)
        return other

    def _blocked(self, run: int) -> int:
        """The supports on which a run may have no joint because of joints in other courses."""
        wall, course = self.runs[run].wall, self.runs[run].course
        found = 0
        for near in range(course - self.apart + 1, course + self.apart):
            found |= self._joints.get((wall, near), 0)
        return found

    def _waste_of(self, way: Way, fewest: Sequence[int | None]) -> int:
        """What cutting the boards of a way as `put` does is held to waste."""
        rests, smallest, (each, share) = self._rests, self._smallest, self.taste
        opened: list[int] = []
        used: list[int] = []
        total = EACH_BOARD * (len(way.ends) + (fewest[way.ends[-1]] or 0))
        dear = self.dear
        for size in way.sizes:
            total += dear.get(size, 0)
            at = bisect_left(rests, (size, -1))
            while at in used:
                at += 1
            room = rests[at][0] if at < len(rests) else 0
            if opened and (again := min([rest for rest in opened if rest >= size], default=0)):
                again = again if not room or again < room else 0
            else:
                again = 0
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
        """What opening a length for a board is held to waste at the least, and the kind that does."""
        known = self._openings.get(size)
        if known is None:
            cost, room = self.kinds.best
            known = self._openings[size] = min(
                (price * room // cost - each + self._held(each - size), kind)
                for kind, (price, each) in enumerate(zip(self.kinds.costs, self.kinds.rooms, strict=True))
                if each >= size
            )
        return known

    def _held(self, rest: int) -> int:
        """What a rest is held to cost: itself, if no board can come from it."""
        return rest if rest < self._smallest else self.taste.each + self.taste.share * rest // 100

    def _open(self, kind: int) -> int:
        self.pieces.append(())
        self.filled.append(0)
        self._rooms.append(self.kinds.rooms[kind])
        return len(self.pieces) - 1

    def _hold(self, piece: Piece, length: int) -> None:
        self.pieces[length] += (piece,)
        self._holder[piece] = length
        self._fill(length, piece.size)

    def _fill(self, length: int, by: int) -> None:
        """Change how much of a length is taken up, and whether it may still take a board."""
        room = self._rooms[length] - self.filled[length]
        if self.filled[length] and room >= self._smallest:
            del self._rests[bisect_left(self._rests, (room, length))]
        self.filled[length] += by
        room -= by
        if self.filled[length] and room >= self._smallest:
            insort(self._rests, (room, length))
