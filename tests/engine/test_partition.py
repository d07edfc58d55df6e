"""The order in which bodies are painted, held against rays that are cast at each solid by itself."""

from __future__ import annotations

from hypothesis import given, settings
from hypothesis import strategies as st

from soleplate.engine.shapes import Solid, bodies_of, overlap_in_space, partition, rectangle
from soleplate.engine.shapes.partition import Chamber, Partition
from tests.engine.test_solids import COMB, FACE, L_SHAPE, boxes, places, views
from tests.seeing import Camera, wrong_faces


@st.composite
def notched(draw: st.DrawFn) -> Solid:
    left, bottom, near = draw(places), draw(places), draw(places)
    outline = tuple((left + u, bottom + v) for u, v in draw(st.sampled_from([L_SHAPE, COMB])))
    return Solid(outline, (near, near + draw(st.integers(20, 400))), draw(views))


@st.composite
def apart(draw: st.DrawFn) -> list[Solid]:
    """Solids of which none overlaps another."""
    kept: list[Solid] = []
    for solid in draw(st.lists(st.one_of(boxes(), notched()), min_size=2, max_size=14)):
        if not any(overlap_in_space(solid, other) for other in kept):
            kept.append(solid)
    return kept


def space_of(solids: list[Solid]) -> Partition:
    return partition([body for owner, solid in enumerate(solids) for body in bodies_of(solid, owner)])


def chambers(space: Partition) -> list[Chamber]:
    return [space] if isinstance(space, Chamber) else chambers(space.behind) + chambers(space.before)


cameras = st.builds(
    Camera.at,
    st.one_of(st.sampled_from([0.0, 90.0, 180.0, 270.0]), st.floats(0.0, 360.0)),
    st.one_of(st.sampled_from([0.0, 90.0, -90.0]), st.floats(-90.0, 90.0)),
)


@settings(deadline=None, max_examples=60)
@given(apart(), cameras, st.integers(0, 1000))
def test_what_is_painted_last_is_what_a_ray_meets_first(
    solids: list[Solid], camera: Camera, seed: int
) -> None:
    told, wrong = wrong_faces(list(enumerate(solids)), space_of(solids), camera, 20, seed)
    assert told == 20
    assert wrong == []


@settings(deadline=None, max_examples=60)
@given(apart())
def test_every_room_holds_one_solid_and_none_is_lost(solids: list[Solid]) -> None:
    found = [{body.owner for body in chamber.bodies} for chamber in chambers(space_of(solids))]
    assert all(len(owners) == 1 for owners in found)
    assert {owner for owners in found for owner in owners} == set(range(len(solids)))


def test_beams_each_before_the_next_are_told_apart() -> None:
    """Four in a ring, each nearer than the next: no order of whole beams paints them."""

    def beam(left: float, right: float, low: float, high: float, front: tuple[float, float]) -> Solid:
        return Solid(rectangle(left, right, low, high), front, FACE)

    solids = [
        beam(0.0, 300.0, 0.0, 50.0, (0.0, 200.0)),
        beam(250.0, 300.0, 50.0, 300.0, (100.0, 300.0)),
        beam(0.0, 300.0, 300.0, 350.0, (0.0, 200.0)),
        beam(0.0, 50.0, 50.0, 300.0, (-100.0, 100.0)),
    ]
    space = space_of(solids)
    for camera in (Camera.at(30.0, 30.0), Camera.at(200.0, -40.0), Camera.at(95.0, 10.0)):
        assert wrong_faces(list(enumerate(solids)), space, camera, 200, 7) == (200, [])


def test_the_judge_finds_a_wrong_order() -> None:
    near = Solid(rectangle(0.0, 100.0, 0.0, 100.0), (0.0, 10.0), FACE)
    far = Solid(near.outline, (50.0, 60.0), near.view)
    space = space_of([near, far])
    assert wrong_faces([(0, near), (1, far)], space, Camera.at(0.0, 0.0), 10, 1)[1] == []
    # Told the other way round, what lies behind is painted over what lies before it.
    assert len(wrong_faces([(1, near), (0, far)], space, Camera.at(0.0, 0.0), 10, 1)[1]) == 10
