"""Answers of plugins, looked at several at once."""

from __future__ import annotations

from dataclasses import replace
from typing import Any, cast

import pytest

from soleplate.engine.registry.answers import all_sound
from soleplate.engine.registry.blame import NonsenseError
from soleplate.engine.rules import Bay, NogginPlace
from soleplate.engine.shapes import EndFixing

PLACE = NogginPlace(Bay(45.0, 600.0), 900.0, (EndFixing(2, "through"), EndFixing(2, "skew")))


def test_all_are_made_anew() -> None:
    made = all_sound([PLACE, PLACE], NogginPlace)
    assert made == (PLACE, PLACE)
    assert all(each is not PLACE for each in made)


def test_of_several_the_one_that_is_wrong_is_told_by_what_is_wrong_in_it() -> None:
    wrong = replace(PLACE, bay=Bay(45.0, cast("Any", "600")))
    with pytest.raises(NonsenseError, match=r"^returned a NogginPlace whose bay\.right is '600', not "):
        all_sound([PLACE, wrong, PLACE], NogginPlace)


def test_one_of_another_kind_is_told_before_any_is_looked_into() -> None:
    wrong = replace(PLACE, bottom=cast("Any", "900"))
    with pytest.raises(NonsenseError, match=r"^returned Bay where NogginPlace belongs$"):
        all_sound([wrong, PLACE.bay], NogginPlace)
