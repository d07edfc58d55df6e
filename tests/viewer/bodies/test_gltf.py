"""The building as glTF, read back by the letter of the format (Khronos glTF 2.0, ISO/IEC 12113)."""

from __future__ import annotations

import json
import struct
from collections import Counter
from dataclasses import dataclass
from typing import Any

import pytest

from soleplate.engine.layout import Layout
from soleplate.engine.shapes import area
from soleplate.viewer.bodies import glb
from tests.buildings import building, honey_house, layout_of
from tests.floors import solid_of
from tests.viewer.bodies.models import BUILDINGS, empty, layout_named

HOSTILE = '"]}, {"uri": "file:///etc"} \u2028 </script>'

Place = tuple[float, float, float]


@dataclass
class Model:
    """A file taken apart; places of triangles are in the world, m, Y up."""

    document: dict[str, Any]
    binary: bytes

    @classmethod
    def read(cls, data: bytes) -> Model:
        magic, version, length = struct.unpack("<4sII", data[:12])
        assert (magic, version, length) == (b"glTF", 2, len(data))
        size, kind = struct.unpack("<I4s", data[12:20])
        assert kind == b"JSON"
        assert size % 4 == 0
        document = json.loads(data[20 : 20 + size])
        rest = data[20 + size :]
        if not rest:
            return cls(document, b"")
        size, kind = struct.unpack("<I4s", rest[:8])
        assert kind == b"BIN\0"
        assert size == document["buffers"][0]["byteLength"] == len(rest) - 8
        return cls(document, rest[8:])

    def values(self, index: int) -> list[tuple[float, ...]]:
        accessor = self.document["accessors"][index]
        view = self.document["bufferViews"][accessor["bufferView"]]
        parts, letter, size = (3, "f", 4) if accessor["type"] == "VEC3" else (1, "H", 2)
        start = view.get("byteOffset", 0) + accessor["byteOffset"]
        assert accessor["byteOffset"] + accessor["count"] * parts * size <= view["byteLength"]
        held = struct.unpack_from(f"<{accessor['count'] * parts}{letter}", self.binary, start)
        found = [held[place : place + parts] for place in range(0, len(held), parts)]
        if "min" in accessor:
            assert accessor["min"] == [min(axis) for axis in zip(*found, strict=True)]
            assert accessor["max"] == [max(axis) for axis in zip(*found, strict=True)]
        return found

    def triangles(self, node: dict[str, Any]) -> list[tuple[Place, Place, Place]]:
        """Of a node, in the node's own axes."""
        (primitive,) = self.document["meshes"][node["mesh"]]["primitives"]
        corners = self.values(primitive["attributes"]["POSITION"])
        order = [int(index) for (index,) in self.values(primitive["indices"])]
        places = [(x, y, z) for x, y, z in (corners[index] for index in order)]
        return [(places[k], places[k + 1], places[k + 2]) for k in range(0, len(places), 3)]


def moved(node: dict[str, Any], place: Place) -> Place:
    matrix = node.get("matrix", [float(k % 5 == 0) for k in range(16)])
    x, y, z = (
        sum(matrix[4 * k + axis] * place[k] for k in range(3)) + matrix[12 + axis] for axis in range(3)
    )
    return x, y, z


def cross(one: Place, other: Place) -> Place:
    (a, b, c), (d, e, f) = one, other
    return b * f - c * e, c * d - a * f, a * e - b * d


def dot(one: Place, other: Place) -> float:
    return sum(a * b for a, b in zip(one, other, strict=True))


@pytest.fixture(scope="module", params=BUILDINGS, name="built")
def built_(request: pytest.FixtureRequest) -> tuple[Layout, Model]:
    layout = layout_named(request.param)
    return layout, Model.read(glb(layout))


def nodes(model: Model) -> dict[str, dict[str, Any]]:
    return {node["extras"]["mark"]: node for node in model.document["nodes"] if "mesh" in node}


def test_each_piece_is_a_node_under_its_part(built: tuple[Layout, Model]) -> None:
    layout, model = built
    every = model.document["nodes"]
    tops = [every[index] for index in model.document["scenes"][0]["nodes"]]
    told = [(top["name"], [every[child]["name"] for child in top["children"]]) for top in tops]
    assert told == [(part.name, [piece.mark for piece in part.pieces]) for part in layout.parts]
    # No node is used twice, and none is left over.
    children = Counter(child for node in every for child in node.get("children", []))
    assert set(children.values()) == {1}
    assert len(children) + len(tops) == len(every)


def test_bodies_are_closed_and_as_large_as_the_pieces(built: tuple[Layout, Model]) -> None:
    layout, model = built
    by_mark = nodes(model)
    for part in layout.parts:
        for piece in part.pieces:
            triangles = model.triangles(by_mark[piece.mark])
            edges = Counter((t[k], t[(k + 1) % 3]) for t in triangles for k in range(3))
            assert all(count == 1 and edges[end, start] == 1 for (start, end), count in edges.items())
            volume = sum(dot(a, cross(b, c)) for a, b, c in triangles) / 6
            housed = sum(area(each.outline) * each.deep for each in piece.housings or ())
            assert volume == pytest.approx((solid_of(piece, part).volume - housed) / 1e9, rel=1e-5)


def test_bodies_stand_where_the_pieces_do(built: tuple[Layout, Model]) -> None:
    layout, model = built
    by_mark = nodes(model)
    for part in layout.parts:
        for piece in part.pieces:
            node = by_mark[piece.mark]
            found = [moved(node, corner) for triangle in model.triangles(node) for corner in triangle]
            solid = solid_of(piece, part)
            wanted = [solid.view.point(u, v, w) for u, v in solid.outline for w in solid.depth]
            # X along the front, Y up, Z to the front.
            turned = [(x / 1000, z / 1000, -y / 1000) for x, y, z in wanted]
            for axis in range(3):
                ours, theirs = [p[axis] for p in found], [p[axis] for p in turned]
                assert min(ours) == pytest.approx(min(theirs), abs=2e-6)
                assert max(ours) == pytest.approx(max(theirs), abs=2e-6)


def test_every_placing_is_a_turn_and_no_mirror(built: tuple[Layout, Model]) -> None:
    for node in built[1].document["nodes"]:
        if "matrix" in node:
            m = node["matrix"]
            right, up, out = (m[0], m[1], m[2]), (m[4], m[5], m[6]), (m[8], m[9], m[10])
            assert dot(cross(right, up), out) == pytest.approx(1.0, abs=1e-6)
            assert [m[3], m[7], m[11], m[15]] == [0.0, 0.0, 0.0, 1.0]
            assert m != [float(k % 5 == 0) for k in range(16)]


def test_normals_look_outwards(built: tuple[Layout, Model]) -> None:
    model = built[1]
    for mesh in model.document["meshes"]:
        (primitive,) = mesh["primitives"]
        corners = model.values(primitive["attributes"]["POSITION"])
        normals = model.values(primitive["attributes"]["NORMAL"])
        order = [int(index) for (index,) in model.values(primitive["indices"])]
        for k in range(0, len(order), 3):
            a, b, c = ((x, y, z) for x, y, z in (corners[index] for index in order[k : k + 3]))
            across = cross((b[0] - a[0], b[1] - a[1], b[2] - a[2]), (c[0] - a[0], c[1] - a[1], c[2] - a[2]))
            for index in order[k : k + 3]:
                x, y, z = normals[index]
                assert dot((x, y, z), (x, y, z)) == pytest.approx(1.0, abs=1e-6)
                assert dot(across, (x, y, z)) == pytest.approx(dot(across, across) ** 0.5, rel=1e-4)


def test_alike_bodies_share_a_mesh_and_say_what_they_are() -> None:
    layout = layout_of(honey_house())
    model = Model.read(glb(layout))
    assert len(model.document["meshes"]) < len(layout.pieces) / 2
    used = {node["mesh"] for node in model.document["nodes"] if "mesh" in node}
    assert used == set(range(len(model.document["meshes"])))
    for piece in layout.pieces:
        extras = nodes(model)[piece.mark]["extras"]
        wanted = (piece.role, list(piece.section), piece.material)
        assert (extras["role"], extras["section"], extras["material"]) == wanted
    assert {one["name"] for one in model.document["materials"]} == {piece.role for piece in layout.pieces}


def test_the_same_building_gives_the_same_bytes() -> None:
    assert glb(layout_of(honey_house())) == glb(layout_of(honey_house()))


def test_names_stay_names() -> None:
    value = building(name=HOSTILE, frame={"section": [45, 70], "material": 'a"b\\c', "density": 400})
    document = Model.read(glb(layout_of(value))).document
    assert document["scenes"][0]["name"] == HOSTILE
    assert {node["extras"]["material"] for node in document["nodes"] if "mesh" in node} == {'a"b\\c'}
    assert set(document) == {
        "asset", "scene", "scenes", "nodes", "meshes", "materials", "accessors", "bufferViews", "buffers",
    }  # fmt: skip
    assert [set(buffer) for buffer in document["buffers"]] == [{"byteLength"}]


def test_a_layout_without_a_piece_is_a_file_with_an_empty_scene() -> None:
    document = Model.read(glb(empty())).document
    assert document["scenes"] == [{"name": "nothing"}]
    # No list of the format may be empty (Khronos glTF 2.0, its JSON schemas: `minItems` of 1).
    assert set(document) == {"asset", "scene", "scenes"}
