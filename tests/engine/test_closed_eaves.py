"""What closes the eaves: blocks over the plates and between rungs, and what stays open over them."""

from __future__ import annotations

import itertools
import math
from typing import Any

import pytest
from hypothesis import HealthCheck, assume, given, settings
from hypothesis import strategies as st

from soleplate.engine.layout import Layout, PartOut, Piece, SlopeOut
from soleplate.engine.shapes import contains
from tests.buildings import layout_of
from tests.engine.test_roofs import buildings, built, codes, plane, role, within
from tests.floors import solid_of
from tests.roofs import DUO, SHEETS, duo, frame_with, mono, slope_of

GAP = 30.0
"""mm: what stays open unless something else is said."""


def blocks(slope: SlopeOut, view: str) -> list[Piece]:
    return [piece for piece in role(slope, "blocking") if piece.view == view]


def heights(pieces: list[Piece]) -> set[float]:
    return {round(max(v for _, v in p.outline) - min(v for _, v in p.outline), 3) for p in pieces}


def test_blocks_over_plates_leave_the_gap_square_to_the_deck() -> None:
    """By hand, 6 degrees, HAP 138.441: less 30 / cos 6; over the high plate 25 tan 6 more."""
    slope = slope_of(layout_of(mono()))
    low, high = blocks(slope, "eaves"), blocks(slope, "eaves high")
    down = GAP / math.cos(math.radians(6))
    assert list(heights(low)) == pytest.approx([138.441 - down], abs=0.002)
    assert list(heights(high)) == pytest.approx([138.441 + 25 * math.tan(math.radians(6)) - down], abs=0.002)
    # Seven bays between eight rafters, and the corners over plates that run through.
    assert sorted({p.length for p in low}) == [70.0, 571.429]
    assert (len(low), len(high)) == (9, 9)
    assert {p.rip for p in low} == heights(low)
    assert {p.section for p in low} == {(45.0, 145.0)}
    assert all(end.cut == "square" for p in (*low, *high) for end in p.ends)


def test_blocks_between_rungs_are_cut_by_the_pitch_where_the_plates_end() -> None:
    layout = layout_of(mono(outline={"length": 4500, "width": 2700, "through": "left-right"}, walls={}))
    along = blocks(slope_of(layout), "side")
    assert {p.rip for p in along} == {145 - GAP}
    ends = sorted({end.angle for p in along for end in p.ends if end.cut == "bevel" and end.angle})
    assert ends == [6.0]
    assert all(p.notches is None for p in along)


def test_blocks_are_counted_bought_weighed_sawn_and_marked() -> None:
    layout, bare = layout_of(mono()), layout_of(mono(frame_with(closing={"rule": "open"})))
    made = role(slope_of(layout), "blocking")
    more = layout.weight_kg - bare.weight_kg
    assert more == pytest.approx(sum(p.weight_kg for p in made), abs=0.002)
    marks = {mark for row in layout.cutting_list if "blocking" in row.role for mark in row.marks}
    assert marks == {p.mark for p in made}
    assert all(p.grade == "short" for p in made)

    def bought(each: Layout) -> float:
        return sum(row.total_length for row in each.buying_list if row.section == (45.0, 145.0))

    assert bought(layout) - bought(bare) == pytest.approx(sum(p.length for p in made), abs=0.01)


def test_blocks_are_fixed_to_rafters_and_plates() -> None:
    """IBC 2018 Table 2304.10.1 item 1: three toenails to the plate."""
    layout = layout_of(mono() | {"fixings": []})
    made = {p.mark for p in blocks(slope_of(layout), "eaves")}
    plates = {p.mark for wall in layout.walls for p in wall.pieces if p.role == "head plate"}
    ends = [f for f in layout.fixings if f.joint == "end" and f.into in made]
    # Both ends of each, but where one ends at the verge; no nail is lacking, though the next block is behind.
    assert {f.into for f in ends} == made
    assert len({(f.through, f.into) for f in ends}) >= 2 * len(made) - 4
    assert all(f.places and not f.faults for f in ends)
    seats = [f for f in layout.fixings if {f.through, f.into} & made and {f.through, f.into} & plates]
    assert {(f.way, len(f.places)) for f in seats} <= {("skew", 3), ("skew", 2)}
    assert len({mark for f in seats for mark in (f.through, f.into)} & made) == len(made)


def test_mesh_over_the_gaps_is_bought() -> None:
    layout = layout_of(mono())
    (mesh,) = [row for row in layout.goods if row.kind == "insect mesh"]
    made = sum(p.length for p in role(slope_of(layout), "blocking")) / 1e3
    assert mesh.quantity == pytest.approx(made, abs=0.001)
    assert mesh.size == (GAP + 50,)
    tight = layout_of(mono(frame_with(closing={"rule": "blocking", "gap": 3})))
    assert "insect mesh" not in {row.kind for row in tight.goods}


@pytest.mark.parametrize(
    ("frame", "is_open"),
    [
        (frame_with(), False),
        (frame_with(deck=None), True),
        (frame_with(closing={"rule": "open"}), True),
        (frame_with(deck=None, closing={"rule": "blocking"}), False),
    ],
)
def test_what_is_left_open_is_told(frame: dict[str, Any], *, is_open: bool) -> None:
    layout = layout_of(mono(frame))
    assert (not role(slope_of(layout), "blocking")) == is_open
    assert ("eaves-open" in codes(layout)) == is_open
    assert ("eaves-air" in codes(layout)) != is_open


def test_blocks_from_too_narrow_timber_are_told_with_what_stays_open() -> None:
    """By hand: 138.441 over the plate less 95, square to the deck."""
    layout = layout_of(mono(frame_with(closing={"rule": "blocking", "section": [45, 95]})))
    (found,) = [f for f in layout.findings if f.code == "eaves-open"]
    high = 138.441 + 25 * math.tan(math.radians(6))
    assert found.level == "warn"
    assert found.value == pytest.approx((high - 95) * math.cos(math.radians(6)), abs=0.01)


@pytest.mark.parametrize(
    ("pitch", "gap", "insulation", "level", "least"),
    [
        (6, 30, 90, "note", 25_000),
        (6, 25, 90, "warn", 25_000),
        (6, 25, None, "note", 25_000),
        (20, 12, 90, "note", 10_000),
        (20, 10, 90, "warn", 10_000),
    ],
)
def test_air_at_the_eaves(pitch: int, gap: int, insulation: int | None, level: str, least: int) -> None:
    """BS 5250, as restated: 25 mm all along up to 15 degrees, 10 mm over it; bays of 571.429 at 616.429."""
    value = mono(frame_with(closing={"rule": "blocking", "gap": gap}, insulation=insulation))
    value["roof"]["pitch"] = pitch
    (found,) = [f for f in layout_of(value).findings if f.code == "eaves-air"]
    assert (found.level, found.limit) == (level, least)
    # Seven bays, and two corners of 70 over the plates.
    assert found.value == pytest.approx((7 * 571.4286 + 140) / 4500 * gap * 1e3, abs=1.0)


def test_ties_end_at_the_blocks() -> None:
    ties = {"height": 2000, "section": [45, 95]}
    closed = layout_of(duo(frame_with(DUO, ties=ties, deck=SHEETS)))
    left = layout_of(duo(frame_with(DUO, ties=ties)))
    lengths = [{tie.length for tie in role(layout.roofs[0], "tie")} for layout in (closed, left)]
    assert lengths == [{2910.0}, {3000.0}]


def test_a_window_beside_a_plate_keeps_clear_of_blocks() -> None:
    window = {"name": "light", "at": {"centre": 1500}, "up": 120, "width": 400, "height": 700}
    layout = layout_of(mono(frame_with(openings=[window])))
    wide = [p.length for p in blocks(slope_of(layout), "eaves")]
    assert len(wide) > 8
    assert len(set(wide)) > 2


# in any building


def _in(piece: Piece, part: PartOut, place: tuple[float, float, float]) -> bool:
    u, v, w = within(solid_of(piece, part).view, place)
    return piece.depth[0] <= w <= piece.depth[1] and contains(piece.outline, (u, v))


@settings(max_examples=40, deadline=None, suppress_health_check=list(HealthCheck))
@given(buildings(), st.sampled_from([0, 12, 30, 60]), st.data())
def test_nothing_wider_than_the_gap_leads_in_at_any_eaves(
    value: dict[str, Any], gap: int, data: st.DataObject
) -> None:
    """Rays over the plates from outdoors in: each meets timber, or goes through the gap under the deck."""
    value["roof"]["frame"] |= {"deck": SHEETS, "closing": {"rule": "blocking", "gap": gap}}
    layout = built(value)
    assume(not any(f.code == "eaves-open" for f in layout.findings))
    parts: list[PartOut] = [*layout.walls, *layout.roofs]
    for slope in layout.roofs:
        across, eaves = plane(slope, "slope"), plane(slope, "eaves")
        rafters = [p.depth for p in role(slope, "rafter")]
        first, last = min(near for near, _ in rafters), max(far for _, far in rafters)
        # Rafters may stand nearer to each other than a block is long.
        slits = [(end, start) for (_, end), (start, _) in itertools.pairwise(sorted(rafters))]
        deep = value["frame"]["section"][1]
        near = [(part, p) for part in parts for p in part.pieces if p.role not in ("sheet", "board")]
        # From the plumb cut the wall's outer face is as far in as the eaves hang over.
        reach = value["roof"]["frame"]["eaves"]["low"]
        low_blocks = blocks(slope, "eaves")
        if not low_blocks:
            # What is over the plate is hardly more than the gap.
            assert slope.card.hap * math.cos(math.radians(slope.card.pitch)) < gap + 10.0
            continue
        plate = min(v for p in low_blocks for _, v in p.outline)
        for _ in range(12):
            x = data.draw(st.floats(first, last))
            up = data.draw(st.floats(1.0, 150.0))
            if any(start - end < max(gap, 10.0) and end <= x <= start for end, start in slits):
                continue
            ray = [eaves.point(x, plate + up, reach + far) for far in range(1, int(deep), 4)]
            # At the blocks' outer face: further in a steep roof rises away from the ray.
            _, _, under = within(across, eaves.point(x, plate + up, reach))
            if under <= gap + 0.1:
                continue
            low, high = ray[0], ray[-1]
            assert any(
                _in(piece, part, place)
                for part, piece in near
                if _reaches(piece, part, low, high)
                for place in ray
            ), (slope.name, x, up)


def _reaches(
    piece: Piece, part: PartOut, one: tuple[float, float, float], other: tuple[float, float, float]
) -> bool:
    """Whether a ray may meet a piece, by their boxes."""
    least, most = solid_of(piece, part).extent
    return all(
        least[axis] <= max(one[axis], other[axis]) and min(one[axis], other[axis]) <= most[axis]
        for axis in range(3)
    )


@settings(max_examples=40, deadline=None, suppress_health_check=list(HealthCheck))
@given(buildings(), st.sampled_from([0, 12, 30]))
def test_nothing_longer_than_the_gap_is_open_between_rungs(value: dict[str, Any], gap: int) -> None:
    """Along the middle of what lies over the raked plates, clear of the plates under the eaves."""
    frame = value["roof"]["frame"] | {"closing": {"rule": "blocking", "gap": gap}, "deck": SHEETS}
    frame["verge"] = {"rule": "ladder", "overhang": 250, "rungs": 400}
    value["roof"]["frame"] = frame
    layout = built(value)
    breadth, depth = frame["section"]
    deep = value["frame"]["section"][1]
    is_mono = len(layout.roofs) == 1
    high = frame["eaves"].get("high")
    out = (frame["eaves"]["low"] if high is None else high) if is_mono else 0.0
    for slope in layout.roofs:
        across = plane(slope, "slope")
        pitch = math.radians(slope.card.pitch)
        half = (depth + gap) / 2
        # From within the plate under the eaves to within the high one, or the ridge.
        start = 2 * deep / math.cos(pitch)
        end = slope.card.marks[-1] - slope.card.marks[1] - (out + 2 * deep) / math.cos(pitch)
        end -= depth * math.tan(pitch)
        for middle in (breadth / 2, slope.length - breadth / 2):
            taken = []
            for piece in slope.pieces:
                if piece.role not in ("rung", "blocking"):
                    continue
                corners = [
                    within(across, solid_of(piece, slope).view.point(u, v, w))
                    for u, v in piece.outline
                    for w in piece.depth
                ]
                us = [u for u, _, _ in corners]
                if min(us) < middle < max(us):
                    taken += _crossed(corners, half)
            free, reached = 0.0, start
            for low, high in sorted(taken):
                if low >= end:
                    break
                free = max(free, low - reached)
                reached = max(reached, high)
            free = max(free, end - reached)
            if end > start:
                assert free <= max(gap, 10.0) + 0.5


def _crossed(corners: list[tuple[float, float, float]], deep: float) -> list[tuple[float, float]]:
    """From where to where up the slope a convex body is at a depth under the rafters' upper edges."""
    over = [(v, w) for _, v, w in corners if w <= deep]
    under = [(v, w) for _, v, w in corners if w >= deep]
    if not over or not under:
        return []
    at = [
        v0 + (v1 - v0) * ((deep - w0) / (w1 - w0) if w1 > w0 else 0.0) for v0, w0 in over for v1, w1 in under
    ]
    return [(min(at), max(at))]


def test_rafters_are_nailed_to_plates_with_all_their_nails_before_blocks_go_in() -> None:
    """Table 340 row 19: three skewed; blocks on both sides of a rafter leave room for two."""
    layout = layout_of(mono() | {"fixings": []})
    slope = slope_of(layout)
    rafters, made = ({p.mark for p in role(slope, name)} for name in ("rafter", "blocking"))
    plates = {p.mark for wall in layout.walls for p in wall.pieces if p.role == "head plate"}
    seats = [f for f in layout.fixings if f.into in rafters and f.through in plates]
    nails = dict.fromkeys({(f.through, f.into) for f in seats}, 0)
    for each in seats:
        nails[each.through, each.into] += len(each.places)
    assert len(nails) == 16
    assert set(nails.values()) == {3}
    before = {f.when.removeprefix("before ") for f in seats if f.when and f.when.startswith("before")}
    assert before
    assert before <= made


def test_ties_are_skewed_to_plates_beside_blocks() -> None:
    ties = {"height": 2000, "section": [45, 95]}
    layout = layout_of(duo(frame_with(DUO, ties=ties, deck=SHEETS)) | {"fixings": []})
    tied = {p.mark for p in role(layout.roofs[0], "tie")}
    plates = {p.mark for wall in layout.walls for p in wall.pieces if p.role == "head plate"}
    seats = [f for f in layout.fixings if {f.through, f.into} & tied and {f.through, f.into} & plates]
    assert seats
    assert {f.way for f in seats} == {"skew"}
    assert not any(f.faults for f in seats)


def test_rungs_stand_behind_the_joints_of_sheets_where_noggins_do() -> None:
    noggins = {"rule": "straight", "behind_sheets": 1220}
    layout = layout_of(mono(frame_with(noggins=noggins)))
    slope = slope_of(layout)
    middles = {round(sum(v for _, v in p.outline) / 4, 3) for p in role(slope, "rung")}
    levels = {round(sum(v for _, v in p.outline) / 4, 3) for p in role(slope, "noggin")}
    assert levels
    assert levels <= middles
    assert "joint-unbacked" not in codes(layout)
    assert "joint-unbacked" in codes(layout_of(mono()))
