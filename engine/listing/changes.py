"""What changed, piece by piece: from a wall as designed to it as measured, or from one layout to another."""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Literal

from soleplate.engine.building_file import Mm, Units, format_length
from soleplate.engine.framing import LAPS_WITHIN, Frame
from soleplate.engine.layout import Change, Layout, Piece, WallChanges
from soleplate.engine.listing.findings import LAPS_LOST, MEASURED_OFF, RUN_OFF
from soleplate.engine.rules import Finding
from soleplate.engine.shapes import pairs

CHANGED = 0.0005
"""mm. Less is the same at the resolution of the layout."""

SAME_LINE = 10.0
"""mm. Pieces of a kind in lines over each other are further apart; none is so thin (common practice)."""

LEVEL = 1e-4
"""A slope under this, about 0.006 degrees, is level."""

FAR_OFF = 0.05
"""A twentieth: a wall so far off its drawn length is another wall, or a slip of the tape."""

Pair = tuple[Piece | None, Piece | None]


def layout_changes(before: Layout, after: Layout, was: str) -> tuple[WallChanges, ...]:
    """The parts that differ, in the order of the later layout, then those that are gone; `was` as below."""
    old, new = ({part.name: part.pieces for part in layout.parts} for layout in (before, after))
    found = {name: changes(old.get(name, ()), new.get(name, ()), after.units, was) for name in (new | old)}
    return tuple(
        WallChanges(wall=name, what=_what(name in old, name in new), changes=differing)
        for name, differing in found.items()
        if differing
    )


def _what(was_there: bool, is_there: bool) -> Literal["added", "gone", "kept"]:
    if was_there and is_there:
        return "kept"
    return "added" if is_there else "gone"


def changes(
    before: Sequence[Piece], after: Sequence[Piece], units: Units, was: str = "designed"
) -> tuple[Change, ...]:
    """Every piece that got another length or place, that is new, or that is gone; marks as they are after.

    Pieces of one role on one face, in one course or one line of a slope, are paired in their order along the
    wall, whatever their numbers; where there are more or fewer than before, so that those paired lie at most
    alike places of the wall's length.
    Sentences call what was before `was`: "designed", or "in revision 3".
    """
    paired = itertools.chain.from_iterable(
        _paired(old, new)
        for kind in dict.fromkeys(_kind(piece) for piece in (*before, *after))
        for old, new in _in_lines(
            [p for p in before if _kind(p) == kind], [p for p in after if _kind(p) == kind]
        )
    )
    return tuple(change for pair in paired for change in _changes(*pair, units, was))


def _kind(piece: Piece) -> tuple[str, str | None, int | None, int]:
    """What it is: its role, its face, its course, and which way it slopes."""
    return piece.role, piece.face, piece.course, _line(piece)[0]


def _in_lines(
    old: Sequence[Piece], new: Sequence[Piece]
) -> Iterator[tuple[Sequence[Piece], Sequence[Piece]]]:
    """Pieces of a kind by the lines that they lie in; in one where these are more or fewer than before."""
    before, after = _lines(old), _lines(new)
    if len(before) == len(after):
        yield from zip(before, after, strict=True)
    else:
        yield old, new


def _lines(pieces: Sequence[Piece]) -> list[list[Piece]]:
    """The lowest first."""
    lines: list[list[Piece]] = []
    last = -math.inf
    for height, _, piece in sorted((_line(piece)[1], index, piece) for index, piece in enumerate(pieces)):
        if height - last > SAME_LINE:
            lines.append([])
        lines[-1].append(piece)
        last = height
    return lines


def _line(piece: Piece) -> tuple[int, float]:
    """Which way a piece slopes, 0 where it is level or upright, and how high its lower edge would start, mm.

    Uprights are all in one line.
    """
    (x0, z0), (x1, z1) = max(pairs(piece.outline), key=lambda edge: (round(math.dist(*edge), 3), -edge[0][1]))
    if abs(x1 - x0) < CHANGED:
        return 0, 0.0
    slope = (z1 - z0) / (x1 - x0)
    return (abs(slope) > LEVEL) * (1 if slope > 0 else -1), min(z - slope * x for x, z in piece.outline)


def off_the_drawing(name: str, drawn: float, measured: float, units: Units) -> Iterator[Finding]:
    """What is to be said of a wall that is not as long as its neighbours and the roof expect, mm."""
    if abs(measured - drawn) <= CHANGED:
        return
    yield MEASURED_OFF.of(
        part=name,
        value=round(measured, 3),
        limit=round(drawn, 3),
        level="warn" if abs(measured - drawn) > FAR_OFF * drawn else "note",
        difference=_difference(measured - drawn, units),
        drawn=Mm(drawn, "tape"),
    )


def run_off(
    name: str, drawn: float, measured: Sequence[float], pitch: float, units: Units
) -> Iterator[Finding]:
    """What is to be said of a slope whose runs, at both its ends, are not as drawn, mm and degrees."""
    worst = max(measured, key=lambda run: abs(run - drawn))
    more = worst - drawn
    if abs(more) <= CHANGED:
        return
    yield RUN_OFF.of(
        part=name,
        value=round(worst, 3),
        limit=round(drawn, 3),
        level="warn" if abs(more) > FAR_OFF * drawn else "note",
        difference=_difference(more, units),
        drawn=Mm(drawn, "tape"),
        rise=Mm(abs(more) * math.tan(math.radians(pitch)), ".1f"),
        way="higher" if more > 0 else "lower",
    )


def laps_lost(
    designed: Frame, measured: Frame, breadths: Mapping[str, float], units: Units
) -> Iterator[Finding]:
    """What is to be said where upper plates lapped as designed, and cannot as measured.

    It is said of the wall that butts, once for each corner. `breadths` are the walls' as measured, mm.
    """
    if not any(plate.layer for plate in designed.plates.members):
        return
    for before, now, end in zip(designed.task.joins, measured.task.joins, measured.wall.ends, strict=True):
        if before.lap and not now.lap and not now.runs_through and end.neighbour is not None:
            difference = measured.wall.breadth - breadths[end.neighbour]
            yield LAPS_LOST.of(
                part=measured.wall.name,
                value=round(abs(difference), 3),
                limit=LAPS_WITHIN,
                difference=_difference(difference, units, ("thicker", "thinner")),
                other=end.neighbour,
                most=Mm(LAPS_WITHIN),
            )


@dataclass(frozen=True, slots=True)
class _Spot:
    """Where a piece lies, as shares of the extent of all its kind."""

    along: float
    up: float

    def away(self, other: _Spot) -> float:
        """How unlike two places are."""
        return abs(self.along - other.along) + abs(self.up - other.up)


def _paired(old: Sequence[Piece], new: Sequence[Piece]) -> list[Pair]:
    """Pieces of one role in order along the wall, each with its counterpart or none.

    As many pairs as can be, and of those the ones least apart: the alignment of two sequences (Needleman
    and Wunsch 1970) at no cost for a gap, since the count of gaps is fixed.
    """
    old, new = sorted(old, key=_place), sorted(new, key=_place)
    if len(old) > len(new):
        return [(one, other) for other, one in _paired(new, old)]
    more = len(new) - len(old)
    before, after = _spots(old), _spots(new)
    # costs[i][k]: the first i old pieces paired, k new ones passed over.
    costs = [[0.0] * (more + 1)]
    for i, spot in enumerate(before):
        costs.append([])
        for k in range(more + 1):
            paired = costs[i][k] + spot.away(after[i + k])
            passed = costs[i + 1][k - 1] if k else float("inf")
            costs[i + 1].append(min(paired, passed))
    found: list[Pair] = []
    i, k = len(old), more
    while i or k:
        if k and (i == 0 or costs[i][k] == costs[i][k - 1]):
            found.append((None, new[i + k - 1]))
            k -= 1
        else:
            found.append((old[i - 1], new[i + k - 1]))
            i -= 1
    return found[::-1]


def _place(piece: Piece) -> tuple[float, float]:
    return _left(piece), min(z for _, z in piece.outline)


def _spots(pieces: Sequence[Piece]) -> list[_Spot]:
    places = [_place(piece) for piece in pieces]
    wide = max((x for x, _ in places), default=0.0) or 1.0
    high = max((z for _, z in places), default=0.0) or 1.0
    return [_Spot(x / wide, z / high) for x, z in places]


def _changes(old: Piece | None, new: Piece | None, units: Units, was: str) -> Iterator[Change]:
    if old is None or new is None:
        piece = old or new
        assert piece is not None  # noqa: S101 - a pair has one of them
        what = "gone" if new is None else "added"
        yield Change(
            mark=piece.mark,
            what="gone" if new is None else "added",
            before=old.length if old else None,
            after=new.length if new else None,
            display=f"{piece.mark}, a {piece.role} of {piece.display}, is {what}",
        )
        return
    called = new.mark if new.mark == old.mark else f"{new.mark} ({was} as {old.mark})"
    if abs(new.length - old.length) > CHANGED:
        yield Change(
            mark=new.mark,
            what="length",
            before=old.length,
            after=new.length,
            display=f"{called}, a {new.role}: {new.display} long,"
            f" {_difference(new.length - old.length, units)} than {was}",
        )
    left, now = _left(old), _left(new)
    if abs(now - left) > CHANGED:
        yield Change(
            mark=new.mark,
            what="place",
            before=left,
            after=now,
            display=f"{called}, a {new.role}: at {format_length(now, units)},"
            f" {was} at {format_length(left, units)}",
        )


def _difference(more: float, units: Units, ways: tuple[str, str] = ("longer", "shorter")) -> str:
    """In words; finer than a tape reads, since a rounded length may look the same."""
    way = ways[0] if more > 0 else ways[1]
    return f"{abs(more):.1f} mm {way}" if units == "mm" else f"{abs(more) / 25.4:.2f} in {way}"


def _left(piece: Piece) -> float:
    """Where along its part it is: of what lies in the side of a slope that is its depth."""
    return piece.depth[0] if piece.view == "side" else min(x for x, _ in piece.outline)
