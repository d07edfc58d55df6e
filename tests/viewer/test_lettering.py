"""Placing texts: apart where there is room, in order always."""

from __future__ import annotations

import itertools

from hypothesis import given
from hypothesis import strategies as st

from soleplate.viewer.drawings.lettering import LetteringBox, Places, shortened, spread, text_width, wrapped

lengths = st.floats(0, 5000)


@given(st.lists(lengths, max_size=30).map(sorted), st.floats(1, 200))
def test_spread_keeps_order_and_gap(places: list[float], gap: float) -> None:
    moved = spread(places, gap, -100.0, 5100.0)
    assert len(moved) == len(places)
    room = min(gap, 5200.0 / (len(places) - 1)) if len(places) > 1 else gap
    assert all(b - a >= room - 1e-6 for a, b in itertools.pairwise(moved))
    assert all(-100.0 - 1e-6 <= place <= 5100.0 + 1e-6 for place in moved)


@given(st.integers(0, 20), st.floats(10, 100))
def test_spread_moves_nothing_that_has_room(count: int, gap: float) -> None:
    places = [index * gap * 1.01 for index in range(count)]
    moved = spread(places, gap, -100.0, 5100.0)
    assert all(abs(a - b) < 1e-6 for a, b in zip(moved, places, strict=True))


def test_spread_moves_as_little_as_can_be() -> None:
    assert spread([100.0, 100.0, 500.0], 60.0, 0.0, 1000.0) == [70.0, 130.0, 500.0]


def test_places_are_kept_clear() -> None:
    places = Places(300.0)
    first = places.take([LetteringBox.around(0, 0, 100, 50)])
    second = places.take([LetteringBox.around(10, 0, 100, 50), LetteringBox.around(0, 80, 100, 50)])
    assert first.shared(second) == 0
    crowded = places.take([LetteringBox.around(0, 0, 100, 50), LetteringBox.around(90, 0, 100, 50)])
    assert crowded == LetteringBox.around(90, 0, 100, 50)


@given(st.text(max_size=120), st.floats(60, 900))
def test_wrapped_lines_fit_and_lose_no_letter(text: str, width: float) -> None:
    lines = wrapped(text, 10.0, width)
    assert "".join("".join(lines).split()) == "".join(text.split())
    most = max(4, int(width / 6.4))
    assert all(len(line) <= most for line in lines)


def test_shortened() -> None:
    assert shortened("doors", 10.0, 500.0) == "doors"
    cut = shortened("a very long name of a door", 10.0, 80.0)
    assert cut.endswith("…")
    assert text_width(cut, 10.0) <= 80.0
