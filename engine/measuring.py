"""What changed, piece by piece, between a wall as designed and the same wall as measured."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from soleplate.engine.layout import Change, Piece
from soleplate.engine.units import Units, format_length

CHANGED = 0.0005
"""mm. Less is the same at the resolution of the layout."""


def changes(designed: Sequence[Piece], measured: Sequence[Piece], units: Units) -> tuple[Change, ...]:
    """Every piece that got another length or place, that is new, or that is gone, by mark."""
    return tuple(_changes({p.mark: p for p in designed}, {p.mark: p for p in measured}, units))


def _changes(before: dict[str, Piece], after: dict[str, Piece], units: Units) -> Iterator[Change]:
    for mark in [*before, *(mark for mark in after if mark not in before)]:
        old, new = before.get(mark), after.get(mark)
        if new is None or old is None:
            piece = old or new
            assert piece is not None  # noqa: S101 - the mark is of one of them
            what = "gone" if new is None else "added"
            yield Change(
                mark=mark,
                what="gone" if new is None else "added",
                designed=old.length if old else None,
                measured=new.length if new else None,
                display=f"{mark}, a {piece.role} of {piece.display}, is {what}",
            )
            continue
        if abs(new.length - old.length) > CHANGED:
            yield Change(
                mark=mark,
                what="length",
                designed=old.length,
                measured=new.length,
                display=f"{mark}, a {new.role}: {new.display} long, designed {old.display}",
            )
        was, now = _left(old), _left(new)
        if abs(now - was) > CHANGED:
            yield Change(
                mark=mark,
                what="place",
                designed=was,
                measured=now,
                display=f"{mark}, a {new.role}: at {format_length(now, units)},"
                f" designed {format_length(was, units)}",
            )


def _left(piece: Piece) -> float:
    return min(x for x, _ in piece.outline)
