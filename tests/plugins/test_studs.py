"""Where studs stand, against the worked example, published faces and the definition of each rule."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st
from pydantic import ValidationError

from soleplate.engine.rules import CannotFrame, Run, StudRule
from soleplate.plugins.studs import AtMarks, EqualBays, FixedCentres, OnPanes
from tests.plugins.walls import assert_ordered, bays, plated, whole_run

INCH = 25.4


def faces(rule: StudRule, run: Run) -> list[float]:
    return [round(face, 3) for face in rule.place_studs(run)]


def test_the_worked_example_has_six_studs_in_the_back_wall() -> None:
    # The design's worked example, section 4.
    run = whole_run(plated(4500.0))
    marks = faces(EqualBays(largest_bay=600.0), run)
    assert marks == [636.429, 1272.857, 1909.286, 2545.714, 3182.143, 3818.571]
    assert bays(run, marks)[0] == pytest.approx(591.429, abs=1e-3)


def test_the_worked_example_has_three_studs_in_the_side_wall() -> None:
    run = whole_run(plated(2560.0))
    marks = faces(EqualBays(), run)
    assert len(marks) == 3
    assert bays(run, marks) == pytest.approx([583.75] * 4)


def test_five_studs_in_3506_clear_leave_six_bays_of_545() -> None:
    # Common practice, no source.
    run = whole_run(plated(3506.0 + 2 * 47.0, section=(47.0, 100.0)))
    marks = EqualBays(number=5).place_studs(run)
    assert bays(run, marks) == pytest.approx([545.1667] * 6, abs=1e-3)


def test_a_clear_length_that_the_largest_bay_fits_exactly_gets_no_stud_more() -> None:
    run = whole_run(plated(3 * 600.0 + 2 * 45.0 + 2 * 45.0))
    assert len(EqualBays(largest_bay=600.0).place_studs(run)) == 2


def test_largest_centres_is_the_bay_and_a_stud() -> None:
    run = whole_run(plated(4500.0))
    assert EqualBays(largest_centres=600.0).place_studs(run) == EqualBays(largest_bay=555.0).place_studs(run)


def test_a_number_holds_for_the_wall_without_openings() -> None:
    wall = plated(4500.0)
    beside = Run(45.0, 1500.0, "whole", wall.breadth, wall.length)
    whole = (4410.0 - 6 * 45.0) / 7
    marks = EqualBays(number=6).place_studs(beside)
    assert max(bays(beside, marks)) <= whole
    fewer = (beside.clear - (len(marks) - 1) * 45.0) / len(marks)
    assert fewer > whole


def test_a_number_without_room_says_how_many_would_fit() -> None:
    with pytest.raises(CannotFrame, match="accepted are up to 10"):
        EqualBays(number=20).place_studs(whole_run(plated(550.0)))
    assert len(EqualBays(number=10).place_studs(whole_run(plated(550.0)))) == 10


def test_centres_narrower_than_a_stud_are_refused() -> None:
    run = whole_run(plated(4500.0, section=(95.0, 95.0)))
    for rule in (EqualBays(largest_centres=90.0), FixedCentres(centres=90.0)):
        with pytest.raises(CannotFrame, match="95 mm"):
            rule.place_studs(run)


def test_a_crowd_of_studs_is_refused() -> None:
    run = whole_run(plated(60_000.0, section=(1.0, 70.0)))
    with pytest.raises(CannotFrame, match="up to 500"):
        EqualBays(largest_bay=50.0).place_studs(run)


@given(
    clear=st.floats(1.0, 20_000.0),
    largest=st.floats(50.0, 3000.0),
    breadth=st.floats(20.0, 50.0),
)
def test_equal_bays_are_equal_and_as_few_as_will_do(clear: float, largest: float, breadth: float) -> None:
    run = whole_run(plated(clear + 2 * breadth, section=(breadth, 70.0)))
    marks = EqualBays(largest_bay=largest).place_studs(run)
    found = bays(run, marks)
    assert max(found) - min(found) < 1e-6
    assert max(found) <= largest + 2e-6
    if marks:
        fewer = (run.clear - (len(marks) - 1) * breadth) / len(marks)
        assert fewer > largest


@pytest.mark.parametrize(
    ("centres", "breadth", "first"),
    [
        # NAVEDTRA 14044 p 1-23: 15 1/4 in to the first face; the others by the same rule.
        (16 * INCH, 1.5 * INCH, 15.25 * INCH),
        (600.0, 38.0, 581.0),
        (400.0, 38.0, 381.0),
        (600.0, 45.0, 577.5),
    ],
)
def test_the_first_face_is_half_a_stud_short_of_the_centres(
    centres: float, breadth: float, first: float
) -> None:
    run = whole_run(plated(4500.0, section=(breadth, 89.0)))
    marks = FixedCentres(centres=centres).place_studs(run)
    assert marks[0] == pytest.approx(first)
    assert marks[1] - marks[0] == pytest.approx(centres)


def test_from_the_right_is_the_mirror_of_from_the_left() -> None:
    run = whole_run(plated(4310.0))
    left = FixedCentres(centres=600.0, from_="left").place_studs(run)
    right = FixedCentres(centres=600.0, from_="right").place_studs(run)
    assert sorted(4310.0 - face - 45.0 for face in right) == pytest.approx(left)


def test_from_the_middle_a_stud_stands_there() -> None:
    run = whole_run(plated(4000.0))
    marks = FixedCentres(centres=600.0, from_="middle").place_studs(run)
    assert 2000.0 - 22.5 in marks
    assert [4000.0 - face - 45.0 for face in reversed(marks)] == pytest.approx(marks)


def test_the_grid_is_one_above_and_below_openings() -> None:
    # NAVEDTRA 14044 p 1-23: cripples follow the layout of the common studs.
    wall = plated(4500.0)
    whole = FixedCentres(centres=400.0).place_studs(whole_run(wall))
    over = FixedCentres(centres=400.0).place_studs(Run(1000.0, 2000.0, "over", wall.breadth, wall.length))
    assert list(over) == [face for face in whole if 955.0 < face < 2000.0]


def test_where_sheets_meet_two_studs_meet() -> None:
    run = whole_run(plated(3000.0))
    marks = FixedCentres(centres=600.0, doubled_at=1200.0).place_studs(run)
    assert marks == [577.5, 1155.0, 1200.0, 1777.5, 2355.0, 2400.0]


@given(
    length=st.floats(300.0, 12_000.0),
    centres=st.floats(100.0, 1200.0),
    sheet=st.floats(300.0, 2500.0),
    start=st.sampled_from(["left", "right", "middle"]),
)
def test_doubled_studs_never_overlap_the_grid(
    length: float, centres: float, sheet: float, start: str
) -> None:
    rule = FixedCentres.model_validate({"centres": centres, "from": start, "doubled_at": sheet})
    assert_ordered(rule.place_studs(whole_run(plated(length))), 45.0)


def test_marks_give_faces_or_centres() -> None:
    run = whole_run(plated(3000.0))
    assert AtMarks(marks=(1155.0, 555.0)).place_studs(run) == [555.0, 1155.0]
    assert AtMarks(marks=(577.5,), of="centre").place_studs(run) == [555.0]


def test_marks_outside_the_run_are_left_to_others() -> None:
    run = Run(1000.0, 2000.0, "whole", 45.0, 3000.0)
    assert AtMarks(marks=(500.0, 955.0, 1500.0, 2000.0)).place_studs(run) == [1500.0]


def test_marks_outside_the_wall_and_on_each_other_are_refused() -> None:
    run = whole_run(plated(3000.0))
    with pytest.raises(CannotFrame, match="accepted is 0 to 2955 mm"):
        AtMarks(marks=(2980.0,)).place_studs(run)
    with pytest.raises(CannotFrame, match="at least 45 mm apart"):
        AtMarks(marks=(500.0, 540.0)).place_studs(run)


def test_panes_carry_on_along_the_wall() -> None:
    wall = plated(6000.0)
    lines = (1500.0, 2320.0, 3140.0, 3960.0)
    left = OnPanes().place_studs(Run(45.0, 1477.5, "whole", wall.breadth, wall.length, lines))
    right = OnPanes().place_studs(Run(3982.5, 5955.0, "whole", wall.breadth, wall.length, lines))
    assert [face + 22.5 for face in left] == pytest.approx([680.0])
    assert [face + 22.5 for face in right] == pytest.approx([4780.0, 5600.0])


def test_of_two_rows_the_nearer_one_counts() -> None:
    lines = (500.0, 1000.0, 4000.0, 4700.0)
    run = Run(1022.5, 3977.5, "whole", 45.0, 6000.0, lines)
    near = Run(2900.0, 3977.5, "whole", 45.0, 6000.0, lines)
    assert [face + 22.5 for face in OnPanes().place_studs(run)] == pytest.approx(
        [1500.0, 2000.0, 2500.0, 3000.0, 3500.0]
    )
    assert [face + 22.5 for face in OnPanes().place_studs(near)] == pytest.approx([3300.0])


def test_without_panes_the_bays_are_equal() -> None:
    run = whole_run(plated(4500.0))
    assert OnPanes().place_studs(run) == EqualBays(largest_bay=600.0).place_studs(run)


def test_only_one_way_of_spacing_is_accepted() -> None:
    with pytest.raises(ValidationError, match="one of number, largest_bay and largest_centres"):
        EqualBays(number=3, largest_bay=600.0)


@pytest.mark.parametrize("value", [-1.0, 0.0, 49.0, math.inf, math.nan, 1e9])
def test_absurd_spacings_are_refused(value: float) -> None:
    with pytest.raises(ValidationError):
        EqualBays(largest_bay=value)
