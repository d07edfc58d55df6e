import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.stats import binom  # type: ignore[import-untyped]

from soleplate.engine.sawing import spare_order


@given(
    st.integers(1, 120), st.sampled_from([0.0, 0.01, 0.08, 0.2, 0.5]), st.sampled_from([0.5, 0.9, 0.95, 0.99])
)
def test_the_order_is_the_least_that_scipy_calls_enough(
    straight: int, unusable: float, confidence: float
) -> None:
    order = spare_order(straight, 0, unusable, confidence)
    assert binom.sf(straight - 1, order.ordered, 1 - unusable) == pytest.approx(order.confidence, abs=1e-9)
    assert order.confidence >= confidence
    if order.ordered > straight:
        assert binom.sf(straight - 1, order.ordered - 1, 1 - unusable) < confidence + 1e-12


@pytest.mark.parametrize(
    ("straight", "unusable", "confidence", "ordered"),
    [
        # Worked out by hand: as many in a row straight, or not all of them bent, with just the chance wanted.
        (1, 0.5, 0.5, 1), (2, 0.5, 0.25, 2), (2, 0.1, 0.81, 2), (3, 0.1, 0.729, 3),
        (1, 0.5, 0.75, 2), (1, 0.1, 0.99, 2), (1, 0.1, 0.999, 3), (1, 0.2, 0.96, 2), (1, 0.3, 0.91, 2),
        (2, 0.5, 0.6875, 4), (1, 0.08, 0.9936, 2), (1, 0.08, 0.99361, 3), (1, 0.0, 0.999, 1),
    ],
)  # fmt: skip
def test_a_chance_of_exactly_what_is_wanted_is_enough(
    straight: int, unusable: float, confidence: float, ordered: int
) -> None:
    order = spare_order(straight, 0, unusable, confidence, most=ordered)
    assert (order.ordered, order.spare) == (ordered, ordered - straight)
    assert order.expected_bent == pytest.approx(ordered * unusable)


def test_none_bent_needs_no_spare() -> None:
    assert spare_order(40, 0, 0.0, 0.99).spare == 0


def test_lengths_for_short_pieces_are_credited() -> None:
    alone, with_short = spare_order(20, 0, 0.08, 0.95), spare_order(20, 3, 0.08, 0.95)
    assert (alone.ordered, alone.spare) == (24, 4)
    assert (with_short.ordered, with_short.spare, with_short.credited) == (24, 1, 3)


@pytest.mark.parametrize(
    ("unusable", "confidence", "name"), [(1.0, 0.9, "share"), (-0.1, 0.9, "share"), (0.1, 1.0, "confidence")]
)
def test_figures_out_of_range_are_refused(unusable: float, confidence: float, name: str) -> None:
    with pytest.raises(ValueError, match=name):
        spare_order(10, 0, unusable, confidence)


def test_an_order_beyond_all_bounds_is_refused() -> None:
    with pytest.raises(ValueError, match="more than 50 lengths"):
        spare_order(10, 0, 0.9, 0.99, most=50)
