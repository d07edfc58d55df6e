"""The faces of bodies: closed, edge to edge, and round just what the body takes up."""

from __future__ import annotations

import itertools
from collections import Counter

import pytest
from hypothesis import given
from hypothesis import strategies as st

from soleplate.engine.shapes import BodyPart, Outline, area, bodies, rectangle, shared
from soleplate.viewer.bodies.skin import skin

STUD = rectangle(0.0, 45.0, 0.0, 2000.0)
NOTCHED = ((0.0, 0.0), (45.0, 0.0), (45.0, 500.0), (30.0, 500.0), (30.0, 700.0), (45.0, 700.0), (45.0, 900.0),
           (0.0, 900.0))  # fmt: skip


def band(at: float, rise: float) -> Outline:
    """What a board 100 mm high lets out of a stud that it crosses."""
    return ((-20.0, at), (65.0, at + rise), (65.0, at + rise + 100.0), (-20.0, at + 100.0))


def checked(outline: Outline, depth: float, cut_out: list[BodyPart]) -> None:
    faces = list(skin(outline, depth, cut_out))
    # Each edge lies between two faces that run along it in opposite ways.
    edges = Counter(edge for face, _ in faces for edge in zip(face, (*face[1:], face[0]), strict=True))
    assert all(edges[end, start] == count for (start, end), count in edges.items())
    # By Gauss: what is inside is a third of the sum of faces times their distances from the origin.
    volume = 0.0
    for face, (nx, ny, nz) in faces:
        (ax, ay, az), *rest = face
        for (bx, by, bz), (cx, cy, cz) in itertools.pairwise(rest):
            ux, uy, uz, vx, vy, vz = bx - ax, by - ay, bz - az, cx - ax, cy - ay, cz - az
            across = (uy * vz - uz * vy, uz * vx - ux * vz, ux * vy - uy * vx)
            assert across[0] * nx + across[1] * ny + across[2] * nz >= -1e-9, "it looks outwards"
            volume += (ax * across[0] + ay * across[1] + az * across[2]) / 6
    parts = bodies(outline, (0.0, depth), cut_out)
    assert volume == pytest.approx(sum(area(o) * (far - near) for o, (near, far) in parts), rel=1e-6)


@pytest.mark.parametrize("outline", [STUD, NOTCHED])
def test_a_prism_has_its_ends_and_its_sides(outline: Outline) -> None:
    checked(outline, 70.0, [])
    assert len(list(skin(STUD, 70.0))) == 6


def test_a_housing_across_a_stud_has_a_bottom_and_two_cheeks() -> None:
    cut = [(rectangle(-5.0, 50.0, 400.0, 500.0), (0.0, 20.0))]
    checked(STUD, 70.0, cut)
    bottoms = [face for face, normal in skin(STUD, 70.0, cut) if normal[2] == 1.0 and face[0][2] == -20.0]
    assert [area(tuple((x, z) for x, z, _ in face)) for face in bottoms] == [45.0 * 100.0]


def test_housings_of_both_faces_that_cross_are_cut_out_of_each() -> None:
    checked(STUD, 70.0, [(band(300.0, 60.0), (0.0, 25.0)), (band(390.0, -60.0), (45.0, 70.0))])
    checked(NOTCHED, 70.0, [(band(450.0, 60.0), (0.0, 25.0)), (band(480.0, -60.0), (0.0, 30.0))])


@given(
    st.lists(
        st.tuples(
            st.floats(-50.0, 950.0), st.floats(-120.0, 120.0), st.floats(5.0, 30.0), st.booleans(),
        ),
        max_size=4,
    ),
    st.sampled_from([STUD, NOTCHED]),
)  # fmt: skip
def test_any_housings_leave_a_closed_body(
    housings: list[tuple[float, float, float, bool]], outline: Outline
) -> None:
    cut = [
        (band(at, rise), (0.0, deep) if is_outside else (70.0 - deep, 70.0))
        for at, rise, deep, is_outside in housings
    ]
    checked(outline, 70.0, [each for each in cut if shared(outline, each[0])])
