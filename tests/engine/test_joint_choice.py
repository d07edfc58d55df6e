"""Joints of all plates of a wall together, held against trying every choice there is."""

from __future__ import annotations

import itertools
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from soleplate.engine.building_file import LengthYield
from soleplate.engine.framing import joint_choice
from soleplate.engine.framing.joint_choice import Layer, choose_joints
from soleplate.engine.framing.jointing import LEAST_PART, SHORTEST_PART, stretch_of
from soleplate.engine.layout import Layout
from soleplate.engine.shapes import Section, level
from tests.buildings import building, layout_of, single_wall, wall_of

BREADTH = 45.0


@dataclass(frozen=True)
class Case:
    """Plates by their ends and layer, with the studs under all of them; the sole plate is the first layer."""

    layers: tuple[tuple[tuple[float, float], ...], ...]
    studs: tuple[float, ...]
    longest: float
    apart: float


@st.composite
def cases(draw: st.DrawFn) -> Case:
    bays = draw(st.lists(st.integers(250, 700), min_size=3, max_size=8))
    studs = tuple(itertools.accumulate(bays[:-1], initial=0))[1:]
    length = sum(bays)
    lap = draw(st.sampled_from([-95, 0, 95]))
    soles: tuple[tuple[float, float], ...] = ((0, length),)
    if draw(st.booleans()):
        door = draw(st.integers(400, max(401, length - 1200)))
        soles = ((0, door), (door + 800, length))
    longest = draw(st.integers(max(750, length // 3 + 50), length))
    apart = draw(st.sampled_from([300.0, 600.0, 1200.0, 3000.0]))
    return Case((soles, ((0, length),), ((-lap, length + lap),)), studs, longest, apart)


def told(case: Case) -> list[Layer] | None:
    """The case as the search takes it."""
    section = Section(BREADTH, 95.0)
    layers = []
    for number, plates in enumerate(case.layers):
        stretches = [
            stretch_of(
                level("head plate", section, (left, right, 0.0, BREADTH), (0.0, 95.0)),
                case.studs,
                LengthYield(case.longest, case.longest),
            )
            for left, right in plates
        ]
        if None in stretches:
            return None
        layers.append(Layer(tuple(each for each in stretches if each is not None), is_sole=number == 0))
    return layers


Choice = tuple[tuple[float, ...], ...]


def ways(plate: tuple[float, float], case: Case) -> list[tuple[float, ...]]:
    """Every choice of joints by which one plate can be had; those without a short part, if there are any."""
    left, right = plate
    if right - left <= case.longest:
        return [()]
    inside = [x for x in case.studs if left + 1 < x < right - 1]
    some = [
        joints
        for count in range(1, 5)
        for joints in itertools.combinations(inside, count)
        if max(parts(plate, joints)) <= case.longest
    ]
    for least in (LEAST_PART, SHORTEST_PART):
        if kept := [joints for joints in some if min(parts(plate, joints)) >= least]:
            return kept
    return []


def parts(plate: tuple[float, float], joints: Sequence[float]) -> list[float]:
    return [b - a for a, b in itertools.pairwise([plate[0], *joints, plate[1]])]


def every(plates: Sequence[tuple[float, float]], case: Case) -> list[tuple[float, ...]]:
    """Every choice for a layer, with at most one part more than it must have."""
    all_ways = [
        tuple(itertools.chain.from_iterable(each))
        for each in itertools.product(*(ways(plate, case) for plate in plates))
    ]
    return [joints for joints in all_ways if len(joints) <= min(map(len, all_ways)) + 1]


def apart(some: Sequence[float], others: Sequence[float], wanted: float) -> float:
    return min([wanted, *(abs(a - b) for a in some for b in others)])


def squares(choice: Choice, case: Case) -> int:
    return sum(
        round(size**2)
        for plates, joints in zip(case.layers, choice, strict=True)
        for plate in plates
        for size in parts(plate, [x for x in joints if plate[0] < x < plate[1]])
    )


def worth(choice: Choice, case: Case) -> tuple[float, bool, int, float, int]:
    """What is better is less."""
    sole, lower, upper = choice
    to_sole = apart(sole, [*lower, *upper], case.apart)
    return (
        -apart(lower, upper, case.apart),
        to_sole < 1.0,
        sum(map(len, choice)),
        -to_sole,
        squares(choice, case),
    )


@settings(max_examples=300, deadline=None)
@given(cases())
def test_no_choice_of_joints_is_better(case: Case) -> None:
    layers = told(case)
    assume(layers is not None)
    assert layers is not None
    options = [every(plates, case) for plates in case.layers]
    assume(max(len(joints) for some in options for joints in some) <= 3)
    best = min(itertools.product(*options), key=lambda choice: (worth(choice, case), choice))
    assert tuple(choose_joints(layers, case.apart)) == best


@settings(max_examples=100, deadline=None)
@given(cases())
def test_a_mirrored_wall_is_jointed_as_well(case: Case) -> None:
    length = case.layers[1][0][1]
    turned = Case(
        tuple(
            tuple((length - right, length - left) for left, right in reversed(plates))
            for plates in case.layers
        ),
        tuple(length - x for x in reversed(case.studs)),
        case.longest,
        case.apart,
    )
    one, other = told(case), told(turned)
    assert (one is None) == (other is None)
    if one is not None and other is not None:
        straight, mirrored = choose_joints(one, case.apart), choose_joints(other, case.apart)
        assert worth(tuple(straight), case) == worth(tuple(mirrored), turned)


def double(length: float, stock: float, bay: dict[str, Any], **plates: Any) -> Layout:
    return layout_of(
        building(
            outline={"walls": [{"name": "long", "length": length}]},
            roof={"form": "level", "height": 2400},
            frame={"section": [45, 95], "material": "C16"},
            defaults={"studs": {"rule": "equal-bays", **bay}, "top_plates": {"rule": "double", **plates}},
            stock={"stock": [{"section": [45, 95], "lengths": [{"length": stock}]}]},
        )
    )


def joints_of(layout: Layout) -> list[list[float]]:
    """Of the sole plate and each head plate, from below."""
    lines: dict[float, list[float]] = {}
    for piece in wall_of(layout, "long").pieces:
        if piece.role in ("sole plate", "head plate"):
            lines.setdefault(min(z for _, z in piece.outline), []).append(max(x for x, _ in piece.outline))
    return [sorted(ends)[:-1] for _, ends in sorted(lines.items())]


def test_a_wall_that_would_hinge_has_its_joints_48_in_apart() -> None:
    """IBC 2308.5.3.2: 48 in. Of studs at 22.5 + k 522.14 only the second and the fifth are so far."""
    layout = double(3700, 3000, {"largest_centres": 600})
    sole, lower, upper = joints_of(layout)
    step = (3700 - 45) / 7
    assert (lower, upper) == (
        [pytest.approx(22.5 + 2 * step, abs=0.001)],
        [pytest.approx(22.5 + 5 * step, abs=0.001)],
    )
    assert sole == [pytest.approx(22.5 + 3 * step, abs=0.001)]
    codes = {finding.code: finding for finding in layout.findings}
    assert "plate-joints-close" not in codes
    assert codes["sole-joint-close"].level == "note"
    assert codes["sole-joint-close"].value == pytest.approx(step, abs=0.001)


def test_one_part_more_where_that_helps() -> None:
    """Halves of 5900 meet at 2950 alone, of lengths of 3000; the upper plate then has three parts."""
    sole, lower, upper = joints_of(double(5900, 3000, {"number": 13}))
    assert sorted(map(len, (lower, upper))) == [1, 2]
    assert min(abs(a - b) for a in lower for b in upper) >= 1200.0 - 0.001
    assert min(abs(a - b) for a in sole for b in (*lower, *upper)) > 1.0


def test_a_very_long_wall_of_many_studs_is_jointed_layer_by_layer() -> None:
    """60 m with studs at 150, out of lengths of 20 m: too many ways to try together, and each keeps 1200."""
    layout = double(60_000, 20_000, {"largest_bay": 105})
    sole, lower, upper = joints_of(layout)
    assert len(lower) + len(upper) <= 7
    assert min(abs(a - b) for a in lower for b in upper) >= 1200.0 - 0.001
    assert min(abs(a - b) for a in sole for b in (*lower, *upper)) >= 1200.0 - 0.001


@settings(max_examples=100, deadline=None)
@given(cases())
def test_layer_by_layer_is_never_nearer_than_the_best_together(case: Case) -> None:
    """Both are choices that can be had; together is as good or better."""
    layers = told(case)
    assume(layers is not None)
    assert layers is not None
    together = tuple(choose_joints(layers, case.apart))
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(joint_choice, "MOST_STEPS", 0)
        apiece = tuple(choose_joints(layers, case.apart))
    options = [every(plates, case) for plates in case.layers]
    assert all(joints in some for joints, some in zip(apiece, options, strict=True))
    assert worth(together, case) <= worth(apiece, case)


def test_what_cannot_be_had_is_told() -> None:
    """Two studs between, of a wall of 2000: no two are 1200 apart, whatever the parts."""
    layout = double(2000, 1500, {"number": 2})
    _, lower, upper = joints_of(layout)
    (found,) = (each for each in layout.findings if each.code == "plate-joints-close")
    reached = min(abs(a - b) for a in lower for b in upper)
    assert (found.level, found.limit) == ("warn", 1200.0)
    assert found.value == pytest.approx(reached, abs=0.002)
    assert reached == pytest.approx((2000 - 45) / 3, abs=0.001)


def test_a_single_head_plate_is_jointed_over_another_stud_than_the_sole_plate() -> None:
    """Studs at 600 centres, lengths of 2410 for 3600: each has its joint over the first stud that serves."""
    stock = {"stock": [{"section": [45, 70], "lengths": [{"length": 2410}]}]}
    wall = single_wall(3600, [45, 70], {"rule": "fixed-centres", "centres": 600}, stock=stock)
    starts = {
        plate: [length.start for length in wall.plate_lengths if length.plate == plate and length.start]
        for plate in ("sole plate", "head plate")
    }
    assert starts == {"sole plate": [1200.0], "head plate": [2400.0]}


@settings(max_examples=200, deadline=None)
@given(
    st.integers(500, 5000), st.lists(st.integers(0, 5000), max_size=12, unique=True), st.integers(300, 4000)
)
def test_no_plate_is_cut_to_a_scrap(length: int, studs: list[int], longest: int) -> None:
    """Against every stud that it could be jointed over: a way is found if there is one without scraps."""
    plate = level("head plate", Section(BREADTH, 95.0), (0.0, length, 0.0, BREADTH), (0.0, 95.0))
    stretch = stretch_of(plate, sorted(map(float, studs)), LengthYield(longest, longest))
    reached = {0}
    for x in [*(x for x in sorted(studs) if 1 < x < length - 1), length]:
        if any(SHORTEST_PART <= x - start <= longest for start in reached):
            reached.add(x)
    if length <= longest:
        assert stretch is not None
        assert not stretch.places
    elif length not in reached:
        assert stretch is None
    else:
        assert stretch is not None
        assert min(stretch.parts.values()) >= SHORTEST_PART


def test_plates_without_a_distance_wanted_have_the_most_even_parts() -> None:
    sole, lower, upper = joints_of(double(3700, 3000, {"number": 5}, joints_apart=0))
    assert sole == lower == upper == [pytest.approx(1850.0)]


@settings(max_examples=40, deadline=None)
@given(
    st.integers(2200, 9000), st.integers(1500, 4800), st.integers(350, 650), st.sampled_from([600.0, 1200.0])
)
def test_no_two_joints_are_nearer_than_told(length: int, stock: int, bay: int, wanted: float) -> None:
    assume(stock < length)
    layout = double(length, stock, {"largest_bay": bay}, joints_apart=wanted)
    sole, lower, upper = joints_of(layout)
    told = {each.code: each.value for each in layout.findings if each.value is not None}
    for code, some, others in (
        ("plate-joints-close", lower, upper),
        ("sole-joint-close", sole, [*lower, *upper]),
    ):
        reached = min((abs(a - b) for a in some for b in others), default=wanted)
        assert reached >= told.get(code, wanted) - 0.01
        assert (code in told) == (reached < wanted - 0.01)
