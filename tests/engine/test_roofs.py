"""Framed roofs: what the rule lays, what is refused, and what holds of every roof over every building."""

from __future__ import annotations

import itertools
import json
import math
from collections import Counter
from typing import Any

import pytest
from hypothesis import HealthCheck, given, reject, settings
from hypothesis import strategies as st
from shapely import Polygon, unary_union

from soleplate.engine import BuildingError, UnbuildableError
from soleplate.engine.framing import choose_joints
from soleplate.engine.laying_out import layout_json
from soleplate.engine.layout import Layout, PartOut, Piece, SlopeOut
from soleplate.engine.roofs import jointing
from soleplate.engine.shapes import View, overlapping
from tests.buildings import layout_of, wall_of
from tests.engine.test_floors import coverings
from tests.engine.test_invariants import stud_rules
from tests.floors import solid_of
from tests.roofs import DUO, FRAME, SHEETS, duo, frame_with, mono, slope_of

WINDOW: dict[str, Any] = {"name": "light", "at": {"centre": 1500}, "up": 900, "width": 550, "height": 700}
LOW_TIES: dict[str, Any] = {"height": 2000, "section": [45, 95]}
TRIMMED = WINDOW | {"framing": {"rule": "trimmed-joists"}}


def role(slope: SlopeOut, name: str) -> list[Piece]:
    return [piece for piece in slope.pieces if piece.role == name]


def plane(slope: SlopeOut, name: str) -> View:
    view = slope.views[name]
    return View(name, view.origin, view.right, view.up)


def codes(layout: Layout) -> set[str]:
    return {finding.code for finding in layout.findings if (finding.part or "").startswith("roof")}


# what the rule lays


def test_pieces_join_marks_lists_weights_and_what_is_bought() -> None:
    layout = layout_of(mono())
    slope = slope_of(layout)
    assert slope.name == "roof back"
    assert [piece.mark for piece in slope.pieces] == [f"RB{n}" for n in range(1, len(slope.pieces) + 1)]
    assert sorted(m for row in layout.cutting_list for m in row.marks) == sorted(
        p.mark for p in layout.pieces
    )
    assert sum(row.pieces for row in layout.buying_list) == len(layout.pieces)
    assert layout.weight_kg == pytest.approx(sum(part.weight_kg for part in layout.parts), abs=0.002)
    told = json.loads(layout_json(layout))["roofs"][0]
    assert {"side", "slope", "eaves", "eaves high"} <= set(told["views"])
    assert {"name", "kind", "length", "pieces", "marks", "bays", "spacers", "card", "deck_m2"} <= set(told)


def test_a_birdsmouthed_rafter_and_a_plain_one_are_not_alike() -> None:
    layout = layout_of(mono())
    rows = [row for row in layout.cutting_list if row.length == 3333.417]
    assert sorted((row.role, row.count, len(row.notches or ())) for row in rows) == [
        ("fly rafter", 2, 0),
        ("rafter", 8, 2),
    ]


@pytest.mark.parametrize("through", ["front-back", "left-right"])
def test_turned_round_all_four_sides_it_is_one_cutting_list(through: str) -> None:
    other = {"front-back": "left-right", "left-right": "front-back"}[through]
    lists = []
    for side in ("front", "right", "back", "left"):
        across = side in ("left", "right")
        length, width = (2700, 4500) if across else (4500, 2700)
        value = mono(
            walls={}, outline={"length": length, "width": width, "through": other if across else through}
        )
        value["roof"]["high_side"] = side
        layout = layout_of(value)
        lists.append(
            Counter({(r.section, r.length, r.ends, r.notches, r.role): r.count for r in layout.cutting_list})
        )
    assert all(one == lists[0] for one in lists)


def test_rafters_stand_over_studs_where_asked() -> None:
    layout = layout_of(mono(frame_with(spacing={"rule": "over-studs"})))
    slope, back = slope_of(layout), wall_of(layout, "back")
    studs = {mark.at for mark in back.marks["sole plate"]}
    places = [mark.at for mark in slope.marks["back plate"]]
    assert len(places) > 4
    assert set(places[1:-1]) <= studs


def test_a_grid_may_start_at_the_decks_edge() -> None:
    centres = {"rule": "fixed-centres", "centres": 600}
    walls = slope_of(layout_of(mono(frame_with(spacing=centres))))
    deck = slope_of(layout_of(mono(frame_with(spacing=centres, datum="deck"))))
    assert walls.marks["back plate"][1].at == 577.5
    # 250 of overhang and a barge board of 20 out.
    assert deck.marks["back plate"][1].at == 577.5 - 270.0


def test_pairs_meet_at_the_ridge() -> None:
    spacing = {"rule": "fixed-centres", "centres": 400}
    front, back = layout_of(duo(frame_with(DUO, spacing=spacing))).roofs
    ours = [mark.at for mark in front.marks["front plate"]]
    theirs = [4500.0 - mark.at - 45.0 for mark in back.marks["back plate"]]
    assert ours == pytest.approx(sorted(theirs), abs=0.001)


@pytest.mark.parametrize(("doubled", "whole"), [(True, 4), (False, 2)])
def test_a_roof_window_is_trimmed(*, doubled: bool, whole: int) -> None:
    window = WINDOW | {"framing": {"rule": "trimmed-joists", "doubled": doubled}}
    slope = slope_of(layout_of(mono(frame_with(openings=[window]))))
    trimmers = role(slope, "trimmer joist")
    assert [piece.length for piece in trimmers] == [550.0, 550.0]
    (opening,) = slope.openings
    assert (opening.left, opening.right, opening.bottom, opening.top) == (1225.0, 1775.0, 900.0, 1600.0)
    beside = [p for p in role(slope, "rafter") if p.mark in opening.pieces and p.length == 3333.417]
    assert len(beside) == whole
    cut = [p for p in role(slope, "rafter") if p.length < 3333.0]
    assert [sorted(end.cut for end in piece.ends) for piece in cut] == [["bevel", "square"]] * 2
    assert all(len(piece.notches or ()) == 1 for piece in cut)
    hole = Polygon([(1225, 900), (1775, 900), (1775, 1600), (1225, 1600)])
    up = slope.views["slope"].up
    for piece in slope.pieces:
        if piece.face is not None:
            view = slope.views["deck"]
            foot = sum(
                (a - b) * c for a, b, c in zip(view.origin, slope.views["slope"].origin, up, strict=True)
            )
            seen = Polygon([(u, v + foot) for u, v in piece.outline])
            assert seen.intersection(hole).area < 1.0


def test_battens_are_counted_and_cut_round_windows() -> None:
    battens = {"section": [25, 50], "largest_gauge": 350}
    slope = slope_of(layout_of(mono(frame_with(battens=battens, openings=[TRIMMED]))))
    assert slope.covering is not None
    assert slope.covering.battens == math.ceil((3358.398 - 50) / 350) + 1
    assert slope.covering.gauge == pytest.approx((3358.398 - 50) / 10, abs=0.001)
    rows = Counter(min(v for _, v in piece.outline) for piece in role(slope, "batten"))
    assert len(rows) == slope.covering.battens
    assert all(len(p.outline) == 4 for p in role(slope, "batten"))
    beside = [p for p in role(slope, "batten") if max(u for u, _ in p.outline) == 1225.0]
    assert beside


def test_walls_as_set_out_keep_their_tops_and_rungs_are_notched() -> None:
    frame = frame_with(raked_plates="as set out")
    layout = layout_of(mono(frame))
    value = mono()
    del value["roof"]["frame"]
    assert wall_of(layout, "left").top_line == wall_of(layout_of(value), "left").top_line
    for rung in role(slope_of(layout), "rung"):
        assert [(n.kind, n.seat, n.heel) for n in rung.notches or ()] == [("notch", 70.0, 7.317)]


def test_flush_fly_rafters_stand_on_the_raked_plates() -> None:
    between = {"length": 4500, "width": 2700, "through": "left-right"}
    flush = frame_with(verge={"rule": "flush"})
    slope = slope_of(layout_of(mono(flush, outline=between, walls={})))
    assert not role(slope, "rung")
    assert sorted(p.depth for p in role(slope, "fly rafter")) == [(0.0, 45.0), (4455.0, 4500.0)]
    assert all(p.notches is None for p in role(slope, "fly rafter"))
    # Where the eaves walls run through, their plates lie under the fly rafters too.
    through = slope_of(layout_of(mono(flush)))
    assert all(len(p.notches or ()) == 2 for p in role(through, "fly rafter"))


def test_cladding_ends_under_the_rafters() -> None:
    value = mono(walls={})
    value["defaults"]["cladding"] = {
        "rule": "sheets",
        "thickness": 20,
        "width": 1200,
        "height": 2400,
        "gap": 0,
    }
    layout = layout_of(value)
    tops = {wall.name: max(z for p in wall.pieces if p.face for _, z in p.outline) for wall in layout.walls}
    tangent = math.tan(math.radians(6))
    heel = 70 * tangent
    assert tops["back"] == pytest.approx(1960 - heel - 20 * tangent, abs=0.002)
    assert tops["front"] == pytest.approx(1960 + 2700 * tangent - heel, abs=0.002)


def test_partitions_end_under_the_rafters() -> None:
    outline = {
        "length": 4500, "width": 2700, "through": "front-back",
        "partitions": [{"name": "inner", "runs": "front-back", "at": 2000}],
    }  # fmt: skip
    value = mono(walls={}, outline=outline)
    bare = mono(walls={}, outline=outline)
    del bare["roof"]["frame"]
    drops = [
        before - after
        for (_, before), (_, after) in zip(
            wall_of(layout_of(bare), "inner").top_line,
            wall_of(layout_of(value), "inner").top_line,
            strict=True,
        )
    ]
    assert drops == pytest.approx([7.357, 7.357], abs=0.002)


def test_long_pieces_are_jointed_over_rafters() -> None:
    stock = {"stock": [{"section": [20, 170], "lengths": [{"length": 3600}]}]}
    layout = layout_of(mono(stock=stock))
    slope = slope_of(layout)
    assert len(role(slope, "fascia")) == 4
    centres = {round(mark.at + 22.5, 3) for mark in slope.marks["back plate"]}
    low = [p for p in role(slope, "fascia") if p.view == "eaves"]
    assert {u for p in low for u, _ in p.outline} - {-250.0, 4750.0} <= centres
    assert "roof-piece-joint" in codes(layout)


def test_pieces_that_are_alike_are_jointed_alike_and_looked_at_once(monkeypatch: pytest.MonkeyPatch) -> None:
    """Among hundreds of rafters one takes long, and there may be hundreds of battens."""
    looked = []

    def choosing(layers: Any, apart: float) -> Any:
        looked.append(layers)
        return choose_joints(layers, apart)

    monkeypatch.setattr(jointing, "choose_joints", choosing)
    value = mono(frame_with(battens={"section": [25, 50], "largest_gauge": 100}))
    value["outline"]["length"] = 9000
    slope = slope_of(layout_of(value))
    rows: dict[float, list[float]] = {}
    for batten in role(slope, "batten"):
        rows.setdefault(min(v for _, v in batten.outline), []).append(min(u for u, _ in batten.outline))
    assert len(rows) >= 30
    assert {len(lefts) for lefts in rows.values()} == {2}
    assert len({tuple(sorted(lefts)) for lefts in rows.values()}) == 1
    assert len(looked) <= 5


@pytest.mark.parametrize(
    "lining",
    [
        {"rule": "sheets", "thickness": 12},
        # Its counter-battens rake along the tops of the gables.
        {"rule": "board-and-batten", "counter_battens": {"section": [25, 38]}},
    ],
)
def test_the_lining_leaves_out_the_post_and_the_beam(lining: dict[str, Any]) -> None:
    value = duo(frame_with(DUO, ridge={"rule": "beam", "section": [70, 195]}))
    value["defaults"]["lining"] = lining
    layout = layout_of(value)
    (beam,) = role(layout.roofs[0], "ridge beam")
    assert beam.length == 4500 - 2 * 95
    for name in ("left", "right"):
        wall = wall_of(layout, name)
        inside = unary_union([Polygon(p.outline) for p in wall.pieces if p.face == "inside"])
        start = wall.plan.start[1] if name == "right" else 3000 - wall.plan.start[1]
        middle = 1500 - start
        post = Polygon([(middle - 35, 0), (middle + 35, 0), (middle + 35, 2800), (middle - 35, 2800)])
        assert inside.area > 1e6
        assert inside.intersection(post).area == 0.0


# what is found


def test_findings_of_birdsmouths_overhangs_and_pitch() -> None:
    frame = frame_with(
        section=[45, 60],
        eaves={"low": 700, "high": 300},
        verge={"rule": "ladder", "overhang": 500},
        covering={"kind": "sheet", "width": 1060, "cover": 1000, "least_pitch": 10},
        seat=20,
    )
    layout = layout_of(mono(frame))
    assert {"seat-short", "eaves-long", "verge-long", "pitch-low", "rafter-span"} <= codes(layout)
    assert not {"seat-short", "eaves-long", "verge-long", "pitch-low"} & codes(layout_of(mono()))
    steep = mono(frame_with(section=[45, 50]))
    assert "birdsmouth-deep" in codes(layout_of(steep))
    assert "birdsmouth-deep" not in codes(layout_of(mono()))


@pytest.mark.parametrize(
    ("changes", "pitch", "held"),
    [
        ({"ties": LOW_TIES, "spacing": {"rule": "equal-bays", "largest_bay": 500}}, 35, True),
        ({}, 35, False),
        ({"ties": {"height": 2700, "section": [45, 95]}}, 35, False),
        ({"ties": {"every": 2, "height": 2000, "section": [45, 95]}}, 35, False),
        ({"ridge": {"rule": "beam", "section": [70, 195]}}, 35, True),
        ({"ridge": {"rule": "board", "section": [32, 120]}, "ties": LOW_TIES}, 12, False),
    ],
)  # fmt: skip
def test_a_ridge_board_wants_ties_low_and_close(changes: dict[str, Any], pitch: int, *, held: bool) -> None:
    value = duo(frame_with(DUO, **changes))
    value["roof"]["pitch"] = pitch
    assert ("ridge-unheld" in codes(layout_of(value))) != held


def test_a_shallow_ridge_board_and_far_studs_are_told() -> None:
    value = duo(frame_with(DUO, ridge={"rule": "board", "section": [32, 140]}))
    assert "ridge-shallow" in codes(layout_of(value))
    assert "ridge-shallow" not in codes(layout_of(duo()))
    assert "rafter-off-studs" in codes(layout_of(mono()))
    assert "rafter-off-studs" not in codes(
        layout_of(mono(frame_with(spacing={"rule": "fixed-centres", "centres": 350})))
    )


@pytest.mark.parametrize(("width", "told"), [(3000, False), (3020, True)])
def test_rafters_longer_than_a_table_goes_are_told(width: int, *, told: bool) -> None:
    """IBC 2018 Table 2308.7.2(2): 2x4 of spruce-pine-fir no. 2 at 12 in: 9 ft 5 in, 2870.2 mm clear."""
    frame = frame_with(section=[45, 89])
    layout = layout_of(mono(frame, walls={}, outline={"length": 4500, "width": width}))
    found = [f for f in layout.findings if f.code == "rafter-span-long"]
    assert bool(found) == told
    if told:
        assert (found[0].limit, found[0].value) == (2870.2, pytest.approx(width - 140, abs=0.01))


BOARDS: dict[str, Any] = {"rule": "tongue-and-groove", "thickness": 21, "width": 120, "cover": 103}


def test_boards_and_sheets_of_decks_are_checked_like_those_of_walls() -> None:
    """Boards go on over a barge board and a drip, 100 each, from 10 within the fly rafter; a window leaves a
    narrow sheet."""
    far = frame_with(deck=BOARDS, drip=100, barge={"section": [100, 170]})
    layout = layout_of(mono(far))
    (free,) = [f for f in layout.findings if f.code == "board-end-free" and f.part == "roof back"]
    assert free.value == pytest.approx(100 + 100 + 10, abs=0.01)
    assert free.limit == 150.0
    assert "board-end-free" not in codes(layout_of(mono(frame_with(deck=BOARDS))))
    window = {"name": "light", "at": {"left": 1700}, "up": 1150, "width": 600, "height": 620}
    codes_of = [codes(layout_of(mono(frame_with(openings=each)))) for each in ([], [window])]
    assert ["sheet-sliver" in each for each in codes_of] == [False, True]


def test_a_post_before_a_door_is_told() -> None:
    value = duo(frame_with(DUO, ridge={"rule": "beam", "section": [70, 195]}))
    door = {"name": "door", "kind": "door", "width": 800, "height": 1900, "at": {"centre": 1400}}
    value["walls"] = {"left": {"openings": [door]}}
    found = [f for f in layout_of(value).findings if f.code == "post-before-opening"]
    assert [(f.part, f.wall) for f in found] == [("roof front", None)]
    value["walls"]["left"]["openings"][0]["at"] = {"left": 200}
    assert "post-before-opening" not in codes(layout_of(value))


def test_a_narrow_bay_between_rafters_is_told_with_both() -> None:
    frame = frame_with(spacing={"rule": "fixed-centres", "centres": 480})
    layout = layout_of(mono(frame))
    (found,) = [f for f in layout.findings if f.code == "narrow-bay" and f.part == "roof back"]
    assert found.value is not None
    assert found.value < 50.0
    assert len(found.pieces) == 2


# what is refused


MONO_FAULTS: list[tuple[dict[str, Any], str, str]] = [
    ({"eaves": {"low": -5}}, "/eaves/low", "accepted is 0 to"),
    ({"verge": {"rule": "ladder", "overhang": 30}}, "/verge", "flush"),
    ({"ridge": {"rule": "board", "section": [32, 175]}}, "/ridge", "duo-pitch"),
    ({"ties": {"height": 2200, "section": [45, 95]}}, "/ties", "duo-pitch"),
    ({"fascia": {"section": [20, 650]}}, "/fascia/section", "600"),
    ({"barge": {"section": [20, 650]}}, "/barge/section", "600"),
    ({"openings": [WINDOW | {"up": 2700}]}, "/openings/0", "accepted is 0 to"),
    (
        {"openings": [WINDOW | {"at": {"left": 90}}]},
        "/openings/0/at",
        "115 to 4385 mm, between the outermost",
    ),
    (
        {"openings": [WINDOW | {"at": {"right": 2}}]},
        "/openings/0/at",
        "115 to 4385 mm, between the outermost",
    ),
    ({"openings": [WINDOW | {"width": 6000}]}, "/openings/0/at", "115 to 4385 mm, between the outermost"),
    ({"openings": [WINDOW | {"at": {"left": 130}}]}, "/openings/0/at", "meets the outermost rafter"),
    ({"openings": [WINDOW, WINDOW]}, "/openings/1", "its own name for each"),
    ({"openings": [WINDOW | {"up": 30, "height": 600}]}, "/openings/0", "plate"),
    ({"openings": [WINDOW | {"slope": "left"}]}, "/openings/0", "accepted are back"),
    ({"openings": [WINDOW | {"framing": {"rule": "trimmed"}}]}, "/openings/0/framing", "accepted are"),
    ({"deck": {"rule": "lapped"}}, "/deck", "accepted are"),
    ({"raked_plates": "as set out", "verge": {"rule": "flush"}}, "/raked_plates", "dropped"),
    ({"covering": {"kind": "sheet", "width": 900, "cover": 1000}}, "/covering", "accepted is up to"),
]
UNREADABLE: list[tuple[dict[str, Any], str, str]] = [
    ({"spacing": {"rule": "nothing"}}, "/spacing", "'over-studs'"),
    ({"spacing": {"rule": "over-studs", "centres": 400}}, "/spacing/centres", "accepted are rule"),
    ({"verge": {"rule": "nothing"}}, "/verge", "accepted are 'ladder', 'flush'"),
]
DUO_FAULTS: list[tuple[dict[str, Any], str, str]] = [
    ({"eaves": {"low": 250, "high": 250}}, "/eaves", "low alone"),
    ({"ridge": None}, "/ridge", "missing"),
    ({"ridge": {"rule": "board", "section": [32, 400]}}, "/ridge", "accepted is a board of up to"),
    ({"ties": {"height": 1900, "section": [45, 95]}}, "/ties", "from the plates to under the ridge"),
    ({"ties": {"height": 2950, "section": [45, 95]}}, "/ties", "from the plates to under the ridge"),
]


def refused(value: dict[str, Any]) -> tuple[str, str]:
    with pytest.raises(UnbuildableError) as caught:
        layout_of(value)
    (fault,) = caught.value.faults
    return fault.pointer, fault.message


@pytest.mark.parametrize(
    ("value", "pointer", "said"),
    [
        *((mono(frame_with(FRAME, **changes)), pointer, said) for changes, pointer, said in MONO_FAULTS),
        *((duo(frame_with(DUO, **changes)), pointer, said) for changes, pointer, said in DUO_FAULTS),
    ],
)
def test_what_cannot_be_framed_has_its_place_and_what_would_do(
    value: dict[str, Any], pointer: str, said: str
) -> None:
    place, message = refused(value)
    assert place.startswith(f"/roof/frame{pointer}")
    assert said in message
    assert "accepted" in message


@pytest.mark.parametrize(("changes", "pointer", "said"), UNREADABLE)
def test_what_no_rule_has_is_told_with_what_there_is(
    changes: dict[str, Any], pointer: str, said: str
) -> None:
    with pytest.raises(BuildingError) as caught:
        layout_of(mono(FRAME | changes))
    (fault,) = caught.value.faults
    assert fault.pointer == f"/roof/frame{pointer}"
    assert said in fault.message


def test_outlines_and_walls_that_no_frame_goes_over() -> None:
    corners = {"corners": [[0, 0], [4500, 0], [4500, 2700], [2000, 2700], [2000, 2000], [0, 2000]]}
    assert refused(mono(outline=corners, walls={}))[0] == "/roof/frame"
    narrow = mono(outline={"length": 4500, "width": 230, "through": "front-back"}, walls={})
    assert refused(narrow)[0].startswith("/")
    short = mono(outline={"length": 225, "width": 2700, "through": "front-back"}, walls={})
    assert refused(short)[0] == "/roof/frame/section"
    value = mono(walls={})
    value["defaults"]["cladding"] = {"rule": "lapped", "over_plate": 50}
    assert refused(value)[0] == "/defaults/cladding/over_plate"
    alone = {"walls": [{"name": "a", "length": 3000, "carries_roof": True}]}
    with pytest.raises(BuildingError, match="/roof"):
        layout_of(mono(outline=alone, walls={}))
    level = mono() | {"roof": {"form": "level", "height": 2200, "frame": FRAME}}
    with pytest.raises(BuildingError, match="/roof/frame"):
        layout_of(level)


def test_a_ridge_past_a_plate_is_refused() -> None:
    value = duo()
    value["roof"]["ridge_offset"] = 1420
    assert refused(value)[0] == "/roof/frame/ridge"


def test_a_wall_called_as_a_slope_is_refused() -> None:
    value = mono(walls={})
    value["outline"]["partitions"] = [{"name": "roof back", "runs": "left-right", "at": 1300}]
    place, message = refused(value)
    assert place == "/roof/frame"
    assert "another name" in message


def test_a_tie_in_a_partition_is_refused_with_its_name() -> None:
    value = duo(frame_with(DUO, ties={"height": 2800, "section": [45, 95]}))
    value["outline"]["partitions"] = [{"name": "inner", "runs": "left-right", "at": 1600}]
    pointer, message = refused(value)
    assert pointer == "/roof/frame"
    assert "partition inner" in message


# what holds of every roof


verges = st.one_of(
    st.just({"rule": "flush"}),
    st.builds(
        lambda out, rungs: {"rule": "ladder", "overhang": out, "rungs": rungs},
        st.sampled_from([45, 63, 150, 250, 400]),
        st.sampled_from([200, 400, 600]),
    ),
)
edges = st.sampled_from([None, {"section": [20, 170]}, {"section": [22, 95]}])


closings = st.one_of(
    st.sampled_from([None, {"rule": "open"}]),
    st.builds(
        lambda gap, section: {"rule": "blocking", "gap": gap} | ({"section": section} if section else {}),
        st.sampled_from([0, 10, 30, 60]),
        st.sampled_from([None, [20, 220], [38, 89]]),
    ),
    st.builds(
        lambda gap, section: {"rule": "soffit", "gap": gap, "section": section},
        st.sampled_from([0, 10, 30]),
        st.sampled_from([[9, 600], [20, 95]]),
    ),
)


@st.composite
def frames(draw: st.DrawFn, *, is_duo: bool, plates: float) -> dict[str, Any]:
    window = {
        "name": "light", "at": {draw(st.sampled_from(["left", "right"])): draw(st.integers(150, 1500))},
        "up": draw(st.integers(100, 1200)), "width": draw(st.integers(300, 900)),
        "height": draw(st.integers(300, 900)),
        "framing": draw(st.sampled_from([{"rule": "single-studs"}, {"rule": "trimmed-joists"}])),
    }  # fmt: skip
    ridges: list[dict[str, Any]] = [
        {"rule": "board", "section": [32, 200]},
        {"rule": "board", "section": [20, 120]},
        {"rule": "beam", "section": [70, 195]},
        {"rule": "beam", "section": [140, 195]},
    ]
    verge = draw(verges)
    tops = ["dropped"] if verge["rule"] == "flush" else ["dropped", "dropped", "as set out"]
    spacing = draw(st.one_of(stud_rules, st.just({"rule": "over-studs"})))
    high = st.sampled_from([None, 0, 300])
    return frame_with(
        FRAME,
        section=draw(st.sampled_from([[45, 145], [38, 89], [63, 170]])),
        spacing=spacing,
        datum=draw(st.sampled_from(["walls", "deck"])),
        seat=draw(st.sampled_from([None, 40])),
        eaves={"low": draw(st.sampled_from([0, 10, 150, 400]))} | ({} if is_duo else {"high": draw(high)}),
        verge=verge,
        ridge=draw(st.sampled_from(ridges)) if is_duo else None,
        ties=draw(st.sampled_from([None, {"height": plates + 60, "section": [45, 95]}])) if is_duo else None,
        raked_plates=draw(st.sampled_from(tops)),
        fascia=draw(edges),
        barge=draw(edges),
        deck=draw(st.sampled_from([None, SHEETS])),
        battens=draw(st.sampled_from([None, {"section": [25, 50], "largest_gauge": 350}])),
        noggins=draw(st.sampled_from([None, {"rule": "straight", "behind_sheets": 1220}])),
        closing=draw(closings),
        openings=draw(st.sampled_from([[], [window]])),
        covering=draw(st.sampled_from([None, {"kind": "roll", "width": 1000, "lap": 75}])),
    )


@st.composite
def buildings(draw: st.DrawFn) -> dict[str, Any]:
    is_duo, low = draw(st.booleans()), draw(st.integers(1800, 2400))
    pitch, plates = draw(st.integers(8, 50) if is_duo else st.integers(2, 30)), float(low)
    roof: dict[str, Any] = {"form": "duo-pitch", "low_height": low, "pitch": pitch}
    if is_duo:
        offset = draw(st.sampled_from([0, 0, 250, -400]))
        roof |= {"ridge": draw(st.sampled_from(["left-right", "front-back"])), "ridge_offset": offset}
        plates += 2 * abs(offset) * math.tan(math.radians(pitch))
    else:
        side = draw(st.sampled_from(["front", "right", "back", "left"]))
        roof |= {"form": "mono-pitch", "high_side": side}
    value = mono(
        draw(frames(is_duo=is_duo, plates=plates)),
        walls={},
        outline={
            "length": draw(st.integers(1800, 5000)),
            "width": draw(st.integers(1800, 4000)),
            "through": draw(st.sampled_from(["front-back", "left-right", "pinwheel"])),
        },
    )
    value["frame"] = {"section": draw(st.sampled_from([[45, 70], [38, 89], [45, 120]])), "material": "C16"}
    value["defaults"] = {"studs": {"rule": "equal-bays", "largest_bay": 600}}
    value["defaults"] |= {"cladding": draw(coverings), "lining": draw(coverings)}
    value["roof"] = roof | {"frame": value["roof"]["frame"]}
    return value


def built(value: dict[str, Any]) -> Layout:
    try:
        return layout_of(value)
    except UnbuildableError:
        reject()


def upper_faces(part: PartOut, piece: Piece) -> list[list[tuple[float, float, float]]]:
    """The faces of a piece that look up, by their corners in the world."""
    view = solid_of(piece, part).view
    near, far = piece.depth
    return [
        [view.point(u0, v0, near), view.point(u0, v0, far), view.point(u1, v1, far), view.point(u1, v1, near)]
        for (u0, v0), (u1, v1) in itertools.pairwise((*piece.outline, piece.outline[0]))
        if u1 < u0 - 0.01
    ]


def within(view: View, place: tuple[float, float, float]) -> tuple[float, float, float]:
    """A place of the world in a view: u, v and depth."""
    return tuple(
        sum((p - o) * a for p, o, a in zip(place, view.origin, axis, strict=True))
        for axis in (view.right, view.up, view.inwards)
    )  # type: ignore[return-value]


def seats_of(rafter: Piece, slope: SlopeOut) -> list[tuple[float, Polygon]]:
    """The level faces that look down, of a rafter: height, and X and Y."""
    view = solid_of(rafter, slope).view
    near, far = rafter.depth
    return [
        (v0, Polygon([view.point(u, v0, w)[:2] for u, w in ((u0, near), (u1, near), (u1, far), (u0, far))]))
        for (u0, v0), (u1, v1) in itertools.pairwise((*rafter.outline, rafter.outline[0]))
        if u1 > u0 + 0.01 and abs(v1 - v0) < 0.002
    ]


@settings(max_examples=60, deadline=None, suppress_health_check=list(HealthCheck))
@given(buildings())
def test_every_roof_is_sound_in_space(value: dict[str, Any]) -> None:
    layout = built(value)
    placed = [(part, piece) for part in layout.parts for piece in part.pieces]
    solids = [solid_of(piece, part) for part, piece in placed]
    for one, other in overlapping(solids):
        (part, piece), (part2, piece2) = placed[one], placed[other]
        # Boards of one face lap by their tongues.
        assert (part.name, piece.face) == (part2.name, piece2.face), (piece.role, piece2.role)
        assert piece.face is not None


@settings(max_examples=60, deadline=None, suppress_health_check=list(HealthCheck))
@given(buildings())
def test_every_whole_rafter_sits_on_its_plates_and_has_its_closed_form(value: dict[str, Any]) -> None:
    layout = built(value)
    breadth, depth = value["roof"]["frame"]["section"]
    tops = [
        face
        for part in layout.parts
        for piece in part.pieces
        if piece.role in ("head plate", "ridge beam")
        for face in upper_faces(part, piece)
    ]
    for slope in layout.roofs:
        card = slope.card
        for rafter in role(slope, "rafter"):
            if any(end.cut == "square" for end in rafter.ends):
                continue
            seats = seats_of(rafter, slope)
            assert len(seats) == len(card.marks) - 2
            for height, seat in seats:
                under = [Polygon([c[:2] for c in face]) for face in tops if abs(face[0][2] - height) < 0.003]
                contact = unary_union(under).intersection(seat).area
                assert contact == pytest.approx(seat.area, rel=1e-3)
            wedges = sum(n.seat * n.heel / 2 for n in rafter.notches or ())
            if len(rafter.notches or ()) == len(seats):
                edge = card.marks[-1] * depth
                assert solid_of(rafter, slope).volume == pytest.approx((edge - wedges) * breadth, rel=1e-4)


@settings(max_examples=60, deadline=None, suppress_health_check=list(HealthCheck))
@given(buildings(), st.sampled_from([150, 250, 400]))
def test_every_rung_over_a_raked_plate_lies_flat_on_it(value: dict[str, Any], rungs: int) -> None:
    frame = value["roof"]["frame"] | {"raked_plates": "dropped", "openings": []}
    frame["verge"] = {"rule": "ladder", "overhang": 250, "rungs": rungs}
    value["roof"]["frame"] = frame
    layout = built(value)
    breadth, depth = frame["section"]
    deep = value["frame"]["section"][1]
    for slope in layout.roofs:
        view = plane(slope, "slope")
        plates = []
        for wall in layout.walls:
            for piece in (p for p in wall.pieces if p.role == "raked plate"):
                for face in upper_faces(wall, piece):
                    corners = [within(view, corner) for corner in face]
                    if all(abs(w - depth) < 0.003 for _, _, w in corners):
                        plates.append(Polygon([(u, v) for u, v, _ in corners]))
        for rung in role(slope, "rung"):
            bottom, top = min(v for _, v in rung.outline), max(v for _, v in rung.outline)
            left, right = min(u for u, _ in rung.outline), max(u for u, _ in rung.outline)
            over = [
                p
                for p in plates
                if p.bounds[1] < bottom - 0.01
                and top + 0.01 < p.bounds[3]
                and p.bounds[0] < right - 0.01
                and left + 0.01 < p.bounds[2]
            ]
            contact = sum(p.intersection(Polygon(rung.outline)).area for p in over)
            if over:
                assert contact == pytest.approx(breadth * deep, rel=1e-3)


@settings(max_examples=40, deadline=None, suppress_health_check=list(HealthCheck))
@given(buildings())
def test_every_end_of_a_sheet_lies_on_a_rafter_or_a_barge_or_is_told(value: dict[str, Any]) -> None:
    value["roof"]["frame"] |= {"deck": SHEETS, "openings": []}
    layout = built(value)
    for slope in layout.roofs:
        told = [f.value for f in layout.findings if f.part == slope.name and f.code == "sheet-edge-loose"]
        rafters = [p.depth for p in slope.pieces if p.role in ("rafter", "fly rafter")]
        sheets = role(slope, "sheet")
        reach = (
            min(u for p in sheets for u, _ in p.outline),
            max(u for p in sheets for u, _ in p.outline),
        )
        for end in (edge for p in sheets for edge in (p.outline[0][0], p.outline[1][0])):
            assert (
                min(abs(end - edge) for edge in reach) < 0.01
                or any(a - 0.01 <= end <= b + 0.01 for a, b in rafters)
                or any(abs(end - at) <= 1.51 for at in told if at is not None)
            )


@settings(max_examples=40, deadline=None, suppress_health_check=list(HealthCheck))
@given(buildings())
def test_every_fascia_lies_on_the_plumb_cuts(value: dict[str, Any]) -> None:
    value["roof"]["frame"] |= {"fascia": {"section": [20, 170]}}
    layout = built(value)
    for slope in layout.roofs:
        cuts = {
            (round(x, 2), round(y, 2))
            for p in role(slope, "rafter")
            for w in p.depth
            for u, v in p.outline
            for x, y, _ in (solid_of(p, slope).view.point(u, v, w),)
        }
        for fascia in role(slope, "fascia"):
            view = plane(slope, fascia.view or "")
            on = [c for c in cuts if abs(within(view, (*c, 0.0))[2]) < 0.02]
            # Both faces of every rafter end in its plane, but for those that a window cuts.
            assert len(on) >= 4
