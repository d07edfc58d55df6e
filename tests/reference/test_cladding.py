"""Cladding against published values; each test names its source."""

from __future__ import annotations

from itertools import pairwise

import pytest
from shapely import Polygon

from soleplate.engine.layout import Layout, WallOut
from soleplate.plugins.cladding_lapped import Lapped
from soleplate.plugins.cladding_rebated import Rebated, TongueAndGroove
from tests.buildings import building, layout_of

INCH = 25.4


def one_wall(cladding: dict[str, object], **changes: object) -> tuple[WallOut, Layout]:
    value = building(
        outline={"walls": [{"name": "wall", "length": 4800}]},
        roof={"form": "level", "height": 2400},
        defaults={"studs": {"rule": "fixed-centres", "centres": 600}, "cladding": cladding},
    )
    layout = layout_of(value | changes)
    return layout.walls[0], layout


def test_twelve_inch_siding_meets_a_window_and_the_foundation() -> None:
    """NAVEDTRA 14044, ch 4, fig 4-3: 61 in takes 6 courses of 10 1/6 in, the 31 in below 3 of 10 1/3 in."""
    rule = Lapped(width=12 * INCH, thickness=2 * INCH, least_lap=INCH)
    zones = rule.choose_zones(0.0, 92 * INCH, {31 * INCH: 900.0})
    assert zones.levels == pytest.approx((0.0, 31 * INCH, 92 * INCH))
    assert zones.counts == (3, 6)
    assert zones.exposures == pytest.approx(((10 + 1 / 3) * INCH, (10 + 1 / 6) * INCH))


@pytest.mark.parametrize(("width", "exposure"), [(6, 4), (8, 6), (10, 8), (12, 10)])
def test_usual_exposures(width: int, exposure: int) -> None:
    """NAVEDTRA 14044, ch 4, fig 4-3: what is usually shown of a board, by its width in inches."""
    assert Lapped(width=width * INCH, least_lap=INCH).usual == pytest.approx(exposure * INCH)


def test_exposures_too_different_give_one_exposure_and_a_notch() -> None:
    """NAVEDTRA 14044, ch 4: where the two exposures differ too much, one exposure and a notch at the sill."""
    rule = Lapped(width=12 * INCH, thickness=2 * INCH, least_lap=INCH, most_difference=2.0)
    zones = rule.choose_zones(0.0, 92 * INCH, {31 * INCH: 900.0})
    assert zones.levels == (0.0, 92 * INCH)
    assert zones.counts == (9,)


@pytest.mark.parametrize(("width", "face"), [(5.75, 5.25), (7.75, 7.25)])
def test_drop_siding_shows_its_face_width(width: float, face: float) -> None:
    """NAVEDTRA 14044, ch 4, fig 4-4: the face of 1 x 6 drop siding is 5 1/4 in, of 1 x 8 7 1/4 in."""
    wall, layout = one_wall({"rule": "rebated", "width": width * INCH, "cover": face * INCH})
    assert {course.seen for course in layout.storey_rod} == {round(face * INCH, 3)}
    assert wall.courses[0].bottom < 0.0


def test_a_tongue_and_groove_board_of_125_mm_with_a_gap_of_4_mm() -> None:
    """BS 8605-1:2014, as restated: a 125 mm board with a tongue of 15 mm and a gap of 4 mm shows 106 mm."""
    rule = TongueAndGroove(width=125.0, cover=106.0, gap=4.0)
    assert rule.pitch == 110.0
    assert rule.width - rule.pitch == 15.0


@pytest.mark.parametrize(("rule", "lap", "is_short"), [
    ({"rule": "lapped", "width": 145, "least_lap": 24, "exposure": 121}, 24.0, True),
    ({"rule": "lapped", "width": 150, "exposure": 124}, 25.0, False),
    ({"rule": "rebated", "width": 145, "cover": 131}, 14.0, True),
    ({"rule": "rebated", "width": 145, "cover": 130}, 15.0, False),
])  # fmt: skip
def test_laps_of_25_and_15_mm(rule: dict[str, object], lap: float, is_short: bool) -> None:
    """TRADA, as restated by suppliers: a lap of 25 mm for feather edge and 15 mm for rebated boards."""
    wall, layout = one_wall(rule)
    assert wall.cladding is not None
    assert wall.cladding.lap is not None
    assert wall.cladding.lap >= lap - 0.001
    assert ("short-lap" in {finding.code for finding in layout.findings}) == is_short


@pytest.mark.parametrize(("width", "per_support"), [(95, 1), (99, 1), (100, 2), (105, 2)])
def test_one_fixing_under_100_mm_and_two_at_quarter_points(width: int, per_support: int) -> None:
    """BM TRADA 2022 (TDCA): two fixings per support, one under 100 mm; quarter points; 20 mm from ends."""
    wall, _ = one_wall({"rule": "rebated", "width": width, "cover": width - 15, "lengths": [4800]})
    board = next(piece for piece in wall.pieces if piece.course == 3)
    assert board.fixed_at is not None
    assert len(board.fixed_at) == per_support * 9
    low = min(z for _, z in board.outline)
    shares = {round((z - low) / width, 3) for _, z in board.fixed_at}
    assert shares == ({0.5} if per_support == 1 else {0.25, 0.75})
    assert min(x for x, _ in board.fixed_at) >= 20.0
    assert max(x for x, _ in board.fixed_at) <= 4800.0 - 20.0


def test_a_lapped_board_is_fixed_once_above_the_lap() -> None:
    """Western red cedar guidance: one nail a piece just above the lap, never through two boards."""
    wall, _ = one_wall({"rule": "lapped", "width": 150})
    rows = {piece.course: piece for piece in wall.pieces if piece.course}
    below, board = rows[2], rows[3]
    assert board.fixed_at is not None
    assert len({z for _, z in board.fixed_at}) == 1
    assert board.fixed_at[0][1] > max(z for _, z in below.outline)


def test_sheets_47_7_8_in_wide_stay_on_48_in_with_gaps_of_1_8_in() -> None:
    """Maker's research: 47 7/8 x 95 7/8 in sheets with 1/8 in gaps (APA) stay on 48 in centres."""
    rule = {"rule": "sheets", "width": 47.875 * INCH, "height": 95.875 * INCH, "gap": 0.125 * INCH}
    value = building(
        outline={"walls": [{"name": "wall", "length": 144 * INCH}]},
        roof={"form": "level", "height": 96 * INCH},
        frame={"section": [1.5 * INCH, 3.5 * INCH]},
        defaults={"studs": {"rule": "fixed-centres", "centres": 16 * INCH}, "cladding": rule},
    )
    layout = layout_of(value)
    lefts = sorted(min(x for x, _ in p.outline) for p in layout.walls[0].pieces if p.role == "sheet")
    rights = sorted(max(x for x, _ in p.outline) for p in layout.walls[0].pieces if p.role == "sheet")
    middles = [(right + left) / 2 for right, left in zip(rights, lefts[1:], strict=False)]
    assert middles == pytest.approx([48 * INCH, 96 * INCH], abs=0.001)
    assert [left - right for right, left in zip(rights, lefts[1:], strict=False)] == pytest.approx(
        [0.125 * INCH] * 2, abs=0.002
    )
    assert not [f for f in layout.findings if f.code == "sheet-edge-loose"]


def test_sheets_are_nailed_at_6_and_12_in() -> None:
    """Nailing schedules: 6 in round the edges, 12 in between, 3/8 in from the edge."""
    wall, _ = one_wall({"rule": "sheets", "width": 1200, "height": 2400})
    sheet = next(piece for piece in wall.pieces if piece.role == "sheet")
    assert sheet.fixed_at is not None
    right = max(x for x, _ in sheet.outline)
    edge = sorted(z for x, z in sheet.fixed_at if right - x < 11.0)
    field = sorted(z for x, z in sheet.fixed_at if abs(x - 600.0) < 1.0)
    assert max(b - a for a, b in pairwise(edge)) <= 150.001
    within = [z for z in field if 20.0 < z < 2380.0]
    assert 290.0 < max(b - a for a, b in pairwise(within)) <= 300.001


@pytest.mark.parametrize(("ground", "surface", "is_near"), [
    (190, "soil", True), (200, "soil", False), (115, "paving", True), (125, "paving", False),
    (50, "deck", True), (60, "deck", False),
])  # fmt: skip
def test_clearance_over_the_ground(ground: int, surface: str, is_near: bool) -> None:
    """E2/AS1 Table 18, as restated: 175 mm over soil, 100 mm over paving, 35 mm over a deck."""
    rule = {"rule": "lapped", "drop": 20}
    _, layout = one_wall(rule, site={"ground": ground, "surface": surface})
    assert ("cladding-near-ground" in {finding.code for finding in layout.findings}) == is_near


@pytest.mark.parametrize(("thickness", "width", "codes"), [
    (25, 150, set()), (24, 150, {"thin-board"}), (30, 160, {"wide-board"}),
])  # fmt: skip
def test_width_against_thickness(thickness: int, width: int, codes: set[str]) -> None:
    """BS 8605-1:2014, as restated: at most 6 times as wide as thick, and 150 mm."""
    _, layout = one_wall({"rule": "rebated", "thickness": thickness, "width": width, "cover": width - 20})
    assert {f.code for f in layout.findings} & {"thin-board", "wide-board"} == codes


def test_supports_at_600_mm() -> None:
    """TDCA: battens, hence supports, at 600 mm."""
    _, close = one_wall({"rule": "rebated", "cover": 130})
    wide = building(
        outline={"walls": [{"name": "wall", "length": 4800}]},
        roof={"form": "level", "height": 2400},
        defaults={
            "studs": {"rule": "fixed-centres", "centres": 650},
            "cladding": {"rule": "rebated", "cover": 130},
        },
    )
    assert "boards-span-wide" not in {finding.code for finding in close.findings}
    assert "boards-span-wide" in {finding.code for finding in layout_of(wide).findings}


def test_the_drop_leaves_no_narrow_rip() -> None:
    """Derived: dropped 20 mm, the last course of 130 mm is 80 mm under 2400 mm, but 20 mm under 2340 mm."""
    rule = Rebated(cover=130.0, least_drop=20.0, most_drop=60.0, narrowest_rip=40.0)
    for tops, drop in (([2400.0], 20.0), ([2340.0], 40.0), ([2400.0, 2340.0], 40.0)):
        assert rule.choose_first(tops, [], [], bounded=False) == pytest.approx((drop, 0.0))


@pytest.mark.parametrize(("batten", "is_thin"), [(49, True), (50, False)])
def test_battens_of_upright_boards_are_twice_as_thick(batten: int, is_thin: bool) -> None:
    """TDCA drawing 2a: a support batten of 2.0 times the board's thickness and more; boards of 25 mm."""
    cladding = {"rule": "board-and-batten", "thickness": 25, "battens": {"section": [batten, 50]}}
    _, layout = one_wall(cladding)
    assert ("thin-batten" in {finding.code for finding in layout.findings}) == is_thin


def weights(cladding: dict[str, object], section: tuple[float, float]) -> dict[float, float]:
    """kg of whole boards of this section by their length, mm, of one wall of 4800."""
    wall, _ = one_wall({"material": "spruce", "density": 450, **cladding})
    return {
        piece.length: piece.weight_kg
        for piece in wall.pieces
        if piece.section == section and piece.rip is None and not piece.notched
    }


def test_a_tongue_and_groove_board_is_weighed_by_its_profile() -> None:
    """120 x 21 with cover 103, 4800 long, 450 kg/m3: 103 x 21 x 4.8 x 450 = 4.67 kg, where 120 x 21 has 5.44.

    The tongue, 17 by a third of the thickness, is what the groove lacks.
    """
    found = weights({"rule": "tongue-and-groove", "width": 120, "thickness": 21, "cover": 103}, (21.0, 120.0))
    groove, tongue = [(7, 0), (7, 17), (14, 17), (14, 0)], [(14, 103), (14, 120), (7, 120), (7, 103)]
    profile = Polygon([(0, 0), *groove, (21, 0), (21, 103), *tongue, (0, 103)]).area
    assert profile == pytest.approx(103 * 21)
    assert found == {4800.0: pytest.approx(profile * 4800 * 450e-9, abs=0.001)}
    assert found[4800.0] == pytest.approx(4.67, abs=0.005)


def test_a_rebated_board_is_weighed_by_its_profile() -> None:
    """145 x 25, cover 130: a rebate of half the thickness along both edges, 15 deep."""
    found = weights({"rule": "rebated", "width": 145, "thickness": 25, "cover": 130}, (25.0, 145.0))
    profile = Polygon(
        [(12.5, 0), (25, 0), (25, 130), (12.5, 130), (12.5, 145), (0, 145), (0, 15), (12.5, 15)]
    ).area
    assert found == {4800.0: pytest.approx(profile * 4800 * 450e-9, abs=0.001)}


def test_a_feather_edged_board_is_weighed_by_its_profile() -> None:
    """150 wide, 25 at one edge and 8 at the other."""
    found = weights({"rule": "lapped", "width": 150, "thickness": 25, "thin_edge": 8}, (25.0, 150.0))
    profile = Polygon([(0, 0), (25, 0), (8, 150), (0, 150)]).area
    assert found == {4800.0: pytest.approx(profile * 4800 * 450e-9, abs=0.001)}


@pytest.mark.parametrize(("batten", "counter", "is_thin"), [(49, 60, True), (50, 16, False), (60, 49, False)])
def test_battens_that_hold_the_boards_are_judged_and_no_others(
    batten: int, counter: int, is_thin: bool
) -> None:
    """The same: the boards' fixings go into the battens that they lie on, not into those behind or inside."""
    rule = {"rule": "board-and-batten", "thickness": 25, "battens": {"section": [batten, 50]}}
    lining = {"rule": "board-and-batten", "thickness": 12, "battens": {"section": [20, 50]}}
    cladding = rule | {"counter_battens": {"section": [counter, 50]}}
    studs = {"rule": "fixed-centres", "centres": 600}
    _, layout = one_wall({}, defaults={"studs": studs, "cladding": cladding, "lining": lining})
    told = [found for found in layout.findings if found.code == "thin-batten"]
    assert [(found.value, found.limit) for found in told] == ([(batten, 50.0)] if is_thin else [])


@pytest.mark.parametrize(("thin_edge", "battens"), [(8, None), (11, None), (8, 25)])
def test_a_starter_strip_is_as_thick_as_the_boards_lean_on(thin_edge: int, battens: int | None) -> None:
    """Common practice, no source: boards lean on the thin edge of the one below, the first on a strip."""
    rule: dict[str, object] = {"rule": "lapped", "width": 150, "thin_edge": thin_edge}
    behind = {"battens": {"section": [battens, 50]}} if battens else {}
    wall, _ = one_wall(rule | behind)
    (strip,) = [piece for piece in wall.pieces if piece.role == "starter strip"]
    first = next(piece for piece in wall.pieces if piece.course == 1)
    assert strip.section[0] == thin_edge
    assert strip.depth == (-thin_edge - (battens or 0), -(battens or 0))
    assert strip.depth[0] == first.depth[1]
    assert min(z for _, z in strip.outline) == min(z for _, z in first.outline)


def test_only_lapped_boards_have_a_starter_strip() -> None:
    studs = {"rule": "fixed-centres", "centres": 600}
    for chosen, count in (
        ({"cladding": {"rule": "rebated", "cover": 130}}, 0),
        ({"lining": {"rule": "lapped", "width": 150}}, 1),
    ):
        wall, _ = one_wall({}, defaults={"studs": studs} | chosen)
        assert [piece.role for piece in wall.pieces].count("starter strip") == count
