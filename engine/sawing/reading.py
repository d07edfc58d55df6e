"""From bars to what is read at the saw: cuts in order with running positions."""

from __future__ import annotations

from collections import Counter, deque
from collections.abc import Sequence

from soleplate.engine.sawing.answer import BuyingLine, SawCut, SawLength
from soleplate.engine.sawing.faults import Key
from soleplate.engine.sawing.job import Bar
from soleplate.engine.sawing.jobs import Offer, SectionJob, SinglePart
from soleplate.engine.sawing.request import SawPlanRequest


def saw_lengths(
    request: SawPlanRequest, task: SectionJob, bars: Sequence[Bar], set_ups: int
) -> list[SawLength]:
    """Lengths alike together, those on hand first, long parts first on each.

    Set-ups are numbered from `set_ups` + 1.
    """
    rank = {
        kind: place
        for place, kind in enumerate(
            sorted(range(len(task.pieces)), key=lambda k: (-task.job.parts[k].size, k))
        )
    }

    def in_order(bar: Bar) -> list[tuple[int, int, int]]:
        return sorted((rank[kind], -count, kind) for kind, count in enumerate(bar.pattern) if count)

    left = [deque(kind) for kind in task.pieces]
    lengths = []
    previous = None
    for bar in sorted(bars, key=lambda bar: (bar.stock, in_order(bar))):
        pieces = [left[kind].popleft() for _, minus, kind in in_order(bar) for _ in range(-minus)]
        # Part types may hold lengths that were rounded to one size: those are no set-up together.
        alike = bar.stock, [round(piece.length, 3) for piece in pieces]
        set_ups += alike != previous
        previous = alike
        lengths.append(_saw_length(request, task.key, task.offers[bar.stock], pieces, set_ups))
    return lengths


def _saw_length(
    request: SawPlanRequest, key: Key, offer: Offer, pieces: Sequence[SinglePart], set_up: int
) -> SawLength:
    start = request.trim
    cuts = []
    for piece in pieces:
        cuts.append(
            SawCut(
                mark=piece.mark,
                length=round(piece.length, 3),
                from_=round(start, 3),
                to=round(start + piece.length, 3),
            )
        )
        start += piece.length + request.kerf
    return SawLength(
        section=key[0],
        material=key[1],
        stock_length=offer.length,
        on_hand=offer.on_hand,
        grade="short" if offer.grade == "short" else "straight",
        price=offer.price / 100,
        cuts=tuple(cuts),
        offcut=round(max(offer.length - request.trim - start, 0.0), 3),
        set_up=set_up,
    )


def buying(lengths: Sequence[SawLength]) -> tuple[BuyingLine, ...]:
    """Lengths alike counted, in the order in which they first come."""
    alike = Counter((s.section, s.material, s.stock_length, s.on_hand, s.grade, s.price) for s in lengths)
    return tuple(
        BuyingLine(
            section=section,
            material=material,
            stock_length=length,
            on_hand=on_hand,
            grade=grade,
            count=count,
            cost=round(round(price * 100) * count / 100, 2),
        )
        for (section, material, length, on_hand, grade, price), count in alike.items()
    )
