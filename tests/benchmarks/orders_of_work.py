"""What orders of work take, in processor time, beside a yardstick."""

from __future__ import annotations

from typing import Any

from soleplate.engine.laying_out import lay_out
from soleplate.engine.raising import order_of_work
from tests.benchmarks.timing import by_turns, yardstick
from tests.buildings import building, registry
from tests.reference.test_order_of_work import L_SHAPED, way_in
from tests.yards import TILTED, TILTED_EITHER_WAY, banks, hut

ROUNDS = 5


def comb(teeth: int) -> dict[str, Any]:
    """A right-angled plan of 4 + 4 * `teeth` walls, bays along its back."""
    length = 3000 * teeth + 1000
    corners = [[0, 0], [length, 0], [length, 3000]]
    for tooth in range(teeth):
        right = length - 1000 - 3000 * tooth
        corners += [[right, 3000], [right, 4500], [right - 1500, 4500], [right - 1500, 3000]]
    return building(outline={"corners": [*corners, [0, 3000]]}, roof={"form": "level", "height": 2200})


def carried(value: dict[str, Any], walls: str) -> dict[str, Any]:
    """The same with all walls carried from a place in front."""
    place = [[0, -6000], [4500, -6000], [4500, -3500], [0, -3500]]
    site = {"deck": False, "framing_place": {"polygon": place}, "ways": ["carried", "slid"]}
    return value | {"site": site, "name": walls}


CASES = {
    "4 walls between banks (10 ms)": hut({"obstacles": banks(300), "ways": TILTED}),
    "an L of 6 (20 ms)": {**L_SHAPED, "site": {"ways": TILTED_EITHER_WAY}},
    "12 walls (500 ms)": comb(2),
    "4 walls carried (1000 ms)": way_in(700),
    "8 walls carried (1200 ms)": carried(comb(1), "8"),
    "12 walls carried (1200 ms)": carried(comb(2), "12"),
    "no order, nothing carried (800 ms)": hut({"obstacles": banks(300), "ways": TILTED}, through="pinwheel"),
    "no way in (2000 ms)": way_in(500),
}
"""Each with what it should take, on one core of a machine with two."""


def main() -> None:
    """Print a line for each case."""
    installed = registry()
    tasks = [installed.read_building(value) for value in CASES.values()]
    laid = [(lay_out(task, installed), task) for task in tasks]
    works = [lambda each=each: order_of_work(*each, installed) for each in laid]
    unit, *times = by_turns([yardstick, *works], ROUNDS)
    print(f"{'orders of work':38}{'ms':>9}{'yardsticks':>12}")
    for name, taken in zip(CASES, times, strict=True):
        print(f"{name:38}{taken:9.1f}{taken / unit:12.1f}")


if __name__ == "__main__":
    main()
