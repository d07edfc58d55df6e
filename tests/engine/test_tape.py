"""What a tape can set: rounded figures, spacers, and how far studs off their size can push the last bay."""

from __future__ import annotations

import itertools
import math
import statistics
from collections.abc import Callable, Iterator
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from soleplate.engine.building_file import Units, format_length, parse_length, round_for_tape
from soleplate.engine.layout import Spacer, WallOut
from tests.buildings import building, layout_of, single_wall

INCH = 25.4
GRADUATION: dict[Units, float] = {"mm": 1.0, "in": INCH / 16}


@given(st.floats(0.0, 20_000.0), st.sampled_from(["mm", "in"]))
def test_a_length_is_set_at_the_nearest_mark_of_the_tape(length: float, units: Units) -> None:
    step = GRADUATION[units]
    found = round_for_tape(length, units)
    marks = [(length // step + beside) * step for beside in (-1, 0, 1, 2)]
    assert min(abs(found - mark) for mark in marks) < 1e-6
    assert abs(found - length) <= min(abs(mark - length) for mark in marks) + 1e-6
    told = parse_length(format_length(length, units))
    assert told == pytest.approx(found, abs=1e-6)


@pytest.mark.parametrize(
    ("units", "length", "told"),
    [
        # NAVEDTRA 14044 p 2-12: the nearest 1/16 in, an exact half counting up; the same of whole mm.
        ("mm", 0.5, "1 mm"),
        ("mm", 590.499, "590 mm"),
        ("mm", 590.5, "591 mm"),
        ("mm", 591.5, "592 mm"),
        ("mm", 592.5, "593 mm"),
        ("in", 3 / 32, "1/8 in"),
        ("in", 5 / 32, "3/16 in"),
        ("in", 15.25 + 0.031, "1 ft 3 1/4 in"),
        ("in", 15.25 + 1 / 32, "1 ft 3 5/16 in"),
        ("in", 12 - 1 / 32, "1 ft"),
    ],
)
def test_an_exact_half_counts_up(units: Units, length: float, told: str) -> None:
    mm = length * (1.0 if units == "mm" else INCH)
    assert format_length(mm, units) == told
    assert round_for_tape(mm, units) == pytest.approx(parse_length(told), abs=1e-9)


@pytest.mark.parametrize("units", ["mm", "in"])
def test_running_marks_and_spacers_are_told_to_the_nearest_mark(units: Units) -> None:
    """Each by itself, so that no mark is off by more than half of what the tape shows."""
    wall = single_wall("4137 mm", ["45 mm", "70 mm"], {"rule": "equal-bays"}, units=units)
    half = GRADUATION[units] / 2 + 0.001
    told = [(mark.at, mark.display) for marks in wall.marks.values() for mark in marks]
    told += [(bay.clear, bay.display) for bay in wall.bays]
    (spacer,) = wall.spacers
    told += [(spacer.clear, spacer.display), (spacer.closing_bay, spacer.closing_bay_display)]
    assert any(at % GRADUATION[units] > 0.1 for at, _ in told)
    assert all(abs(parse_length(display) - at) <= half for at, display in told)
    assert parse_length(spacer.display) == pytest.approx(spacer.spacer, abs=0.001)


WINDOWS = [
    {"name": name, "kind": "window", "width": 600, "height": 600, "sill": 900, "at": {"centre": centre}}
    for name, centre in (("one", 1500), ("two", 3900))
]
WALLS: dict[str, Callable[[list[int]], WallOut]] = {
    "equal bays": lambda section: single_wall(3300, section, {"rule": "equal-bays"}),
    "from the left": lambda section: single_wall(3130, section, {"rule": "fixed-centres", "centres": 600}),
    "from the right": lambda section: single_wall(
        3130, section, {"rule": "fixed-centres", "centres": 600, "from": "right"}
    ),
    "beside openings": lambda section: layout_of(
        building(
            outline={"walls": [{"name": "wall", "length": 5400}]},
            roof={"form": "level", "height": 2400},
            frame={"section": section},
            defaults={"studs": {"rule": "equal-bays", "largest_bay": 400}},
            walls={"wall": {"openings": WINDOWS}},
        )
    ).walls[0],
}


def closing_bays(wall: WallOut, spacer: Spacer, off: tuple[float, ...]) -> Iterator[float]:
    """The last bay of a run stepped along from its start, with its studs off their size in every way.

    End studs are flush with the wall's ends; other timbers that a run begins or ends at are set by the tape.
    """
    breadth = wall.pieces[0].section[0]
    left = {round(piece.outline[0][0], 3) for piece in wall.pieces if piece.role == "stud"}
    between = [x for x in left if spacer.from_ - 0.01 < x < spacer.to - 0.01]
    at_ends = [spacer.from_ < breadth + 0.01, spacer.to > wall.length - breadth - 0.01]
    for first, last, *each in itertools.product(off, off, *[off] * len(between)):
        at = spacer.from_ + (first if at_ends[0] else 0.0)
        for more in each:
            at += spacer.spacer + breadth + more
        yield spacer.to - (last if at_ends[1] else 0.0) - at


@pytest.mark.parametrize(
    ("breadth", "grade", "under", "over"),
    # EN 336:2013, restated by Timber Development UK: up to 100 mm, and above.
    [(45, "T1", 1.0, 3.0), (45, "T2", 1.0, 1.0), (100, "T1", 1.0, 3.0), (120, "T1", 2.0, 4.0),
     (120, "T2", 1.5, 1.5)],
)  # fmt: skip
@pytest.mark.parametrize("made", WALLS.values(), ids=WALLS)
def test_the_last_bay_is_off_by_all_studs_that_are_stepped_over(
    made: Callable[[list[int]], WallOut], breadth: int, grade: str, under: float, over: float
) -> None:
    """Worst: every way in which the studs may be off tried out. Likely: how those ways spread, each stud off
    by as much to one side or the other."""
    wall = made([breadth, 145])
    assert wall.spacers
    for spacer in wall.spacers:
        tried = list(closing_bays(wall, spacer, (-under, over)))
        assert list(closing_bays(wall, spacer, (0.0,))) == pytest.approx([spacer.closing_bay], abs=0.01)
        worst, likely = spacer.worst[grade], spacer.likely[grade]
        assert worst.short == pytest.approx(spacer.closing_bay - min(tried), abs=0.01)
        assert worst.long == pytest.approx(max(tried) - spacer.closing_bay, abs=0.01)
        for off, found in ((over, likely.short), (under, likely.long)):
            spread = statistics.pstdev(closing_bays(wall, spacer, (-off, off)))
            assert found == pytest.approx(spread, abs=0.002)


def test_seven_studs_of_47_mm() -> None:
    """The five studs in 3506 mm clear and the two at the ends, sawn (EN 336 T1: -1, +3) and planed (1, 1)."""
    (spacer,) = single_wall(3600, [47, 75], {"rule": "equal-bays", "number": 5}).spacers
    assert {grade: (drift.short, drift.long) for grade, drift in spacer.worst.items()} == {
        "T1": (21.0, 7.0), "T2": (7.0, 7.0),
    }  # fmt: skip
    assert {grade: (drift.short, drift.long) for grade, drift in spacer.likely.items()} == {
        "T1": (pytest.approx(3 * math.sqrt(7), abs=0.001), pytest.approx(math.sqrt(7), abs=0.001)),
        "T2": (pytest.approx(math.sqrt(7), abs=0.001), pytest.approx(math.sqrt(7), abs=0.001)),
    }


def test_a_run_whose_bays_differ_has_no_spacer() -> None:
    marks: dict[str, Any] = {"rule": "at", "marks": [500, 1000, 1700, 2200]}
    assert single_wall(3000, [45, 70], marks).spacers == ()
