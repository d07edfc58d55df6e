"""Battens: upright ones on the uprights of a face, and raking ones up its slopes."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from typing import Final, NamedTuple

from soleplate.engine.rules.cladding import Battens, Span, Strip
from soleplate.engine.rules.surfaces import Surface
from soleplate.engine.shapes import FINE

LEAST_BATTEN: Final = 100.0
"""mm. A shorter batten cannot be fixed twice without splitting (common practice, no source)."""

Interval = tuple[float, float]
"""Of heights, mm."""


class _Place(NamedTuple):
    """Where an upright batten may stand: beside an opening or not, its left edge, and over what height."""

    gives_way: bool
    left: float
    heights: tuple[Interval, ...]


def raking_batten(
    face: Surface,
    battens: Battens,
    depth: tuple[float, float],
    over_plate: float,
    *,
    row: int = 0,
    on_battens: bool = False,
) -> tuple[float, tuple[Strip, ...]]:
    """A batten up the slopes of a face, if it has any, and how far under its top other battens then end, mm.

    The latter is measured plumb. The batten lies as far under the top as boards reach over the plate.
    """
    if face.level_top is not None:
        return 0.0, ()
    width = battens.section[1]
    slopes = [math.radians(face.top.slope((x0 + x1) / 2)) for (x0, _), (x1, _) in face.top.segments()]
    span = Span(*face.behind, face.top.lowest(*face.behind) - over_plate - 2 * width, face.highest)
    strip = Strip(
        "batten", battens.section, battens.material,
        whole=span, seen=span, depth=depth, course=row, on_battens=on_battens, under=over_plate, raking=True,
    )  # fmt: skip
    return over_plate + max(width / math.cos(slope) for slope in slopes), (strip,)


def upright_battens(face: Surface, battens: Battens, bottom: float, *, under: float = 0.0) -> Iterator[Strip]:
    """A batten on every upright, as high as that is, from `bottom` up to `under` mm below the roof.

    Beside an opening it stands at the opening's edge, since boards end there; where that takes the room of
    another, the other goes on over and under it.
    """
    width = min(battens.section[1], face.behind[1] - face.behind[0])
    heights: dict[tuple[float, float], list[Interval]] = {}
    for stud in face.supports:
        heights.setdefault((stud.near, stud.far), []).append(
            (max(stud.start, bottom), min(stud.end, face.highest))
        )
    places = sorted(
        _Place(*stands, _merged(stretches))
        for (near, far), stretches in heights.items()
        if (stands := _batten_left(face, near, far, width))
    )
    placed: list[tuple[float, Interval]] = []
    for place in places:
        beside = [stretch for left, stretch in placed if abs(left - place.left) < width - FINE]
        for stretch in place.heights:
            placed += [(place.left, rest) for rest in _without(stretch, beside)]
    for left, (start, end) in sorted(placed):
        span = Span(left, left + width, start, end)
        yield Strip(
            "batten",
            battens.section,
            battens.material,
            whole=span,
            seen=span,
            depth=(-battens.section[0], 0.0),
            upright=True,
            under=under,
        )


def framing_battens(face: Surface, battens: Battens, bottom: float, over_plate: float) -> Iterator[Strip]:
    """Battens for level boards: one on every upright, and one up the slopes, which holds the ends there."""
    under, raking = raking_batten(face, battens, (-battens.section[0], 0.0), over_plate)
    yield from upright_battens(face, battens, bottom, under=under)
    yield from raking


def _merged(stretches: Iterable[Interval]) -> tuple[Interval, ...]:
    """Stretches that meet or overlap made one, from the lowest."""
    found: list[Interval] = []
    for start, end in sorted(stretches):
        if found and start <= found[-1][1] + LEAST_BATTEN:
            found[-1] = found[-1][0], max(found[-1][1], end)
        else:
            found.append((start, end))
    return tuple(found)


def _without(stretch: Interval, taken: Iterable[Interval]) -> list[Interval]:
    """What is left of a stretch beside those that are taken, where that is worth a batten."""
    rest = [stretch]
    for start, end in taken:
        rest = [
            part for low, high in rest for part in ((low, min(high, start)), (max(low, end), high))
            if part[1] > part[0]
        ]  # fmt: skip
    return [part for part in rest if part[1] - part[0] >= LEAST_BATTEN]


def _batten_left(face: Surface, near: float, far: float, width: float) -> tuple[bool, float] | None:
    """Whether a stud's batten gives way to others, and its left edge, mm.

    Where its middle, which is fixed, would miss all uprights, there is none.
    """
    wanted = [(True, (near + far - width) / 2)]
    for hole in face.holes:
        if near < hole.left < far + FINE:
            wanted.insert(0, (False, hole.left - width))
            break
        if near - FINE < hole.right < far:
            wanted.insert(0, (False, hole.right))
            break
    for is_free, left in wanted:
        within = min(max(left, face.behind[0]), face.behind[1] - width)
        middle = within + width / 2
        if any(stud.near <= middle <= stud.far for stud in face.supports):
            return is_free and within == left, within
    return None
