"""What stands after each step: this step's pieces in their tone, what stood before pale, and nothing else."""

from __future__ import annotations

import json
import re
from functools import cache

import pytest

from soleplate.engine.layout import Layout, OrderOfWork
from soleplate.engine.work_order import with_work_order
from soleplate.viewer.lists import raised_seen
from soleplate.viewer.page import raising_steps
from soleplate.viewer.pictures import MOST_PICTURED, Raised, raised
from soleplate.viewer.words import ENGLISH
from tests.buildings import HONEY_HOUSE, layout_of, registry


@cache
def worked(name: str) -> Layout:
    value = json.loads(HONEY_HOUSE.with_name(f"{name}.json").read_text())
    return with_work_order(layout_of(value), registry().read_building(value), registry())


def order_of(layout: Layout) -> OrderOfWork:
    assert layout.order_of_work is not None
    return layout.order_of_work


def pictures(name: str) -> Raised:
    made = raised(worked(name), order_of(worked(name)))
    assert made is not None
    return made


def groups(svg: str) -> set[str]:
    return set(re.findall(r'class="(now|before)"', svg))


@pytest.mark.parametrize("name", ["honey_house", "apple_store"])
def test_a_step_that_puts_something_up_shows_it_over_what_stood_before(name: str) -> None:
    made, order = pictures(name), order_of(worked(name))
    shown = [step for step in order.steps if made.has(step)]
    assert {"raise", "clad"} <= {step.kind for step in shown}
    for place, step in enumerate(shown):
        assert groups(made.svg(step, "")) == ({"now", "before"} if place else {"now"}), step.display
    told = {step.number for step in shown}
    left = [step for step in order.steps if step.number not in told]
    assert {"frame", "square", "fix"} <= {step.kind for step in left}
    assert not any(step.pieces for step in left if step.kind not in ("openings", "line"))


def test_every_piece_of_an_earlier_step_stays_and_none_of_a_later_one_is_there() -> None:
    made, order = pictures("honey_house"), order_of(worked("honey_house"))
    brought = {mark: step.number for step in order.steps for mark in step.pieces}
    (cover,) = (step for step in order.steps if step.display == "cover the roof")
    for each, came in zip(made.scene.shown, made.came, strict=True):
        assert came == brought.get(each.piece.mark, cover.number)
    counts = [len(re.findall("<path", made.svg(step, ""))) for step in order.steps if step.kind == "raise"]
    assert counts == sorted(set(counts))


def test_boards_are_looked_at_from_the_side_where_they_are() -> None:
    """The front's as all else is, from there; each other wall's from a side of its own."""
    made, order = pictures("honey_house"), order_of(worked("honey_house"))
    boxes = {step.wall: made.elements(step)[1] for step in order.steps if step.kind == "clad"}
    front = next(made.elements(step)[1] for step in order.steps if step.kind == "raise")
    assert boxes["front"] == front
    assert len(set(boxes.values())) == 4


def test_the_page_shows_a_picture_with_each_of_these_steps_alone() -> None:
    layout = worked("apple_store")
    made, order = pictures("apple_store"), order_of(layout)
    html = str(raising_steps(layout, order, (), ENGLISH))
    assert html.count('class="raising-picture"') == sum(made.has(step) for step in order.steps)
    assert all((raised_seen(step, ENGLISH) in html) == made.has(step) for step in order.steps)


def test_a_building_of_too_many_pieces_has_none(monkeypatch: pytest.MonkeyPatch) -> None:
    layout = worked("apple_store")
    assert len(layout.pieces) < MOST_PICTURED
    monkeypatch.setattr("soleplate.viewer.pictures.standing.MOST_PICTURED", len(layout.pieces) - 1)
    assert raised(layout, order_of(layout)) is None
