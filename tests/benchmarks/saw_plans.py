"""How often and how fast saw plans are proven best, on classes made from fixed seeds."""

import sys
import time
from collections.abc import Callable, Iterable
from statistics import mean, median

from soleplate.engine.sawing import SawPlanRequest, check_plan, plan_sawing
from tests.engine.sawing.instances import timber, triplets, uniform

BUDGET = 10.0
WITHIN = (0.5, 1.0, 2.0, 5.0, 10.0)

Make = Callable[[int], SawPlanRequest]

CLASSES: dict[str, tuple[int, Make]] = {
    "timber, buying only": (100, lambda seed: timber(seed, BUDGET)),
    "timber, offcuts and grades": (100, lambda seed: timber(seed, BUDGET, offcuts=True)),
    "timber, offcuts that count for money": (
        100,
        lambda seed: timber(seed, BUDGET, offcuts=True, valued=True),
    ),
    "u120": (20, lambda seed: uniform(120, seed, BUDGET)),
    "u250": (20, lambda seed: uniform(250, seed, BUDGET)),
    "u500": (20, lambda seed: uniform(500, seed, BUDGET)),
    "u1000": (20, lambda seed: uniform(1000, seed, BUDGET)),
    "t60": (20, lambda seed: triplets(60, seed, BUDGET)),
    "t120": (20, lambda seed: triplets(120, seed, BUDGET)),
    "t249": (20, lambda seed: triplets(249, seed, BUDGET)),
    "t501": (20, lambda seed: triplets(501, seed, BUDGET)),
}


def measure(name: str, seeds: Iterable[int], make: Make) -> str:
    """One line: shares proven, times, the largest gap, and how much dearer best-fit decreasing is."""
    seconds, gaps, dearer, proven_at = [], [], [], []
    for seed in seeds:
        request = make(seed)
        start = time.perf_counter()
        plan = plan_sawing(request)
        seconds.append(time.perf_counter() - start)
        wrong = check_plan(request, plan)
        if wrong:
            raise AssertionError(f"{name} {seed}: {wrong}")
        baseline = plan_sawing(request.model_copy(update={"time_budget_s": 0.0}))
        gaps.append(plan.gap)
        dearer.append(baseline.value / plan.value - 1)
        if plan.proven:
            proven_at.append(seconds[-1])
    shares = "  ".join(f"{sum(at <= limit for at in proven_at) / len(seconds):5.0%}" for limit in WITHIN)
    return (
        f"{name:38}{len(seconds):5}  {shares}  {median(seconds):7.3f} {max(seconds):7.3f}"
        f"  {max(gaps):7.3%}  {mean(dearer):6.2%} {max(dearer):6.2%}"
    )


def main(share: float = 1.0) -> None:
    """Print every class; `share` below 1 takes the first part of each."""
    limits = "  ".join(f"{limit:>4g}s" for limit in WITHIN)
    title = "saw plans proven best within"
    print(f"{title:38}{'jobs':>5}  {limits}   median     max  max gap  best-fit dearer by")
    plan_sawing(uniform(20, 0, 1.0))  # the solver's import is no part of the first job
    for name, (count, make) in CLASSES.items():
        print(measure(name, range(max(1, round(count * share))), make), flush=True)


if __name__ == "__main__":
    main(float(sys.argv[1]) if len(sys.argv) > 1 else 1.0)
