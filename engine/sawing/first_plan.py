"""A first plan in milliseconds: best-fit decreasing.

Longest part first, each on the opened length where it leaves least (Johnson 1974, best-fit
decreasing). Three ways to choose which length to open next are tried; then every bar moves to the
cheapest length that still holds it.
"""

from __future__ import annotations

from bisect import bisect_left, insort
from collections.abc import Callable, Sequence
from fractions import Fraction

from soleplate.engine.sawing.job import Bar, SawJob

Preference = Callable[[int, int], tuple[object, ...]]


def first_plan(job: SawJob) -> list[Bar]:
    """The cheapest of three best-fit-decreasing plans.

    The job must have stock without limit for every part.
    """
    stocks = job.stocks

    def by_room(stock: int, size: int) -> tuple[object, ...]:
        return (Fraction(stocks[stock].cost, stocks[stock].room), -stocks[stock].room)

    def longest(stock: int, size: int) -> tuple[object, ...]:
        return (-stocks[stock].room, stocks[stock].cost)

    def cheapest(stock: int, size: int) -> tuple[object, ...]:
        each = stocks[stock].room // size
        return (Fraction(stocks[stock].cost, each), -stocks[stock].room)

    available = [stock.available for stock in stocks]
    plans = [best_fit(job, job.demands, available, prefer) for prefer in (by_room, longest, cheapest)]
    return min((plan for plan in plans if plan is not None), key=job.cost)


def best_fit(
    job: SawJob, demands: Sequence[int], available: Sequence[int], prefer: Preference
) -> list[Bar] | None:
    """Best-fit decreasing of `demands` on the lengths `available`; None if these do not suffice."""
    left = list(available)
    opened: list[tuple[int, list[int]]] = []
    rooms: tuple[list[tuple[int, int]], list[tuple[int, int]]] = ([], [])
    by_size = sorted(range(len(job.parts)), key=lambda part: (-job.parts[part].size, job.parts[part].short))
    for part in by_size:
        size, short = job.parts[part].size, job.parts[part].short
        for _ in range(demands[part]):
            held = _tightest(rooms, size, either=short)

            # No opened length has room: another is opened.
            if held is None:
                choice = [
                    stock
                    for stock, kind in enumerate(job.stocks)
                    if left[stock] > 0 and kind.room >= size and (short or not kind.short)
                ]
                if not choice:
                    return None
                stock = min(choice, key=lambda stock: (prefer(stock, size), stock))
                left[stock] -= 1
                opened.append((stock, [0] * len(job.parts)))
                held = (job.stocks[stock].room, len(opened) - 1)

            room, bar = held
            stock, pattern = opened[bar]
            pattern[part] += 1
            insort(rooms[job.stocks[stock].short], (room - size, bar))

    return _downsized(job, [Bar(stock, tuple(pattern)) for stock, pattern in opened], left)


def _tightest(
    rooms: tuple[list[tuple[int, int]], list[tuple[int, int]]], size: int, *, either: bool
) -> tuple[int, int] | None:
    """Take out the opened length with least room for `size`: straight ones, or `either` grade."""
    fits = []
    for grade in (0, 1) if either else (0,):
        at = bisect_left(rooms[grade], (size, -1))
        if at < len(rooms[grade]):
            fits.append((rooms[grade][at], grade, at))
    if not fits:
        return None
    held, grade, at = min(fits)
    del rooms[grade][at]
    return held


def _downsized(job: SawJob, bars: list[Bar], left: list[int]) -> list[Bar]:
    """Each bar on the cheapest length that holds it and is not used up."""
    result = []
    for bar in bars:
        filled = job.filled(bar.pattern)
        straight = any(bar.pattern[job.shorts :])

        # The bar's own length is among those to choose from.
        left[bar.stock] += 1
        stock = min(
            (
                stock
                for stock, kind in enumerate(job.stocks)
                if left[stock] > 0 and kind.room >= filled and not (straight and kind.short)
            ),
            key=lambda stock: (job.stocks[stock].cost, job.stocks[stock].room, stock),
        )
        left[stock] -= 1
        result.append(Bar(stock, bar.pattern))
    return result
