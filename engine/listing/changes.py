"""What changed, piece by piece: from a wall as designed to it as measured, or from one layout to another."""

from __future__ import annotations

import itertools
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Literal

from soleplate.engine.building_file import Mm, Units, format_length
from soleplate.engine.layout import Change, Layout, Piece, WallChanges
from soleplate.engine.listing.findings import MEASURED_OFF
from soleplate.engine.rules import Finding

CHANGED = 0.0005
"""mm. Less is the same at the resolution of the layout."""

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

    Pieces of one role on one face are paired in their order along the wall, whatever their numbers; where
    there are more or fewer than before, so that those paired lie at most alike places of the wall's length.
    Sentences call what was before `was`: "designed", or "in revision 3".
    """
    pairs = itertools.chain.from_iterable(
        _paired([p for p in before if _kind(p) == kind], [p for p in after if _kind(p) == kind])
        for kind in dict.fromkeys(_kind(piece) for piece in (*before, *after))
    )
    return tuple(change for pair in pairs for change in _changes(*pair, units, was))


def _kind(piece: Piece) -> tuple[str, str | None]:
    return piece.role, piece.face


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
    pairs: list[Pair] = []
    i, k = len(old), more
    while i or k:
        if k and (i == 0 or costs[i][k] == costs[i][k - 1]):
            pairs.append((None, new[i + k - 1]))
            k -= 1
        else:
            pairs.append((old[i - 1], new[i + k - 1]))
            i -= 1
    return pairs[::-1]


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


def _difference(more: float, units: Units) -> str:
    """In words; finer than a tape reads, since a rounded length may look the same."""
    way = "longer" if more > 0 else "shorter"
    return f"{abs(more):.1f} mm {way}" if units == "mm" else f"{abs(more) / 25.4:.2f} in {way}"


def _left(piece: Piece) -> float:
    return min(x for x, _ in piece.outline)
