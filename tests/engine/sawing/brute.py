"""The least value of a tiny request by trying every way, sharing nothing with the planner."""

from functools import cache

from soleplate.engine.sawing import SawPlanRequest


def least_value(request: SawPlanRequest) -> float | None:
    """The least money, waste or number bought for a request of one stock; None if it cannot be cut."""
    stock = request.stock[0]
    parts = [
        (part.length, part.grade == "short" and part.length <= request.short_up_to)
        for part in request.parts
        for _ in range(part.count)
    ]
    kinds: list[tuple[float, str, float, bool]] = [(s.length, s.grade, s.price, True) for s in stock.on_hand]
    kinds += [(s.length, s.grade, s.price or 0.0, False) for s in stock.lengths]
    everything = (1 << len(parts)) - 1

    def weight(kind: int) -> float:
        length, _, price, on_hand = kinds[kind]
        return {"cost": price, "waste": length, "lengths": float(not on_hand)}[request.objective]

    def fits(subset: int, kind: int) -> bool:
        length, grade, _, _ = kinds[kind]
        chosen = [part for at, part in enumerate(parts) if subset >> at & 1]
        used = sum(size for size, _ in chosen) + request.kerf * (len(chosen) - 1)
        return used <= length - 2 * request.trim + 1e-9 and (grade == "straight" or all(s for _, s in chosen))

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
