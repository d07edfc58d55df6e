"""What is found while walls are framed: each kind at its limit, on both sides of it, with its figures."""

from __future__ import annotations

import math
from itertools import pairwise
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from soleplate.engine.layout import FindingOut, Layout, Piece, WallOut
from tests.buildings import building, layout_of

WINDOW = {"name": "window", "kind": "window", "width": 600, "height": 600, "sill": 900, "at": {"left": 2000}}


def one_wall(heights: tuple[float, float] = (2400, 2400), length: float = 4500, **more: Any) -> Layout:
    """A wall on its own; the window that it may have stands between studs: 1955 to 2000, 2600 to 2645."""
    openings = more.pop("openings", [])
    defaults = {"openings_framing": {"rule": "single-studs"}} | more.pop("defaults", {})
    return layout_of(
        building(
            outline={"walls": [{"name": "wall", "length": length, "heights": list(heights)}]},
            roof=None,
            defaults=defaults,
            walls={"wall": {"openings": openings}},
            **more,
        )
    )


def found(layout: Layout, code: str) -> list[FindingOut]:
    return [each for each in layout.findings if each.code == code]


def left(piece: Piece) -> float:
    return min(x for x, _ in piece.outline)


def right(piece: Piece) -> float:
    return max(x for x, _ in piece.outline)


def bottom(piece: Piece) -> float:
    return min(z for _, z in piece.outline)


def of_role(wall: WallOut, role: str) -> list[Piece]:
    return sorted((piece for piece in wall.pieces if piece.role == role), key=left)


def marked(*marks: float, **more: Any) -> Layout:
    return one_wall(openings=[WINDOW], defaults={"studs": {"rule": "at", "marks": marks}}, **more)


@pytest.mark.parametrize(
    ("mark", "gap"),
    [
        # A hammer has room in 50 mm (common practice, no source); a window's stud serves for both, no other.
        (2695.0, None), (2694.5, 49.5), (2650.0, 5.0), (1860.0, None), (1860.5, 49.5), (1905.0, 5.0),
        (60.0, None), (4400.0, None),
    ],
)  # fmt: skip
def test_a_stud_too_near_an_opening_is_left_out_and_told(mark: float, gap: float | None) -> None:
    layout = marked(mark, 3500.0)
    wall = layout.walls[0]
    stands = {left(stud) for stud in of_role(wall, "stud")}
    told = found(layout, "merged-stud")
    assert stands == {0.0, 1955.0, 2600.0, 3500.0, 4455.0} | ({mark} if gap is None else set())
    assert {m.at for m in wall.marks["sole plate"]} == stands
    assert [(each.level, each.wall, each.value, each.limit) for each in told] == (
        [] if gap is None else [("note", "wall", gap, 50.0)]
    )
    if gap is not None:
        said = f"the stud at {math.floor(mark + 0.5)} mm would stand {math.floor(gap + 0.5)} mm from"
        assert told[0].message.startswith(said)


@pytest.mark.parametrize(("mark", "gap"), [(2050, None), (2049, 49.0), (2505, None), (2506, 49.0)])
def test_a_cripple_too_near_the_opening_s_stud_is_left_out_and_told(mark: float, gap: float | None) -> None:
    """Over the head and under the sill; the window's hole is from 2000 to 2600."""
    layout = marked(mark)
    cripples = of_role(layout.walls[0], "cripple")
    told = found(layout, "merged-stud")
    assert [left(piece) for piece in cripples] == ([mark, mark] if gap is None else [])
    assert [each.value for each in told] == ([] if gap is None else [gap])
    assert all(each.message.startswith(f"the cripple at {mark} mm would stand 49 mm") for each in told)


@pytest.mark.parametrize(("mark", "height"), [(1352, None), (1353, 40.076), (1452, 49.976)])
def test_a_cripple_shorter_than_40_mm_is_left_out_and_told(mark: int, height: float | None) -> None:
    """By hand: the wall rises by 1 in 10 from 2000, and its plate is 45 mm thick, so that over a window whose
    head ends at 2050 there are 40 mm at x = 1352.24. Shorter ones split (common practice, no source)."""
    window = WINDOW | {"width": 1500, "height": 1105, "at": {"left": 1000}}
    marks = {"studs": {"rule": "at", "marks": [mark]}}
    layout = one_wall((2000, 2450), openings=[window], defaults=marks)
    over = [piece for piece in of_role(layout.walls[0], "cripple") if bottom(piece) > 2000]
    told = found(layout, "cripple-left-out")
    assert [piece.short_length for piece in over] == pytest.approx(
        [] if height is None else [height], abs=1e-3
    )
    assert [(each.level, each.wall, each.limit) for each in told] == (
        [("note", "wall", 40.0)] if height is None else []
    )
    said = f"a cripple at {mark} mm would be 40 mm long, and under 40 mm it splits: pack the gap there"
    assert all(each.message == said for each in told)
    assert all(each.value == pytest.approx(39.976, abs=1e-3) for each in told)


@pytest.mark.parametrize(("low", "what", "left_out"), [(39, "sill", True), (40, "sill", False)])
def test_a_gap_under_40_mm_is_packed(low: int, what: str, left_out: bool) -> None:
    """Under a sill, over a head: the sole plate and the sill are 45 mm thick, so is the plate under 2400."""
    window = WINDOW | {"sill": 90 + low, "height": 2400 - 90 - low - 90 - low}
    layout = one_wall(openings=[window], defaults={"studs": {"rule": "at", "marks": [2277]}})
    assert len(of_role(layout.walls[0], "cripple")) == (0 if left_out else 2)
    codes = {each.code for each in layout.findings}
    packed = {"packed-over-lintel", "packed-under-sill"}
    assert codes & packed == (packed if left_out else set())


@pytest.mark.parametrize(
    ("height", "left_out"),
    [
        # The sill lies from 855 to 900, the head from 1500 to 1545; a noggin is 45 mm thick.
        (772.5, False), (773, True), (832.5, True), (1627, True), (1627.5, False),
    ],
)  # fmt: skip
def test_a_noggin_under_60_mm_from_a_sill_or_head_is_left_out_and_told(height: float, left_out: bool) -> None:
    """Nearer, a hammer has no room (common practice, no source). Only the bays between cripples are near."""
    noggins = {"rule": "straight", "heights": [height]}
    defaults = {"studs": {"rule": "at", "marks": [1000, 2277, 3500]}, "noggins": noggins}
    layout = one_wall(openings=[WINDOW], defaults=defaults)
    places = [left(piece) for piece in of_role(layout.walls[0], "noggin")]
    beside = [45.0, 1045.0, 2645.0, 3545.0]
    assert places == sorted(beside + ([] if left_out else [2000.0, 2322.0]))
    told = [(each.level, each.wall, each.value, each.limit) for each in found(layout, "noggin-close")]
    assert told == ([("note", "wall", 2.0, 60.0)] if left_out else [])
    assert not left_out or "from 2000, 2322 mm" in found(layout, "noggin-close")[0].message


@pytest.mark.parametrize(("upper", "rows"), [(1004, 1), (1005, 2)])
def test_of_two_noggins_too_near_to_each_other_the_upper_is_left_out(upper: int, rows: int) -> None:
    """Two of 45 mm with 59 mm and with 60 mm between them."""
    noggins = {"rule": "straight", "heights": [900, upper]}
    layout = one_wall(defaults={"studs": {"rule": "equal-bays", "number": 7}, "noggins": noggins})
    assert len(of_role(layout.walls[0], "noggin")) == 8 * rows
    assert {bottom(piece) for piece in of_role(layout.walls[0], "noggin")} >= {877.5}
    assert [each.value for each in found(layout, "noggin-close")] == ([8.0] if rows == 1 else [])


@settings(max_examples=30, deadline=None)
@given(st.integers(50, 2500), st.integers(1900, 2400), st.integers(-10, 10))
def test_every_bay_has_its_noggin_or_is_told(height: int, low: int, rise: int) -> None:
    """Worked out by hand: under 45 mm of plate a noggin fits where its bay is lowest."""
    heights = (low, low + 45 * rise)
    noggins = {"rule": "straight", "heights": [height]}
    layout = one_wall(heights, defaults={"studs": {"rule": "equal-bays"}, "noggins": noggins})
    plate = 45 * math.hypot(1, rise / 100)
    studs = of_role(layout.walls[0], "stud")
    bays = [(right(one), left(other)) for one, other in pairwise(studs)]
    over = height >= max(heights) - plate  # no bay is as high: its noggins are told all the same
    fits = [
        min(low + rise / 100 * x - plate for x in bay) >= height + 22.5 and height >= 67.5 and not over
        for bay in bays
    ]
    made = {(left(piece), right(piece)) for piece in of_role(layout.walls[0], "noggin")}
    assert made == {bay for bay, free in zip(bays, fits, strict=True) if free}
    missing = [start for (start, _), free in zip(bays, fits, strict=True) if not free]
    told = found(layout, "noggin-left-out")
    assert [each.value for each in told] == ([len(missing)] if missing else [])
    for each in told:
        where = ", ".join(str(math.floor(start + 0.5)) for start in missing)
        assert each.message.startswith(f"{len(missing)} straight noggins have no room, ")
        assert f"in the bays from {where} mm: they" in each.message
        assert (each.level, each.wall) == ("note", "wall")


@pytest.mark.parametrize(("height", "left_out"), [(2332.5, 0), (2333.0, 8), (67.5, 0), (67.0, 8)])
def test_a_row_just_under_the_head_plate_has_room(height: float, left_out: int) -> None:
    noggins = {"rule": "straight", "heights": [height]}
    layout = one_wall(defaults={"studs": {"rule": "equal-bays", "number": 7}, "noggins": noggins})
    assert len(of_role(layout.walls[0], "noggin")) == 8 - left_out
    assert [each.value for each in found(layout, "noggin-left-out")] == ([left_out] if left_out else [])
    if left_out:
        assert found(layout, "noggin-left-out")[0].message.startswith("8 straight noggins have no room")


@pytest.mark.parametrize(
    ("length", "trim", "jointed"), [(4800, 0, False), (4801, 0, True), (4780, 10, False), (4781, 10, True)]
)
def test_a_plate_longer_than_what_is_on_sale_is_jointed_and_told(
    length: float, trim: float, jointed: bool
) -> None:
    stock = {"stock": [{"section": [45, 70], "lengths": [{"length": 3600}, {"length": 4800}]}], "trim": trim}
    layout = one_wall(length=length, stock=stock)
    told = found(layout, "plate-joint")
    studs = {(left(p) + right(p)) / 2 for p in of_role(layout.walls[0], "stud")}
    if not jointed:
        assert told == []
        return
    assert [(each.level, each.wall, each.limit) for each in told] == [("note", "wall", 4800.0 - 2 * trim)] * 2
    for role, each in zip(("sole plate", "head plate"), told, strict=True):
        first, second = of_role(layout.walls[0], role)
        assert right(first) == left(second)
        assert min(abs(right(first) - stud) for stud in studs) < 0.002
        where = math.floor(right(first) + 0.5)
        assert each.message == f"the {role} is jointed over the studs at {where} mm"
