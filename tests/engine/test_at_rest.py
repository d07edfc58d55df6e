"""The garbage collector: at rest while a building is laid out, at work again however that ends."""

from __future__ import annotations

import gc
from collections.abc import Iterator
from typing import Any

import pytest

from soleplate.engine.building_file import TooManyPiecesError
from soleplate.engine.laying_out import lay_out
from tests.buildings import building, registry


@pytest.fixture
def looks() -> Iterator[list[str]]:
    """When the collector begins to look."""
    begun: list[str] = []

    def note(phase: str, _: dict[str, Any]) -> None:
        begun.append(phase)

    gc.collect()
    gc.callbacks.append(note)
    yield begun
    gc.callbacks.remove(note)


def walls(count: int) -> dict[str, Any]:
    names = [f"w{number}" for number in range(count)]
    return building(
        outline={"walls": [{"name": name, "length": 4500} for name in names]},
        roof={"form": "level", "height": 2400},
    )


def test_the_collector_does_not_look_while_a_building_is_laid_out(looks: list[str]) -> None:
    """Twenty walls alone would have it look a dozen times."""
    task = registry().read_building(walls(20))
    del looks[:]
    lay_out(task, registry())
    assert len(looks) <= 2
    assert gc.isenabled()


def test_it_works_again_after_a_building_that_cannot_be_laid_out() -> None:
    task = registry().read_building(walls(20))
    with pytest.raises(TooManyPiecesError):
        lay_out(task, registry(), most_pieces=10)
    assert gc.isenabled()


def test_who_keeps_it_off_keeps_it_off() -> None:
    gc.disable()
    try:
        lay_out(registry().read_building(building()), registry())
        assert not gc.isenabled()
    finally:
        gc.enable()
