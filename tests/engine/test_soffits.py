"""Soffits under the tails of rafters and under ladders: their places, lists, fixings and the gap for air."""

from __future__ import annotations

import math
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from soleplate.engine.layout import Layout, PartOut, Piece, SlopeOut
from soleplate.engine.shapes import TOUCH, contains
from tests.buildings import layout_of
from tests.engine.test_roofs import buildings, built, codes, plane, refused, role, within
from tests.floors import solid_of
from tests.roofs import DUO, SOFFIT, duo, frame_with, mono, slope_of

Place = tuple[float, float, float]


def along(slope: SlopeOut) -> list[Piece]:
    """The strips along the eaves."""
    return [p for p in role(slope, "soffit") if p.length == pytest.approx(box(p)[1] - box(p)[0], abs=0.002)]


def box(piece: Piece) -> tuple[float, float, float, float]:
    us, vs = zip(*piece.outline, strict=True)
    return min(us), max(us), min(vs), max(vs)


def bare(**changes: Any) -> dict[str, Any]:
    """The honey house, which here has no cladding, with soffits of one board each."""
    closing = SOFFIT | {"section": [12, 400]} | changes
    return mono(frame_with(closing=closing))


def test_strips_reach_from_the_fascias_to_the_gap_beside_the_walls() -> None:
    """By hand, 6 degrees, 300 out, 25 open, 12 under 145: square ends lose 12 tan 6 at the wall."""
    slope = slope_of(layout_of(bare()))
    low, high = sorted(along(slope), key=lambda piece: box(piece)[2])
    sin, cos = math.sin(math.radians(6)), math.cos(math.radians(6))
    bottom, top = (-300 - 145 * sin) / cos, (-25 - 157 * sin) / cos
    assert box(low) == pytest.approx((-250, 4750, bottom, top), abs=0.002)
    bottom, top = (2700 + 25 - 145 * sin) / cos, (3000 - 157 * sin) / cos
    assert box(high) == pytest.approx((-250, 4750, bottom, top), abs=0.002)
    assert {p.depth for p in role(slope, "soffit")} == {(145.0, 157.0)}
    # From outer face of fly rafter to the wall's; between the strips along the eaves.
    sides = [box(p) for p in role(slope, "soffit") if p not in (low, high)]
    assert sorted(side[:2] for side in sides) == [(-250.0, 0.0), (4500.0, 4750.0)]
    assert {side[2:] for side in sides} == {(box(low)[3], box(high)[2])}


def test_strips_keep_the_gap_from_what_covers_the_wall() -> None:
    """Boards of 25 mm with their own gap: by so much less far in, level."""
    value = bare()
    free = along(slope_of(layout_of(value)))
    value["defaults"]["cladding"] = {"rule": "rebated", "width": 145, "thickness": 25, "cover": 125, "gap": 3}
    covered = along(slope_of(layout_of(value)))
    for one, other in zip(free, covered, strict=True):
        narrower = (box(one)[3] - box(one)[2]) - (box(other)[3] - box(other)[2])
        assert narrower == pytest.approx(25 / math.cos(math.radians(6)), abs=0.002)


def test_a_strip_wider_than_its_boards_is_made_up_of_ones_alike() -> None:
    slope = slope_of(layout_of(mono(frame_with(closing=SOFFIT))))
    (rip,) = {p.rip for p in along(slope)}
    assert len(along(slope)) == 4
    # 300 less the gap of 25 up to the wall, in two.
    sin, cos = math.sin(math.radians(6)), math.cos(math.radians(6))
    assert rip == pytest.approx((300 - 25 - 12 * sin) / cos / 2, abs=0.002)


def test_strips_join_lists_weights_and_what_is_bought() -> None:
    layout = layout_of(mono(frame_with(closing=SOFFIT)))
    bare_of_it = layout_of(mono(frame_with(closing={"rule": "open"})))
    made = role(slope_of(layout), "soffit")
    more = sum(p.weight_kg for p in made)
    assert layout.weight_kg - bare_of_it.weight_kg == pytest.approx(more, abs=0.002)
    assert {m for row in layout.cutting_list if "soffit" in row.role for m in row.marks} == {
        p.mark for p in made
    }
    assert any(row.section == (12.0, 150.0) and row.material == "larch" for row in layout.buying_list)


def test_mesh_is_bought_for_the_gap_beside_both_walls() -> None:
    layout = layout_of(bare(gap=20))
    (mesh,) = [row for row in layout.goods if row.kind == "insect mesh"]
    assert (mesh.quantity, mesh.size) == (pytest.approx(9.0), (70.0,))
    assert "insect mesh" not in {row.kind for row in layout_of(bare(gap=3)).goods}


def test_strips_are_jointed_over_rafters_and_rungs() -> None:
    stock = [{"section": [12, 400], "material": "larch", "lengths": [{"length": 2400}]}]
    layout = layout_of(bare() | {"stock": {"stock": stock}})
    slope = slope_of(layout)
    rafters = [sum(p.depth) / 2 for p in role(slope, "rafter")]
    rungs = [(box(p)[2] + box(p)[3]) / 2 for p in role(slope, "rung")]
    assert all(p.length <= 2400 for p in role(slope, "soffit"))
    ends = {edge for p in along(slope) for edge in box(p)[:2]} - {-250.0, 4750.0}
    assert ends
    assert all(min(abs(end - at) for at in rafters) < 0.002 for end in ends)
    upright = [box(p) for p in role(slope, "soffit") if p not in along(slope)]
    first, last = min(side[2] for side in upright), max(side[3] for side in upright)
    joints = {edge for side in upright for edge in side[2:]} - {first, last}
    assert joints
    assert all(min(abs(at - rung) for rung in rungs) < 0.002 for at in joints)
    told = [f.message for f in layout.findings if f.code == "roof-piece-joint" and "soffit" in f.message]
    assert any("over rafters" in each for each in told)
    assert any("over rungs" in each for each in told)


def test_strips_are_nailed_up_to_what_they_lie_under() -> None:
    """Nails of at least three times what they hold (NAVEDTRA 14119), two at each rafter."""
    layout = layout_of(mono(frame_with(closing=SOFFIT)) | {"fixings": []})
    slope = slope_of(layout)
    of = {p.mark: p.role for part in layout.parts for p in part.pieces}
    held = [f for f in layout.fixings if "soffit" in (of[f.through], of[f.into])]
    assert {of[f.into] for f in held} == {"rafter", "rung", "fly rafter"}
    assert all(f.length == 40.0 and not f.faults for f in held)
    at_rafters = [f for f in held if of[f.into] == "rafter"]
    assert len(at_rafters) == len(along(slope)) * len(role(slope, "rafter"))
    assert {len(f.places) for f in at_rafters} == {2}
    unfixed = [f for f in layout.findings if f.code == "joints-unfixed"]
    assert not {m for f in unfixed for m in f.pieces} & {p.mark for p in role(slope, "soffit")}


@pytest.mark.parametrize(
    ("gap", "insulation", "level"), [(30, 90, "note"), (20, 90, "warn"), (20, None, "note")]
)
def test_air_that_comes_in_beside_a_soffit(gap: int, insulation: int | None, level: str) -> None:
    """BS 5250, as restated: 25 mm all along up to 15 degrees; eight rafters of 45 cross over the gap."""
    value = mono(frame_with(closing=SOFFIT | {"gap": gap}, insulation=insulation))
    layout = layout_of(value)
    (found,) = [f for f in layout.findings if f.code == "eaves-air"]
    assert found.level == level
    assert found.value == pytest.approx((4500 - 8 * 45) / 4500 * gap * 1e3, abs=0.1)
    assert "beside the soffit" in found.message
    assert "eaves-open" not in codes(layout)


def test_a_flush_verge_has_strips_along_the_eaves_alone() -> None:
    layout = layout_of(duo(frame_with(DUO, verge=None, closing=SOFFIT)))
    for slope in layout.roofs:
        assert {box(p)[:2] for p in role(slope, "soffit")} == {(0.0, slope.length)}


@pytest.mark.parametrize("changes", [{"eaves": {"low": 40}}, {"eaves": {"low": 300, "high": 10}}])
def test_eaves_without_room_for_a_strip_are_refused(changes: dict[str, Any]) -> None:
    pointer, message = refused(mono(frame_with(closing=SOFFIT, **changes)))
    assert pointer == "/roof/frame/closing"
    assert "accepted is an overhang that leaves 20 mm, or blocking" in message


# in any building


def _meets(piece: Piece, part: PartOut, one: Place, other: Place) -> bool:
    """Whether a plumb ray from one place to another meets a soffit: it is thinner than its steps apart."""
    view = solid_of(piece, part).view
    (_, _, near), (_, _, far) = within(view, one), within(view, other)
    deep = sum(piece.depth) / 2
    if not min(near, far) <= deep <= max(near, far):
        return False
    share = (deep - near) / (far - near)
    u, v, _ = within(view, (one[0], one[1], one[2] + share * (other[2] - one[2])))
    return contains(piece.outline, (u, v))


@settings(max_examples=40, deadline=None, suppress_health_check=list(HealthCheck))
@given(buildings(), st.sampled_from([0, 12, 30]), st.sampled_from([[12, 600], [9, 95]]), st.data())
def test_nothing_wider_than_the_gap_leads_up_at_any_eaves_or_verge(
    value: dict[str, Any], gap: int, section: list[int], data: st.DataObject
) -> None:
    """Plumb rays before the walls, up to the rafters' undersides: each meets a strip, or is in the gap."""
    frame = value["roof"]["frame"]
    frame |= {"closing": {"rule": "soffit", "gap": gap, "section": section}, "openings": []}
    frame["eaves"] = {"low": data.draw(st.sampled_from([150, 400]))}
    layout: Layout = built(value)
    out = frame["verge"].get("overhang", 0.0)
    low, thick, deep = frame["eaves"]["low"], section[0], frame["section"][1]
    pitch = math.radians(layout.roofs[0].card.pitch)
    loose = thick * math.sin(pitch) + 0.5
    stands_off = max((25.0, *_covers(layout)))
    for slope in layout.roofs:
        soffits = role(slope, "soffit")
        eaves = plane(slope, "eaves")
        for _ in range(12):
            x = data.draw(st.floats(-out + 1.0, slope.length + out - 1.0))
            far = data.draw(st.floats(loose, low - gap - stands_off - loose))
            foot = eaves.point(x, 0.0, far)
            up = (foot[0], foot[1], foot[2] + 2.0 * value["roof"]["low_height"] + deep + 1e4)
            assert any(_meets(p, slope, foot, up) for p in soffits), (slope.name, x, far)
        if out > stands_off + 1.0:
            run = slope.card.marks[-1] * math.cos(pitch)
            for _ in range(12):
                # On the very edge of a strip, where the boards of the wall begin, rounding decides.
                x = data.draw(st.floats(-out + 1.0, -stands_off - TOUCH))
                far = data.draw(st.floats(loose, run - loose))
                for place in (x, slope.length - x):
                    foot = eaves.point(place, 0.0, far)
                    up = (foot[0], foot[1], foot[2] + 1e5)
                    assert any(_meets(p, slope, foot, up) for p in soffits), (slope.name, place, far, run)


def _covers(layout: Layout) -> list[float]:
    """How far what lies on walls stands off them, mm."""
    return [-min(p.depth) for wall in layout.walls for p in wall.pieces]
