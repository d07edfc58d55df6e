"""Published values and facts of the trade, the source beside each."""

from __future__ import annotations

import math

import pytest

from soleplate.engine.timber import tolerance
from tests.buildings import building, layout_of, single_wall, wall_of

INCH = 25.4


@pytest.mark.parametrize(
    ("centres", "breadth", "face", "length"),
    [
        # NAVEDTRA 14044 p 1-23: 15 1/4 in to the first face at 16 in centres and 1 1/2 in studs
        (16 * INCH, 1.5 * INCH, 15.25 * INCH, 144 * INCH),
        # the same rule in mm, derived from it
        (600.0, 38.0, 581.0, 3600.0),
        (400.0, 38.0, 381.0, 3600.0),
    ],
)
def test_first_stud_face_at_fixed_centres(centres: float, breadth: float, face: float, length: float) -> None:
    wall = single_wall(length, [breadth, 89.0], {"rule": "fixed-centres", "centres": centres})
    assert wall.marks["sole plate"][1].at == pytest.approx(face, abs=0.001)


def test_five_studs_in_a_clear_3506_mm() -> None:
    """Common practice, no source: six bays of 545.17 mm; spacers of 545 leave the closing bay at 546."""
    wall = single_wall(3506 + 2 * 47, [47.0, 75.0], {"rule": "equal-bays", "number": 5})
    assert [bay.clear for bay in wall.bays] == pytest.approx([545.167] * 6, abs=0.001)
    assert (wall.spacers[0].spacer, wall.spacers[0].closing_bay) == (545.0, 546.0)


@pytest.mark.parametrize(
    ("size", "grade", "expected"),
    [
        # EN 336:2013, restated by Timber Development UK
        (100.0, "T1", (1.0, 3.0)),
        (145.0, "T1", (2.0, 4.0)),
        (100.0, "T2", (1.0, 1.0)),
        (145.0, "T2", (1.5, 1.5)),
    ],
)
def test_size_tolerances(size: float, grade: str, expected: tuple[float, float]) -> None:
    assert tuple(tolerance(size, grade)) == expected  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("run", "rise", "spacing", "difference"), [(12, 6, 24, 12.0), (250, 150, 600, 360.0)]
)
def test_common_difference_of_gable_studs(run: float, rise: float, spacing: float, difference: float) -> None:
    """NAVEDTRA 14044 p 2-19: 24 in at 6 in 12 gives 12 in; a carpentry text: 600 at 150 in 250, 360 mm."""
    scale = INCH if run == 12 else 1.0
    value = building(
        outline={"length": 6000, "width": 6000},
        roof={
            "form": "duo-pitch",
            "ridge": "left-right",
            "low_height": 2400,
            "pitch": math.degrees(math.atan2(rise, run)),
        },
        defaults={"studs": {"rule": "fixed-centres", "centres": spacing * scale}},
    )
    gable = wall_of(layout_of(value), "left")
    first, second = [piece for piece in gable.pieces if piece.role == "stud"][1:3]
    assert abs(second.length - first.length) == pytest.approx(difference * scale, abs=0.002)


def test_run_of_a_pent_roof_is_the_span_less_the_high_plate() -> None:
    """NAVEDTRA 14044 p 2-34."""
    layout = layout_of(building())
    rise = 2630 * math.tan(math.radians(6))
    assert wall_of(layout, "front").top_line[0][1] == pytest.approx(1960 + rise, abs=0.001)
