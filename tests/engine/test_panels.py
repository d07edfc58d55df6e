"""Walls in panels: judged by what comes out, and held against the same wall in one piece."""

from __future__ import annotations

import itertools
from collections.abc import Iterator
from typing import Any

import pytest
from hypothesis import HealthCheck, given, reject, settings
from hypothesis import strategies as st

from soleplate.engine.building_file import BuildingError, UnbuildableError, pointer_in_request
from soleplate.engine.framing.break_choice import choose_breaks
from soleplate.engine.framing.break_places import BreakPlace
from soleplate.engine.laying_out import lay_out
from soleplate.engine.layout import Layout, Piece, WallOut
from soleplate.engine.shapes import area
from tests.buildings import building, layout_of, registry, wall_of
from tests.engine.test_invariants import assert_sound, buildings

LEVEL = ("sole plate", "head plate", "raked plate")
FULL = ("stud", "corner stud", "king stud")
LEAST = 300.0
NAILING = 50.0
NEAR = 0.01


def one_wall(length: float, panels: dict[str, Any] | None, **changes: Any) -> dict[str, Any]:
    """A building of one level wall, 2400 high, in studs of 45."""
    openings = changes.pop("openings", [])
    defaults = {"studs": {"rule": "equal-bays", "largest_bay": 600}} | changes.pop("defaults", {})
    return building(
        outline={"walls": [{"name": "wall", "length": length}]},
        roof={"form": "level", "height": 2400},
        defaults=defaults | ({"panels": panels} if panels else {}),
        walls={"wall": {"openings": openings}},
        **changes,
    )


def window(left: float, width: float) -> dict[str, Any]:
    return {
        "name": f"window at {left:g}", "kind": "window", "width": width, "height": 800, "sill": 900,
        "at": {"left": left},
    }  # fmt: skip


def sides(piece: Piece) -> tuple[float, float]:
    return min(x for x, _ in piece.outline), max(x for x, _ in piece.outline)


def breaks_of(wall: WallOut) -> list[float]:
    return [panel.start for panel in wall.panels or ()][1:]


def uprights(wall: WallOut) -> list[Piece]:
    return [piece for piece in wall.pieces if piece.is_frame and piece.role in (*FULL, "trimmer", "cripple")]


def may_break(wall: WallOut, x: float, breadth: float = 45.0) -> bool:
    """Whether a wall in one piece can be broken at x, by the sentence of the task and nothing of the code."""
    if not LEAST <= x <= wall.length - LEAST:
        return False
    pieces = {piece.mark: piece for piece in wall.pieces}
    for opening in wall.openings:
        edges = [edge for mark in opening.pieces for edge in sides(pieces[mark])]
        if min(edges) + NEAR < x < max(edges) - NEAR:
            return False
    framing = {mark for opening in wall.openings for mark in opening.pieces}
    standing = [
        (piece.role, *sides(piece))
        for piece in uprights(wall)
        if piece.role == "king stud" or piece.mark not in framing
    ]
    there = [start for role, start, _ in standing if role in FULL]
    ends = [left for left in (x - breadth, x) if not any(abs(left - start) < NEAR for start in there)]
    for left in ends:
        for role, start, end in standing:
            gap = max(start - left - breadth, left - end)
            of_the_break = min(abs(start - x), abs(end - x)) < NEAR
            gives_way = role == "stud" and start - NEAR <= x <= end + NEAR
            if gap < NAILING - NEAR and not gives_way and not (of_the_break and gap > -NEAR):
                return False
    return True


WALLS = [
    one_wall(3000, None),
    one_wall(3600, None, openings=[window(700, 900)]),
    one_wall(4100, None, openings=[window(500, 1200), window(2100, 600)]),
    one_wall(4800, None, defaults={"studs": {"rule": "fixed-centres", "centres": 600}}),
    one_wall(4800, None, defaults={"studs": {"rule": "fixed-centres", "centres": 450, "from": "right"}}),
    one_wall(3900, None, defaults={"studs": {"rule": "equal-bays", "number": 3}}),
    one_wall(4300, None, defaults={"studs": {"rule": "fixed-centres", "centres": 600, "doubled_at": 1200}}),
]


@pytest.mark.parametrize("limit", [1400, 1700, 2000, 2400])
@pytest.mark.parametrize("value", WALLS)
def test_no_fewer_breaks_would_do(value: dict[str, Any], limit: float) -> None:
    whole = layout_of(value).walls[0]
    wall = layout_of(value | {"defaults": value["defaults"] | {"panels": {"largest_length": limit}}}).walls[0]
    breaks = breaks_of(wall)
    assert all(may_break(whole, x) for x in breaks)
    assert all(panel.length <= limit + 0.001 for panel in wall.panels or ())
    # All sets of one break fewer, over every 10 mm, every face and every place that a limit leads to.
    faces = {x for piece in uprights(whole) for x in (*sides(piece), sum(sides(piece)) / 2)}
    grid = {*range(0, int(whole.length), 10), *faces, *(whole.length - x for x in range(0, 4000, 10))}
    places = sorted(x for x in grid if may_break(whole, x))
    reached = {0.0}
    for _ in range(len(breaks) - 1):
        reached = {x for x in places if any(LEAST <= x - y <= limit for y in reached)}
    if breaks:
        assert not any(whole.length - x <= limit for x in reached)


@pytest.mark.parametrize("limit", [1500, 2000, 2400])
@pytest.mark.parametrize("value", WALLS[:5])
def test_no_other_breaks_of_that_number_are_much_more_even(value: dict[str, Any], limit: float) -> None:
    whole = layout_of(value).walls[0]
    wall = layout_of(value | {"defaults": value["defaults"] | {"panels": {"largest_length": limit}}}).walls[0]
    breaks = breaks_of(wall)
    faces = {x for piece in uprights(whole) for x in (*sides(piece), sum(sides(piece)) / 2)}
    places = sorted(x for x in {*range(0, int(whole.length), 50), *faces} if may_break(whole, x))

    def uneven(some: tuple[float, ...]) -> float:
        ends = [0.0, *some, whole.length]
        return sum((b - a) ** 2 for a, b in itertools.pairwise(ends))

    others = [
        uneven(some)
        for some in itertools.combinations(places, len(breaks))
        if all(LEAST <= b - a <= limit for a, b in itertools.pairwise([0.0, *some, whole.length]))
    ]
    # A break in place of a stud lies at its middle, half a stud from the faces that are tried here.
    assert uneven(tuple(breaks)) <= min(others, default=float("inf")) + len(breaks) * 2 * 22.5 * limit


def test_a_wall_is_broken_in_place_of_its_middle_stud() -> None:
    wall = layout_of(one_wall(4500, {"largest_length": 2400})).walls[0]
    whole = layout_of(one_wall(4500, None)).walls[0]
    assert [(p.number, p.start, p.length) for p in wall.panels or ()] == [
        (1, 0.0, 2250.0),
        (2, 2250.0, 2250.0),
    ]
    assert whole.panels is None
    ends = {sides(piece) for piece in uprights(wall)} - {sides(piece) for piece in uprights(whole)}
    assert ends == {(2205.0, 2250.0), (2250.0, 2295.0)}


def test_two_sheets_of_panels_fit_a_wall_that_is_as_long_as_both() -> None:
    for studs in (600, 575, 500, 430):
        value = one_wall(4800, {"largest_length": 2400})
        value["defaults"]["studs"] = {"rule": "equal-bays", "largest_bay": studs}
        assert breaks_of(layout_of(value).walls[0]) == [2400.0]


def test_breaks_are_where_they_are_asked_for() -> None:
    value = one_wall(4800, {"at": [1200, "3.6 m"]}, defaults={"studs": {"rule": "fixed-centres"}})
    wall = layout_of(value).walls[0]
    assert breaks_of(wall) == [1200.0, 3600.0]
    value["walls"]["wall"]["panels"] = {"at": [2400]}
    assert breaks_of(layout_of(value).walls[0]) == [2400.0]
    value["walls"]["wall"]["panels"] = None
    assert layout_of(value).walls[0].panels is None


def test_a_king_is_the_end_stud_of_its_panel() -> None:
    wall = layout_of(one_wall(3600, {"at": [1690]}, openings=[window(700, 900)])).walls[0]
    (king,) = [p for p in uprights(wall) if p.role == "king stud" and sides(p)[1] == 1690.0]
    assert king.panel == 1
    assert [p.role for p in uprights(wall) if sides(p)[0] == 1690.0] == ["stud"]


def test_marks_of_each_panel_are_from_its_own_left_end() -> None:
    wall = layout_of(one_wall(4500, {"largest_length": 2400})).walls[0]
    for plate in ("sole plate", "head plate"):
        first, second = [length for length in wall.plate_lengths if length.plate == plate]
        assert (first.panel, first.start, second.panel, second.start) == (1, 0.0, 2, 2250.0)
        assert first.marks[0].at == second.marks[0].at == 0.0
        assert first.marks[-1].at == second.marks[-1].at == 2205.0


def test_spacers_end_at_the_panels() -> None:
    wall = layout_of(one_wall(4500, {"largest_length": 2400})).walls[0]
    # The bay behind the break is narrower: the second panel's spacer is stepped from the stud after it.
    assert [(spacer.from_, spacer.to) for spacer in wall.spacers] == [(45.0, 2205.0), (2590.714, 4455.0)]


def test_an_upper_plate_runs_over_the_breaks_as_far_as_joints_keep_apart() -> None:
    stock = {"stock": [{"section": [45, 70], "lengths": [{"length": 4200}]}]}
    value = one_wall(7200, {"largest_length": 2400}, defaults={"top_plates": {"rule": "double"}}, stock=stock)
    layout = layout_of(value)
    wall = layout.walls[0]
    assert len(breaks_of(wall)) == 2
    lower, upper = (
        sorted(sides(p) for p in wall.pieces if p.role == "head plate" and p.outline[0][1] == height)
        for height in sorted({p.outline[0][1] for p in wall.pieces if p.role == "head plate"})
    )
    assert [end for _, end in lower[:-1]] == breaks_of(wall)
    joints = [end for _, end in upper[:-1]]
    assert joints
    assert min(abs(x - y) for x in joints for y in breaks_of(wall)) >= 1199.999
    assert [p.panel for p in wall.pieces if p.role == "head plate"].count(None) == len(upper)
    assert "plates-not-tied" not in [found.code for found in layout.findings]


def test_an_upper_plate_is_of_no_panel_even_where_it_lies_on_one() -> None:
    stock = {"stock": [{"section": [45, 70], "lengths": [{"length": 1500}]}]}
    value = one_wall(7200, {"largest_length": 3600}, defaults={"top_plates": {"rule": "double"}}, stock=stock)
    wall = layout_of(value).walls[0]
    top = max(piece.outline[0][1] for piece in wall.pieces if piece.role == "head plate")
    upper = [piece for piece in wall.pieces if piece.outline[0][1] == top]
    assert any(sides(piece)[1] < breaks_of(wall)[0] for piece in upper)
    assert {piece.panel for piece in upper} == {None}


@pytest.mark.parametrize("corners", ["plain", "three-stud", "boxed"])
def test_a_wall_is_not_broken_behind_a_partition(corners: str) -> None:
    """The backing of a tee is of one panel, whatever stands in it."""
    value = building(
        outline={
            "length": 4200, "width": 3000,
            "partitions": [{"name": "inside", "runs": "front-back", "at": 2100}],
        },
        roof={"form": "level", "height": 2300},
        defaults={"corners": {"rule": corners}},
    )  # fmt: skip
    backed = wall_of(layout_of(value), "front")
    studs = [sides(p) for p in backed.pieces if p.role == "corner stud" and 1900 < sides(p)[0] < 2300]
    left = min(2100 - 35, *(start for start, _ in studs))
    right = max(2100 + 35, *(end for _, end in studs))
    for x in (left + 5, 2100, right - 5):
        value["walls"] = {"front": {"panels": {"at": [x]}}}
        with pytest.raises(UnbuildableError, match="wall front has no room for the end studs"):
            layout_of(value)
    value["walls"] = {"front": {"panels": {"largest_length": 2400}}}
    (x,) = breaks_of(wall_of(layout_of(value), "front"))
    assert not left + NEAR < x < right - NEAR


def test_plates_are_jointed_panel_by_panel() -> None:
    stock = {"stock": [{"section": [45, 70], "lengths": [{"length": 1800}]}]}
    wall = layout_of(one_wall(4500, {"largest_length": 2400}, stock=stock)).walls[0]
    soles = sorted(sides(piece) for piece in wall.pieces if piece.role == "sole plate")
    assert len(soles) == 4
    assert soles[1][1] == soles[2][0] == 2250.0
    assert [piece.panel for piece in wall.pieces if piece.role == "sole plate"] == [1, 1, 2, 2]


def test_a_raked_plate_is_divided_by_a_plumb_cut_and_one_over_the_neighbours_is_not() -> None:
    side = wall_of(layout_of(building(defaults={"panels": {"largest_length": 1500}})), "left")
    plates = [piece for piece in side.pieces if piece.role == "raked plate"]
    assert [piece.panel for piece in plates] == [1, 2]
    assert sides(plates[0])[1] == sides(plates[1])[0] == side.length / 2
    over = building(
        defaults={"panels": {"largest_length": 1500}, "top_plates": {"rule": "single", "over_walls": True}}
    )
    side = wall_of(layout_of(over), "left")
    assert [piece.panel for piece in side.pieces if piece.role == "raked plate"] == [None]


def test_rafters_over_the_studs_lie_on_both_end_studs() -> None:
    frame = {"rule": "rafters", "section": [45, 120], "spacing": {"rule": "over-studs"}}
    roof = {"form": "mono-pitch", "high_side": "front", "low_height": 1960, "pitch": 6, "frame": frame}
    whole, parted = (
        layout_of(building(roof=roof, defaults=more)) for more in ({}, {"panels": {"at": [1500]}})
    )
    del parted
    value = building(roof=roof, walls={"back": {"panels": {"largest_length": 2400}}})
    found = layout_of(value)
    assert breaks_of(wall_of(found, "back")) == [2250.0]
    rafters = [[p.depth for p in one.roofs[0].pieces if p.role == "rafter"] for one in (whole, found)]
    assert (2227.5, 2272.5) in rafters[1]
    assert all(b[0] - a[1] > NAILING for a, b in itertools.pairwise(sorted(rafters[1])))


def test_each_panel_is_weighed_and_lifted_by_itself() -> None:
    layout = layout_of(one_wall(4500, {"largest_length": 2400}, frame={"section": [45, 145]}))
    wall = layout.walls[0]
    assert wall.panels is not None
    assert sum(panel.weight_kg for panel in wall.panels) == pytest.approx(wall.weight_kg)
    heavy = [found for found in layout.findings if found.code == "heavy-wall"]
    assert [found.value for found in heavy] == [panel.weight_kg for panel in wall.panels]
    assert "panel 2" in heavy[1].message
    lighter = layout_of(one_wall(4500, {"largest_weight": 25}, frame={"section": [45, 145]}))
    assert not [found for found in lighter.findings if found.code == "heavy-wall"]
    assert max(panel.weight_kg for panel in lighter.walls[0].panels or ()) <= 25


def test_what_a_cutting_list_has_is_named_by_its_panel() -> None:
    layout = layout_of(one_wall(4500, {"largest_length": 2400}, defaults={"top_plates": {"rule": "double"}}))
    panels = {piece.mark: piece.panel for piece in layout.pieces}
    for row in layout.cutting_list:
        told = tuple(f"wall {panels[mark]}" if panels[mark] else None for mark in row.marks)
        assert row.panels == (told if any(told) else None)
    assert sum(len(set(row.panels or ()) - {None}) == 2 for row in layout.cutting_list) >= 2
    assert all(row.panels is None for row in layout_of(one_wall(4500, None)).cutting_list)


def test_a_long_wall_takes_few_looks() -> None:
    """Stretches that are reached in several ways are one: else they would multiply with each break."""
    places = [BreakPlace(400.0 * k + 100.0, 400.0 * k + 300.0) for k in range(1, 149)]
    looks = itertools.count()

    def fits(left: float, right: float) -> bool:
        assert next(looks) < 1_000_000
        return right - left <= 2400.0

    breaks = choose_breaks(places, 60_000.0, fits)
    assert breaks is not None
    assert len(breaks) == 25


@pytest.mark.parametrize("longest", [458.0, 3_000.0, 20_000.0])
def test_a_wall_of_many_studs_takes_few_looks(longest: float) -> None:
    """Of a place only those that can be before it are looked at: there are 487."""
    places = [BreakPlace(121.0 * k, 121.0 * k) for k in range(3, 490)]
    looks = itertools.count()

    def fits(left: float, right: float) -> bool:
        assert next(looks) < 200_000
        return right - left <= longest

    choose_breaks(places, 60_000.0, fits)


BAD = [
    ({"largest_length": 400}, "/largest_length", "shorter than a bay of wall wall", "{at least"),
    ({"largest_length": 900}, "/largest_length", "window at 1500", "accepted is at least 1380 mm"),
    ({"largest_weight": 8}, "/largest_weight", "no place for a break", "accepted is at least"),
    ({"at": [1800]}, "/at/0", "within the framing of window at 1500", "accepted is 1410 mm or 2790 mm"),
    ({"at": [4600]}, "/at/0", "not within wall wall", "accepted is"),
    ({"at": [1000, 1000]}, "", "1000 mm comes after the one at 1000", "from left to right, each once"),
    ({"at": [3500, 1000]}, "", "1000 mm comes after the one at 3500", "from left to right, each once"),
    ({"at": [60]}, "/at/0", "near its end", "accepted is"),
    ({"at": [3340, 3600]}, "/at/1", "would be", "at least 300 mm"),
    ({}, "", "accepted is at alone", "accepted is"),
    ({"at": [3400], "largest_length": 2400}, "", "accepted is at alone", "accepted is"),
    ({"largest_length": 200}, "/largest_length", "accepted is 300 to 60000 mm", "accepted is"),
]


@pytest.mark.parametrize(("panels", "place", "reason", "accepted"), BAD)
@pytest.mark.parametrize("holder", ["/defaults", "/walls/wall"])
def test_bad_input_is_told_with_its_place(
    panels: dict[str, Any], place: str, reason: str, accepted: str, holder: str
) -> None:
    value = one_wall(4500, None, openings=[window(1500, 1200)])
    (value["defaults"] if holder == "/defaults" else value["walls"]["wall"])["panels"] = panels
    with pytest.raises(BuildingError) as caught:
        layout_of(value)
    (fault,) = caught.value.faults
    assert fault.pointer == f"{holder}/panels{place}"
    assert reason in fault.message
    assert accepted.removeprefix("{") in fault.message


def test_the_least_limit_that_is_told_will_do() -> None:
    for limit in ({"largest_length": 900}, {"largest_weight": 8}):
        value = one_wall(4500, limit, openings=[window(1500, 1200)])
        with pytest.raises(UnbuildableError) as caught:
            layout_of(value)
        least = float(caught.value.faults[0].message.rsplit("at least ", 1)[1].split()[0])
        (name,) = limit
        value["defaults"]["panels"] = {name: least}
        assert layout_of(value).walls[0].panels
        value["defaults"]["panels"] = {name: least - 1}
        with pytest.raises(UnbuildableError):
            layout_of(value)


def joined(whole: WallOut, parted: WallOut, breadth: float) -> None:
    """Assert that the panels are the wall, save end studs, what these replace, and noggins beside."""
    breaks = breaks_of(parted)
    ends = [(x - breadth, x) for x in breaks] + [(x, x + breadth) for x in breaks]

    def near(piece: Piece) -> bool:
        left, right = sides(piece)
        return any(left < end - NEAR and start < right - NEAR for start, end in ends)

    frame = [[p for p in wall.pieces if p.is_frame and p.role not in LEVEL] for wall in (whole, parted)]
    kept, now = ({(p.role, p.outline, p.depth) for p in pieces if not near(p)} for pieces in frame)
    cut = {(p.role, p.outline, p.depth) for p in frame[0] if p.role == "noggin" and near(p)}
    parts = {piece for piece in now - kept if piece[0] == "noggin"}
    assert kept <= now
    assert now - kept == parts
    for _, outline, depth in cut:
        low, high = min(z for _, z in outline), max(z for _, z in outline)
        expected = list(clear((min(x for x, _ in outline), max(x for x, _ in outline)), breaks, breadth))
        for left, right in expected:
            assert any(
                d == depth and abs(sides_of(o)[0] - left) < NEAR and abs(sides_of(o)[1] - right) < NEAR
                for _, o, d in parts
                if abs(min(z for _, z in o) - low) < NEAR and abs(max(z for _, z in o) - high) < NEAR
            )
    for start, end in ends:
        (stud,) = [p for p in uprights(parted) if p.role in FULL and abs(sides(p)[0] - start) < NEAR]
        assert abs(sides(stud)[1] - end) < NEAR
    for piece in frame[0]:
        assert piece.role in ("stud", "noggin", *FULL) or not near(piece) or piece in frame[1]
    for role in LEVEL:
        before, after = (
            sum(area(p.outline) for p in wall.pieces if p.role == role) for wall in (whole, parted)
        )
        # Corners are put out at 0.001 mm, of plates up to 7 m long.
        assert after == pytest.approx(before, abs=20.0)


def sides_of(outline: tuple[tuple[float, float], ...]) -> tuple[float, float]:
    return min(x for x, _ in outline), max(x for x, _ in outline)


def clear(span: tuple[float, float], breaks: list[float], breadth: float) -> Iterator[tuple[float, float]]:
    left, right = span
    for x in breaks:
        if left < x + breadth and x - breadth < right:
            if x - breadth > left + NEAR:
                yield left, x - breadth
            left = x + breadth
    if right > left + NEAR:
        yield left, right


def assert_panels(layout: Layout, whole: Layout, limit: dict[str, float], breadth: float) -> None:
    for wall, before in zip(layout.walls, whole.walls, strict=True):
        for panel in wall.panels or ():
            assert panel.length <= limit.get("largest_length", 1e9) + 0.001
            assert panel.weight_kg <= limit.get("largest_weight", 1e9)
            for piece in wall.pieces:
                if piece.is_frame and piece.panel == panel.number:
                    assert panel.start - NEAR <= sides(piece)[0]
                    assert sides(piece)[1] <= panel.start + panel.length + NEAR
        if wall.panels is None:
            # Boards are planned for all walls together, so that those of other walls may change.
            assert [p for p in wall.pieces if p.is_frame] == [p for p in before.pieces if p.is_frame]
            assert before.length <= limit.get("largest_length", 1e9)
        else:
            assert len(wall.panels) > 1
            for role in ("sole plate", "stud", "king stud", "trimmer", "cripple", "lintel", "noggin", "sill"):
                assert all(p.panel is not None for p in wall.pieces if p.role == role)
            joined(before, wall, breadth)


limits = st.one_of(
    st.builds(lambda mm: {"largest_length": float(mm)}, st.integers(900, 3600)),
    st.builds(lambda kg: {"largest_weight": float(kg)}, st.integers(15, 60)),
)


@settings(max_examples=60, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(buildings(), limits)
def test_panels_joined_again_are_the_wall(value: dict[str, Any], limit: dict[str, float]) -> None:
    try:
        whole = layout_of(value)
        layout = layout_of(value | {"defaults": value["defaults"] | {"panels": limit}})
    except UnbuildableError:
        reject()
    assert_sound(layout)
    assert_panels(layout, whole, limit, value["frame"]["section"][0])


def test_one_wall_on_its_own_is_built_in_panels_too() -> None:
    request = {
        "name": "screen", "frame": {"section": [45, 70]}, "length": 4500, "height": 2400,
        "panels": {"largest_length": 2400},
    }  # fmt: skip
    layout = lay_out(registry().read_wall(request), registry())
    assert breaks_of(layout.walls[0]) == [2250.0]
    with pytest.raises(UnbuildableError) as caught:
        lay_out(registry().read_wall(request | {"panels": {"at": [4600]}}), registry())
    assert pointer_in_request(caught.value.faults[0].pointer, "screen") == "/panels/at/0"
