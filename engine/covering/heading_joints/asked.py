"""What is asked for, checked before anything is planned."""

from __future__ import annotations

import math
from collections.abc import Sequence

from soleplate.engine.covering.heading_joints.job import BoardOnSale, CourseRun, JointRules


def check(runs: Sequence[CourseRun], stock: Sequence[BoardOnSale], rules: JointRules) -> None:
    """Refuse what no plan can be made from.

    Raises:
        ValueError: says what is wrong and what would be accepted.

    """
    _check_stock(stock)
    if rules.courses_apart < 1:
        raise ValueError(f"joints {rules.courses_apart} courses apart; accepted is at least 1")
    lengths = {
        "kerf": rules.kerf,
        "trim": rules.trim,
        "margin": rules.margin,
        "least board": rules.least_board,
    }
    for name, value in lengths.items():
        if not (math.isfinite(value) and value >= 0):
            raise ValueError(f"a {name} of {value:g} mm; accepted is at least 0")
    for run in runs:
        if not all(map(math.isfinite, (run.left, run.right, *run.supports))) or run.right <= run.left:
            raise ValueError(
                f"course {run.course} of {run.wall} runs from {run.left:g} to {run.right:g} mm; accepted are"
                " finite places, the left one first"
            )


def _check_stock(stock: Sequence[BoardOnSale]) -> None:
    if not stock:
        raise ValueError("no length is on sale; accepted is at least one")
    if len({length.price is None for length in stock}) > 1:
        raise ValueError("some lengths on sale have a price and some have none; accepted is all or none")
    for length in stock:
        if not (math.isfinite(length.length) and length.length > 0):
            raise ValueError(f"a length on sale of {length.length:g} mm; accepted is over 0")
        if length.price is not None and not (math.isfinite(length.price) and length.price >= 0.01):
            raise ValueError(f"a price of {length.price:g}; accepted is at least 0.01")
