"""Saw-plan requests made from fixed seeds.

`uniform` and `triplets` follow the class descriptions of Falkenauer (A hybrid grouping genetic algorithm
for bin packing, Journal of Heuristics 2, 1996): uniform sizes 20 to 100 in a capacity of 150; triplets
that fill a capacity of 1000 exactly, so that the best plan has a third as many lengths as there are parts.
"""

import random
from collections import Counter
from typing import Any

from soleplate.engine.sawing import SawPlanRequest, read_request


def _packing(name: str, sizes: list[int], capacity: int, seconds: float) -> SawPlanRequest:
    parts = [
        {"name": f"{name}-{size}", "length": size, "count": n} for size, n in sorted(Counter(sizes).items())
    ]
    stock = [{"lengths": [{"length": capacity, "price": 1}]}]
    return read_request(
        {"parts": parts, "stock": stock, "kerf": 0, "objective": "lengths", "time_budget_s": seconds}
    )


def uniform(count: int, seed: int, seconds: float) -> SawPlanRequest:
    chance = random.Random(f"uniform {count} {seed}")
    return _packing("u", [chance.randint(20, 100) for _ in range(count)], 150, seconds)


def triplets(count: int, seed: int, seconds: float) -> SawPlanRequest:
    chance = random.Random(f"triplets {count} {seed}")
    sizes = []
    for _ in range(count // 3):
        first = chance.randint(380, 490)
        second = chance.randint(250, (1000 - first) // 2)
        sizes += [first, second, 1000 - first - second]
    return _packing("t", sizes, 1000, seconds)


def timber(seed: int, seconds: float, *, offcuts: bool = False, valued: bool = False) -> SawPlanRequest:
    """20 to 200 parts of 10 to 60 lengths from 60 to 3600 mm, five lengths on sale, kerf 3.

    With `offcuts` up to eight kinds on hand, some bent, and parts up to 900 mm that may come from these;
    `valued` offcuts count for money, odd to the hundredth.
    """
    chance = random.Random(f"timber {seed}")
    count = chance.randint(20, 200)
    kinds = min(count, chance.randint(10, 60))
    lengths = [chance.randint(60, 3600) for _ in range(kinds)]
    counts = [1] * kinds
    for _ in range(count - kinds):
        counts[chance.randrange(kinds)] += 1
    metre = chance.uniform(1.5, 4.0)
    sale = [
        {"length": length, "price": round(metre * length / 1000 * chance.uniform(0.93, 1.07) * 20) / 20}
        for length in (2400, 3000, 3600, 4200, 4800)
    ]
    parts: list[dict[str, Any]] = []
    for index, (length, number) in enumerate(zip(lengths, counts, strict=True)):
        grade = "short" if offcuts and length <= 900 and chance.random() < 0.5 else "straight"
        parts.append({"name": f"P{index}", "length": length, "count": number, "grade": grade})
    kept: list[dict[str, Any]] = []
    for _ in range(chance.randint(1, 8) if offcuts else 0):
        length = chance.randint(400, 3000)
        price = round(metre * length / 1000 * chance.uniform(0.3, 0.8), 2) if valued else 0.0
        grade = "short" if chance.random() < 0.4 else "straight"
        kept.append({"length": length, "count": chance.randint(1, 5), "price": price, "grade": grade})
    stock = [{"lengths": sale, "on_hand": kept}]
    return read_request({"parts": parts, "stock": stock, "kerf": 3, "time_budget_s": seconds})
