"""What is clear between the pieces of an opening."""

from __future__ import annotations

import pytest

from soleplate.viewer.bodies.clear import Area, clear_areas

HOLE = Area(0.0, 100.0, 0.0, 60.0)


@pytest.mark.parametrize(
    ("taken", "clear"),
    [
        ([], [HOLE]),
        ([HOLE], []),
        ([Area(-10, 110, -5, 70)], []),
        # Beside it, or touching it.
        ([Area(100, 120, 0, 60), Area(-5, 0, 0, 60)], [HOLE]),
        # A stud runs through.
        ([Area(40, 50, -10, 70)], [Area(0, 40, 0, 60), Area(50, 100, 0, 60)]),
        # Linings all round.
        ([Area(0, 5, 0, 60), Area(95, 100, 0, 60), Area(0, 100, 55, 60)], [Area(5, 95, 0, 55)]),
        # Something ends within: what is clear is parted level with its ends.
        (
            [Area(40, 50, 20, 30)],
            [Area(0, 100, 0, 20), Area(0, 40, 20, 30), Area(50, 100, 20, 30), Area(0, 100, 30, 60)],
        ),
    ],
)
def test_what_is_clear(taken: list[Area], clear: list[Area]) -> None:
    assert clear_areas(HOLE, taken) == clear
