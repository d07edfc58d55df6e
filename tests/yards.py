"""Sites for tests of the order of work, and the shortest way from one to its search."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from soleplate.engine.raising.search import FoundOrder, OrderSearch
from soleplate.engine.raising.yard import Yard, yard_of
from tests.buildings import building, layout_of, registry

SIDES = ("front", "right", "back", "left")
TILTED = ["tilt-up"]
TILTED_EITHER_WAY = ["tilt-up", "tilt-up-from-outside"]


def banks(clear: float | Mapping[str, float], **more: Any) -> list[dict[str, Any]]:
    """Banks beside walls, 1800 high unless `more` says otherwise."""
    by_wall = clear if isinstance(clear, Mapping) else dict.fromkeys(SIDES, clear)
    return [
        {"name": f"bank {wall}", "beside": wall, "clear": far, "top": 1800} | more
        for wall, far in by_wall.items()
    ]


def hut(
    site: Mapping[str, Any] | None = None, *, through: str = "front-back", width: float = 2700, **more: Any
) -> dict[str, Any]:
    """4500 long, 2236.424 high in front and 1960 at the back, unclad."""
    value = building(
        outline={"length": 4500, "width": width, "through": through},
        roof={"form": "mono-pitch", "high_side": "front", "low_height": 1960, "high_height": 2236.424},
    )
    return value | {"site": dict(site or {})} | more


def yard(value: Mapping[str, Any]) -> Yard:
    return yard_of(layout_of(value), registry().read_building(value), registry())


def search_of(value: Mapping[str, Any]) -> OrderSearch:
    return yard(value).search()


def best(value: Mapping[str, Any]) -> FoundOrder:
    return search_of(value).best()


def names_in_order(value: Mapping[str, Any]) -> list[str]:
    """The walls in the order in which they are raised; empty where there is none."""
    made = yard(value)
    return [made.question.panels[step.way.panel].name for step in made.search().best().steps]


def orders_by_hand(value: Mapping[str, Any]) -> list[Sequence[str]]:
    """All sequences of walls that are possible, by trying each."""
    made = yard(value)
    search, question = made.search(), made.question
    found: list[Sequence[str]] = []

    def go_on(names: tuple[str, ...], state: int) -> None:
        if state == question.everything:
            found.append(names)
        for index, panel in enumerate(question.panels):
            hosts = question.after[index]
            if not state >> index & 1 and hosts & state == hosts and search.can(index, state):
                go_on((*names, panel.name), state | 1 << index)

    go_on((), 0)
    return found
