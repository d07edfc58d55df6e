"""Answers that are kept: those that last, no more than there is room for, the least used given up first."""

from __future__ import annotations

import json
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from soleplate.api.http import Done
from soleplate.api.work.jobs import Job, Jobs
from soleplate.api.work.kept_answers import KeptAnswers
from tests.buildings import building, registry

ROOM = 1600
"""Bytes, of which one answer may take a sixteenth."""


def job(name: str) -> Job:
    return Job("wall", name.encode())


def answer(size: int = 99, *, lasting: bool = True) -> Done:
    """With a body of one letter behind its job's, it takes the room of `size` bytes and one more."""
    return Done(b"x" * size, "text/plain", lasting=lasting)


def test_what_was_not_asked_for_longest_is_given_up_first() -> None:
    kept = KeptAnswers(ROOM)
    for name in "abcdefghijklmnop":
        kept.keep(job(name), answer())
    assert kept.get(job("a")) == answer()
    kept.keep(job("q"), answer())
    assert [name for name in "abcdefghijklmnopq" if kept.get(job(name)) is None] == ["b"]


@given(st.lists(st.tuples(st.sampled_from("abcdefghijkl"), st.integers(0, 110)), max_size=60))
def test_the_room_is_kept_to_and_what_is_used_stays(calls: list[tuple[str, int]]) -> None:
    """Beside a list, the least used first, that is gone over each time."""
    kept, expected = KeptAnswers(ROOM // 2), list[tuple[str, int]]()
    for name, size in calls:
        held = next((each for each in expected if each[0] == name), None)
        assert kept.get(job(name)) == (held and answer(held[1]))
        if held is not None:
            expected.remove(held)
            expected.append(held)
            continue
        kept.keep(job(name), answer(size))
        if 1 + size <= ROOM // 32:
            expected.append((name, size))
        while sum(1 + each for _, each in expected) > ROOM // 2:
            expected.pop(0)


@pytest.mark.parametrize(("size", "is_kept"), [(99, True), (100, False)])
def test_one_answer_takes_no_more_than_a_sixteenth(size: int, is_kept: bool) -> None:
    kept = KeptAnswers(ROOM)
    kept.keep(job("a"), answer(size))
    assert (kept.get(job("a")) is not None) == is_kept


def test_what_will_not_be_the_same_again_is_not_kept() -> None:
    kept = KeptAnswers(ROOM)
    kept.keep(job("a"), answer(lasting=False))
    assert kept.get(job("a")) is None
    kept.keep(job("a"), answer(9))
    kept.keep(job("a"), answer(8))
    assert kept.get(job("a")) == answer(9)


STOCK = {"stock": [{"section": [45, 70], "lengths": [{"length": 2400}, {"length": 4800}]}]}
PARTS = STOCK | {
    "parts": [{"name": "P1", "section": [45, 70], "length": 1870, "count": 8}],
    "objective": "waste",
}


def planned(seconds: float) -> dict[str, Any]:
    """A plan at once is not proven; that of so small a building soon is, if there is time."""
    return building(stock={**STOCK, "time_budget_s": seconds})


CASES: dict[str, tuple[Job, bool]] = {}
for seconds, lasts in ((0.0, False), (10.0, True)):
    value = planned(seconds)
    bodies: dict[str, Any] = {
        "layout": value,
        "saw-plan": PARTS | {"time_budget_s": seconds},
        "board": {"building": value, "saw_plan": True},
        "page": {"own": value, "asked": {"side": "inside"}},
    }
    CASES |= {
        f"{name}, {seconds:g} s": (Job(name, json.dumps(body).encode()), lasts)
        for name, body in bodies.items()
    }
CASES["export"] = (Job("export", json.dumps(planned(10.0)).encode(), "cutting-list"), False)
CASES["what-if"] = (Job("what-if", json.dumps({"building": planned(10.0)}).encode()), False)
CASES["page of the start"] = (Job("page", b'{"own": null, "asked": {"start": ""}}'), True)
CASES["no stock"] = (Job("layout", json.dumps(building()).encode()), True)


@pytest.mark.parametrize(("job", "lasts"), CASES.values(), ids=CASES)
def test_an_answer_lasts_unless_its_plan_depends_on_the_time_there_was(job: Job, lasts: bool) -> None:
    done = Jobs(registry()).perform(job, quick=False)
    assert isinstance(done, Done), done
    assert done.lasting is lasts
