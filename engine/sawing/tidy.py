"""Of equally good plans, one that is easier to saw.

Parts are moved and exchanged between lengths. The lengths stay what they are, so the objective cannot change.
What counts is first fewer set-ups (different ways of cutting a length), then fewer different parts on each
length, then one long offcut rather than many short ones. This is a local search: it proves nothing.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence

from soleplate.engine.sawing.job import Bar, SawJob

Pattern = tuple[int, ...]
Pair = tuple[Pattern, Pattern]


def free_first(job: SawJob, bars: Sequence[Bar]) -> list[Bar]:
    """Parts moved to lengths that add nothing to the objective, as those on hand, while any are left.

    Each such length, the longest first, takes the largest parts that fit, from lengths that do add
    something; these keep at least one part.
    """
    result = list(bars)
    left = [stock.available for stock in job.stocks]
    for bar in bars:
        left[bar.stock] -= 1

    free = [stock for stock, kind in enumerate(job.stocks) if not kind.cost]
    free.sort(key=lambda stock: -job.stocks[stock].room)
    by_size = sorted(range(len(job.parts)), key=lambda part: -job.parts[part].size)

    for stock in free:
        for _ in range(left[stock]):
            pattern, room = [0] * len(job.parts), job.stocks[stock].room
            for part in by_size:
                while part < job.allowed(stock) and job.parts[part].size <= room:
                    giver = _giver(job, result, part)
                    if giver is None:
                        break
                    result[giver] = Bar(result[giver].stock, _swapped(result[giver].pattern, part, None))
                    pattern[part] += 1
                    room -= job.parts[part].size
            # What one such length cannot be given, the next of its kind cannot either.
            if not any(pattern):
                break
            result.append(Bar(stock, tuple(pattern)))
    return result


def _giver(job: SawJob, bars: Sequence[Bar], part: int) -> int | None:
    """Of the lengths that can spare this part, the one that is then left with most room."""
    able = [
        (job.stocks[bar.stock].room - job.filled(bar.pattern), at)
        for at, bar in enumerate(bars)
        if job.stocks[bar.stock].cost and bar.pattern[part] and sum(bar.pattern) > 1
    ]
    return max(able, key=lambda each: (each[0], -each[1]))[1] if able else None


def tidied(job: SawJob, bars: Sequence[Bar], trials: int) -> list[Bar]:
    """The bars, improved by at most `trials` looks at a change."""
    result = sorted(bars, key=lambda bar: (bar.stock, bar.pattern))
    rooms = [job.stocks[bar.stock].room - job.filled(bar.pattern) for bar in result]
    set_ups = Counter(result)

    # Each pair of lengths takes the change that gains most, until no pair has one.
    improved = True
    while improved and trials > 0:
        improved = False
        for one in range(len(result)):
            for other in range(one + 1, len(result)):
                if trials <= 0:
                    return result
                trials -= 1
                if result[one] == result[other]:
                    continue

                best, change, longest = None, (0, 0, 0), max(rooms)
                for pair in _changes(job, result[one], result[other], rooms[one], rooms[other]):
                    trials -= 1
                    gain = _gain(job, (result[one], result[other]), pair, set_ups, longest)
                    if gain < change:
                        best, change = pair, gain

                if best is not None:
                    improved = True
                    for place, pattern in zip((one, other), best, strict=True):
                        _drop(set_ups, result[place])
                        result[place] = Bar(result[place].stock, pattern)
                        set_ups[result[place]] += 1
                        rooms[place] = job.stocks[result[place].stock].room - job.filled(pattern)
    return result


def _drop(set_ups: Counter[Bar], bar: Bar) -> None:
    set_ups[bar] -= 1
    if not set_ups[bar]:
        del set_ups[bar]


def _changes(job: SawJob, one: Bar, other: Bar, room: int, other_room: int) -> Iterator[Pair]:
    """Both patterns after moving one part across, or exchanging two."""
    mine: list[int | None] = [None, *(part for part, count in enumerate(one.pattern) if count)]
    theirs: list[int | None] = [None, *(part for part, count in enumerate(other.pattern) if count)]
    for give in mine:
        for take in theirs:
            if give == take:
                continue
            given = 0 if give is None else job.parts[give].size
            taken = 0 if take is None else job.parts[take].size
            if taken - given > room or given - taken > other_room:
                continue
            if (take is not None and take >= job.allowed(one.stock)) or (
                give is not None and give >= job.allowed(other.stock)
            ):
                continue
            changed = _swapped(one.pattern, give, take), _swapped(other.pattern, take, give)
            if any(changed[0]) and any(changed[1]):
                yield changed


def _swapped(pattern: Pattern, give: int | None, take: int | None) -> Pattern:
    counts = list(pattern)
    if give is not None:
        counts[give] -= 1
    if take is not None:
        counts[take] += 1
    return tuple(counts)


def _gain(
    job: SawJob, old: tuple[Bar, Bar], pair: Pair, set_ups: Counter[Bar], longest: int
) -> tuple[int, int, int]:
    """What a change does to set-ups, different parts and (negated) the longest offcut."""
    new = tuple(Bar(bar.stock, pattern) for bar, pattern in zip(old, pair, strict=True))

    # A set-up leaves where no other length has it, and arrives where none had it but these two.
    leaving = sum(count == set_ups[bar] for bar, count in Counter(old).items())
    kept = Counter(old)
    arriving = sum(set_ups.get(bar, 0) - kept.get(bar, 0) <= 0 for bar in set(new))
    stops = sum(sum(map(bool, bar.pattern)) for bar in new) - sum(sum(map(bool, bar.pattern)) for bar in old)
    left = max(job.stocks[bar.stock].room - job.filled(bar.pattern) for bar in new)
    return arriving - leaving, stops, min(longest - left, 0)
