"""How long a layout takes, and whether the time for each wall stays flat as buildings grow."""

from __future__ import annotations

import statistics
import time
from collections.abc import Callable
from typing import Any

from soleplate.engine.building_file import Building
from soleplate.engine.laying_out import lay_out
from soleplate.engine.registry import Registry
from soleplate.engine.rules import Rule
from tests.buildings import building, honey_house, registry
from tests.floors import floor_with

REPEATS = 40
CLADDING = {"rule": "rebated", "cover": 130, "lengths": [3000, 3600, 4200]}


def median_ms(work: Callable[[], object], repeats: int = REPEATS) -> float:
    """The median of some runs, ms, after one that warms up."""
    work()
    times: list[float] = []
    for _ in range(repeats):
        start = time.perf_counter()
        work()
        times.append((time.perf_counter() - start) * 1000)
    return statistics.median(times)


def clad_house() -> dict[str, Any]:
    """The honey house in rebated boards."""
    value = honey_house()
    value["defaults"]["cladding"] = CLADDING
    return value


def walls(count: int, cladding: dict[str, Any] | None = None) -> dict[str, Any]:
    """So many single walls, each 4.5 m long with a window."""
    window = {"name": "w", "kind": "window", "width": 900, "height": 700, "sill": 950, "at": {"centre": 2250}}
    names = [f"wall {number}" for number in range(count)]
    return building(
        outline={"walls": [{"name": name, "length": 4500} for name in names]},
        roof={"form": "level", "height": 2400},
        walls={name: {"openings": [window]} for name in names},
        defaults={
            "studs": {"rule": "equal-bays", "largest_bay": 600},
            "noggins": {"rule": "staggered", "rows": 2},
            **({"cladding": cladding} if cladding else {}),
        },
    )


def in_rules_ms(task: Building, installed: Registry) -> tuple[float, float]:
    """(time in rules' methods, whole time) of one layout, ms; rules are timed by wrapping their methods."""
    spent = 0.0
    methods = ("place_studs", "frame_opening", "lay_plates", "place_noggins", "lay_corner", "lay_tee")
    originals: list[tuple[type[Rule], str, Any]] = []

    def timed(method: Any) -> Any:
        def call(*arguments: Any) -> Any:
            nonlocal spent
            start = time.perf_counter()
            try:
                return method(*arguments)
            finally:
                spent += time.perf_counter() - start

        return call

    for rule in installed.rules:
        for name in methods:
            if callable(method := getattr(rule.model, name, None)):
                originals.append((rule.model, name, method))
                setattr(rule.model, name, timed(method))
    try:
        start = time.perf_counter()
        lay_out(task, installed)
        whole = time.perf_counter() - start
    finally:
        for model, name, method in originals:
            setattr(model, name, method)
    return spent * 1000, whole * 1000


def main() -> None:
    """Print the figures."""
    installed = registry()
    house = installed.read_building(honey_house())
    took = median_ms(lambda: lay_out(house, installed))
    print(f"honey house: {took:.1f} ms median, {took / 4:.1f} ms a wall (targets 15 and 5)")
    clad = installed.read_building(clad_house())
    print(f"with cladding: {median_ms(lambda: lay_out(clad, installed)):.1f} ms median (target 60)")
    floored = installed.read_building(honey_house() | {"floor": floor_with()})
    floor = median_ms(lambda: lay_out(floored, installed)) - took
    print(f"its floor, deck and the look for pieces in one place: {floor:.1f} ms median (target 15)")
    rules, whole = in_rules_ms(house, installed)
    print(f"of which in rules: {rules / whole:.0%}")
    each: dict[int, float] = {}
    for count in (10, 100, 1000):
        task = installed.read_building(walls(count))
        each[count] = median_ms(lambda task=task: lay_out(task, installed), max(3, 300 // count)) / count  # type: ignore[misc]
        print(f"{count:5d} walls: {each[count]:.2f} ms a wall")
    print(f"1000 against 10, a wall: {each[1000] / each[10]:.2f} (target at most 1.2)")
    for count in (10, 100):
        task = installed.read_building(walls(count, CLADDING))
        each[count] = median_ms(lambda task=task: lay_out(task, installed), max(3, 60 // count)) / count  # type: ignore[misc]
        print(f"{count:5d} walls with cladding: {each[count]:.2f} ms a wall")
    print(f"100 against 10, a wall: {each[100] / each[10]:.2f} (target at most 1.2)")


if __name__ == "__main__":
    main()
