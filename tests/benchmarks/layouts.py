"""What a layout takes beside a yardstick, and whether the time for each wall stays flat as buildings grow."""

from __future__ import annotations

import time
from typing import Any

from soleplate.engine.building_file import Building, read_json
from soleplate.engine.laying_out import lay_out, layout_json
from soleplate.engine.registry import Registry
from soleplate.engine.rules import CladdingRule, Rule
from tests.benchmarks.buildings import FOUR_WALLS, REBATED, four_walls, walls
from tests.benchmarks.timing import by_turns, yardstick
from tests.buildings import honey_house, registry
from tests.floors import floor_with

ROUNDS = 30
MANY = (10, 100, 1000)


def in_rules(task: Building, installed: Registry) -> float:
    """The share of rules' methods in the time of one layout; they are timed by wrapping them."""
    spent = 0.0
    methods = ("place_studs", "frame_opening", "lay_plates", "place_noggins", "lay_corner", "lay_tee")
    originals: list[tuple[type[Rule], str, Any]] = []

    def timed(method: Any) -> Any:
        def call(*arguments: Any) -> Any:
            nonlocal spent
            start = time.process_time()
            try:
                return method(*arguments)
            finally:
                spent += time.process_time() - start

        return call

    for rule in installed.rules:
        for name in methods:
            if callable(method := getattr(rule.model, name, None)):
                originals.append((rule.model, name, method))
                setattr(rule.model, name, timed(method))
    try:
        start = time.process_time()
        lay_out(task, installed)
        whole = time.process_time() - start
    finally:
        for model, name, method in originals:
            setattr(model, name, method)
    return spent / whole


def one_building(installed: Registry) -> None:
    """The way of four walls from their file to JSON, and each covering that ships beside it."""
    text = FOUR_WALLS.read_bytes()
    task = installed.read_building(four_walls())
    layout = lay_out(task, installed)
    unit, whole, laid_out, written = by_turns(
        [
            yardstick,
            lambda: layout_json(lay_out(installed.read_building(read_json(text)), installed)),
            lambda: lay_out(task, installed),
            lambda: layout_json(layout),
        ],
        ROUNDS,
    )
    print(
        f"four walls, from file to JSON: {whole:.1f} ms, {whole / unit:.2f} of a yardstick of {unit:.1f} ms"
    )
    rules = in_rules(task, installed)
    print(
        f"  laid out {laid_out / whole:.0%}, written {written / whole:.0%}; in rules {rules:.0%} of a layout"
    )
    coverings = [rule for rule in installed.rules if issubclass(rule.model, CladdingRule)]
    tasks = [installed.read_building(four_walls(dict(rule.model.examples[0]))) for rule in coverings]
    floored = installed.read_building(four_walls() | {"floor": floor_with()})
    plain, floor, *clad = by_turns(
        [lambda task=each: lay_out(task, installed) for each in (task, floored, *tasks)], ROUNDS // 3
    )  # type: ignore[misc]
    print(f"  a floor with its deck, and the look for what meets: {floor - plain:.1f} ms (target 15 ms)")
    fixed = installed.read_building(honey_house() | {"fixings": []})
    bare = installed.read_building(honey_house())
    without, with_them = by_turns(
        [lambda task=each: lay_out(task, installed) for each in (bare, fixed)], ROUNDS
    )  # type: ignore[misc]
    print(f"  fixings of the honey house's frame: {with_them - without:.1f} ms (target 60 ms)")
    for rule, took in zip(coverings, clad, strict=True):
        print(f"  clad, {rule.name}: {took:.1f} ms, {took / plain:.1f} times the frame alone (target 45 ms)")


def many_walls(installed: Registry, counts: tuple[int, ...], cladding: dict[str, Any] | None = None) -> None:
    """The time for each wall of buildings of more and more of them."""
    tasks = [installed.read_building(walls(count, cladding)) for count in counts]
    took = by_turns([lambda task=each: lay_out(task, installed) for each in tasks], 3)  # type: ignore[misc]
    each = [ms / count for ms, count in zip(took, counts, strict=True)]
    told = ", ".join(f"{ms:.2f} ms of {count}" for ms, count in zip(each, counts, strict=True))
    what = "clad" if cladding else "framed"
    print(f"a wall {what}: {told}; the last beside the first {each[-1] / each[0]:.2f} (target at most 1.2)")


def main() -> None:
    """Print the figures."""
    installed = registry()
    one_building(installed)
    many_walls(installed, MANY)
    many_walls(installed, MANY[:2], REBATED)


if __name__ == "__main__":
    main()
