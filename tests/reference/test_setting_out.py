"""Published values and facts of the trade, the source beside each."""

from __future__ import annotations

import math

import pytest

from soleplate.engine.building_file import tolerance
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


@pytest.mark.parametrize(
    ("length_ft", "studs"),
    [
        # Estimating in Building Construction ch 13, Ex 13-11 and 13-15; the rule is spaces + 1
        (148, 112),
        (24, 19),
    ],
)
def test_count_of_studs_is_spaces_and_one(length_ft: int, studs: int) -> None:
    wall = single_wall(
        f"{length_ft} ft", [1.5 * INCH, 3.5 * INCH], {"rule": "fixed-centres", "centres": 16 * INCH}
    )
    assert sum(piece.role == "stud" for piece in wall.pieces) == studs


@pytest.mark.parametrize(
    ("rise", "unit_length"),
    # Unit length in inches per foot of run, common rafter: 6 is printed by Griffith (1916), 7 by NAVEDTRA
    # 14044, 13 by the Army subcourse EN5156; the rest are sqrt(144 + rise^2), as tabled for carpenters
    [(2, 12.17), (3, 12.37), (4, 12.65), (5, 13.00), (6, 13.42), (7, 13.89), (8, 14.42), (9, 15.00),
     (10, 15.62), (11, 16.28), (12, 16.97), (13, 17.69), (14, 18.44), (15, 19.21), (16, 20.00), (17, 20.81),
     (18, 21.63)],
)  # fmt: skip
def test_slope_length_of_a_raked_plate(rise: int, unit_length: float) -> None:
    value = building(
        outline={"length": 3000, "width": 6 * 12 * INCH + 140},
        roof={
            "form": "mono-pitch",
            "high_side": "front",
            "low_height": 2000,
            "pitch": math.degrees(math.atan2(rise, 12)),
        },
    )
    side = wall_of(layout_of(value), "left")
    plate = next(piece for piece in side.pieces if piece.role == "raked plate")
    assert plate.short_length / INCH / 6 == pytest.approx(unit_length, abs=0.005)


def test_gable_studs_of_a_shallow_gable() -> None:
    """A trade text of no authority: 4 in 12 at 16 in centres gives a difference of 5 1/3 in."""
    value = building(
        outline={"length": 6000, "width": 6000},
        roof={
            "form": "duo-pitch",
            "ridge": "left-right",
            "low_height": 2400,
            "pitch": math.degrees(math.atan2(4, 12)),
        },
        defaults={"studs": {"rule": "fixed-centres", "centres": 16 * INCH}},
    )
    studs = [p for p in wall_of(layout_of(value), "left").pieces if p.role == "stud"]
    assert studs[2].length - studs[1].length == pytest.approx(16 / 3 * INCH, abs=0.002)
