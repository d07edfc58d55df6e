"""The least value of a tiny request by trying every way, sharing nothing with the planner."""

from collections.abc import Callable, Sequence
from functools import cache

from soleplate.engine.sawing import SawPlanRequest

Part = tuple[float, bool]
"""Its length, and whether it may come from bent lengths."""

Kind = tuple[float, str, float, bool]
"""A length, its grade and price, and whether it is on hand."""


def least_value(request: SawPlanRequest) -> float | None:
    """The least money, waste or number bought for a request of one stock; None if it cannot be cut."""
    stock = request.stock[0]
    parts = [
        (part.length, part.grade == "short" and part.length <= request.short_up_to)
        for part in request.parts
        for _ in range(part.count)
    ]
    kinds: list[Kind] = [(s.length, s.grade, s.price, True) for s in stock.on_hand]
    kinds += [(s.length, s.grade, s.price or 0.0, False) for s in stock.lengths]
    holds = holding(request, kinds)
    everything = (1 << len(parts)) - 1

    def weight(kind: int) -> float:
        length, _, price, on_hand = kinds[kind]
        return {"cost": price, "waste": length, "lengths": float(not on_hand)}[request.objective]

    def fits(subset: int, kind: int) -> bool:
        return holds([part for at, part in enumerate(parts) if subset >> at & 1], kinds[kind])

    @cache
    def rest(left: int, kept: tuple[int, ...]) -> float:
        if not left:
            return 0.0
        first = left & -left
        best = float("inf")
        others = left ^ first
        subset = others
        while True:
            bar = subset | first
            for kind in range(len(kinds)):
                if (kind >= len(kept) or kept[kind]) and fits(bar, kind):
                    after = tuple(n - (at == kind) for at, n in enumerate(kept))
                    best = min(best, weight(kind) + rest(left ^ bar, after))
            if not subset:
                return best
            subset = (subset - 1) & others

    least = rest(everything, tuple(each.count for each in stock.on_hand))
    if least == float("inf"):
        return None
    return least - (sum(size for size, _ in parts) if request.objective == "waste" else 0.0)


def holding(request: SawPlanRequest, kinds: Sequence[Kind]) -> Callable[[Sequence[Part], Kind], bool]:
    """Whether parts can be cut from one length: with the margin left over, or one by itself from the longest
    that may yield it, where that is too short for the margin."""

    def whole(kind: Kind) -> float:
        return kind[0] - 2 * request.trim

    def spared(kind: Kind) -> float:
        return whole(kind) - min(request.margin, whole(kind) / 2)

    def holds(parts: Sequence[Part], kind: Kind) -> bool:
        used = sum(size for size, _ in parts) + request.kerf * (len(parts) - 1) - 1e-9
        short = all(part[1] for part in parts)
        if kind[1] == "short" and not short:
            return False
        longest = max((each for each in kinds if short or each[1] == "straight"), key=whole)
        is_tight = len(parts) == 1 and used > spared(longest) and whole(kind) == whole(longest)
        return used <= (whole(kind) if is_tight else spared(kind))

    return holds
