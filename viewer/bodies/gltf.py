"""A building as glTF 2.0 in one binary file (Khronos, ISO/IEC 12113): a node a piece, metres, Y up."""

from __future__ import annotations

import json
import struct
from collections.abc import Mapping, Sequence
from typing import Any, Final

from soleplate.engine.layout import Layout, PartOut, Piece, ViewOut
from soleplate.viewer.bodies.meshes import METRE, Extrusion, Mesh, Vector, body_of, mesh_of
from soleplate.viewer.bodies.placings import Placing, placing_of
from soleplate.viewer.drawings import drawn_as, tone_of
from soleplate.viewer.markup import carriable

MAGIC: Final = b"glTF"
VERSION: Final = 2
JSON_CHUNK: Final = b"JSON"
BINARY_CHUNK: Final = b"BIN\0"

FLOAT: Final = 5126
UNSIGNED_SHORT: Final = 5123
CORNERS: Final = 34962
INDICES: Final = 34963

Json = dict[str, Any]


def glb(layout: Layout) -> bytes:
    """The building's pieces as a `.glb`, under a node for each wall, floor and slope.

    A piece's node has its mark as a name, and mark, role, section and material as extras. Alike bodies share
    a mesh, and each role has a material of its own. Placing are X along the front, Y up, and Z to the front.
    """
    scene = _Scene()
    tops = [scene.part(part) for part in layout.parts]
    return scene.written(carriable(layout.name), tops)


class _Scene:
    """What a file is put together from, each thing at the first piece that needs it."""

    def __init__(self) -> None:
        self._nodes: list[Json] = []
        self._meshes: list[Json] = []
        self._materials: list[Json] = []
        self._accessors: list[Json] = []
        self._binary: dict[int, bytearray] = {CORNERS: bytearray(), INDICES: bytearray()}
        self._mesh_of: dict[tuple[Extrusion, str], int] = {}
        self._shapes: dict[Extrusion, tuple[int, int, int]] = {}
        self._material_of: dict[str, int] = {}

    def part(self, part: PartOut) -> int:
        """The node of a wall, floor or slope with those of its pieces."""
        children = [self._piece(piece, part.views[piece.view or "face"]) for piece in part.pieces]
        self._nodes.append(_with({"name": carriable(part.name)}, children=children))
        return len(self._nodes) - 1

    def _piece(self, piece: Piece, view: ViewOut) -> int:
        body, (along, up, inwards) = body_of(piece)
        extras = {
            "mark": piece.mark,
            "role": piece.role,
            "section": list(piece.section),
            "material": carriable(piece.material),
        }
        node = {"name": piece.mark, "mesh": self._mesh(body, drawn_as(piece)), "extras": extras}
        self._nodes.append(node | _placed(placing_of(view).moved((along, up, -inwards))))
        return len(self._nodes) - 1

    def _mesh(self, body: Extrusion, tone: str) -> int:
        if (body, tone) not in self._mesh_of:
            if body not in self._shapes:
                self._shapes[body] = self._shape(mesh_of(body))
            corners, normals, triangles = self._shapes[body]
            primitive = {
                "attributes": {"POSITION": corners, "NORMAL": normals},
                "indices": triangles,
                "material": self._material(tone),
            }
            self._meshes.append({"primitives": [primitive]})
            self._mesh_of[body, tone] = len(self._meshes) - 1
        return self._mesh_of[body, tone]

    def _shape(self, mesh: Mesh) -> tuple[int, int, int]:
        least = [min(mesh.corners[axis::3]) for axis in range(3)]
        most = [max(mesh.corners[axis::3]) for axis in range(3)]
        return (
            self._accessor(CORNERS, FLOAT, "VEC3", mesh.corners, {"min": least, "max": most}),
            self._accessor(CORNERS, FLOAT, "VEC3", mesh.normals, {}),
            self._accessor(INDICES, UNSIGNED_SHORT, "SCALAR", mesh.triangles, {}),
        )

    def _accessor(
        self, view: int, of: int, shape: str, values: Sequence[float], more: Mapping[str, Sequence[float]]
    ) -> int:
        held = self._binary[view]
        offset = len(held)
        held += struct.pack(f"<{len(values)}{'f' if of == FLOAT else 'H'}", *values)
        held += bytes(-len(held) % 4)
        count = len(values) // (3 if shape == "VEC3" else 1)
        self._accessors.append(
            {
                "bufferView": list(self._binary).index(view),
                "byteOffset": offset,
                "componentType": of,
                "count": count,
                "type": shape,
                **more,
            }
        )
        return len(self._accessors) - 1

    def _material(self, tone: str) -> int:
        if tone not in self._material_of:
            colour = {"baseColorFactor": _colour(tone_of(tone).ground), "metallicFactor": 0.0}
            self._materials.append({"name": tone, "pbrMetallicRoughness": {**colour, "roughnessFactor": 0.9}})
            self._material_of[tone] = len(self._materials) - 1
        return self._material_of[tone]

    def written(self, name: str, tops: Sequence[int]) -> bytes:
        """The file, whose scene has these nodes."""
        binary = b"".join(self._binary.values())
        document = _with(
            {"asset": {"version": "2.0", "generator": "Soleplate"}, "scene": 0},
            scenes=[_with({"name": name}, nodes=list(tops))],
            nodes=self._nodes,
            meshes=self._meshes,
            materials=self._materials,
            accessors=self._accessors,
            bufferViews=self._views() if binary else [],
            buffers=[{"byteLength": len(binary)}] if binary else [],
        )
        text = json.dumps(document, ensure_ascii=False, separators=(",", ":"), allow_nan=False).encode()
        text += b" " * (-len(text) % 4)
        chunks = [(JSON_CHUNK, text), (BINARY_CHUNK, binary)]
        body = b"".join(struct.pack("<I", len(held)) + kind + held for kind, held in chunks if held)
        return MAGIC + struct.pack("<II", VERSION, 12 + len(body)) + body

    def _views(self) -> list[Json]:
        corners, indices = (len(self._binary[target]) for target in (CORNERS, INDICES))
        return [
            {"buffer": 0, "byteLength": corners, "byteStride": 12, "target": CORNERS},
            {"buffer": 0, "byteOffset": corners, "byteLength": indices, "target": INDICES},
        ]


def _with(always: Json, **lists: list[Any]) -> Json:
    """An object with those of its lists that hold something: the format has no empty ones."""
    return always | {name: held for name, held in lists.items() if held}


def _placed(frame: Placing) -> Json:
    """How a body lies in the world."""
    columns = [_turned(axis) for axis in (frame.x, frame.y, frame.z)]
    place = [along / METRE for along in _turned(frame.origin)]
    matrix = [*columns[0], 0.0, *columns[1], 0.0, *columns[2], 0.0, *place, 1.0]
    is_identity = matrix == [float(index % 5 == 0) for index in range(16)]
    return {} if is_identity else {"matrix": [round(figure, 9) + 0.0 for figure in matrix]}


def _turned(vector: Vector) -> Vector:
    """From the world, whose Z is up and Y runs from front to back, into glTF's axes."""
    x, y, z = vector
    return x, z, -y


def _colour(ground: str) -> list[float]:
    """A colour of the drawings in linear light (IEC 61966-2-1), opaque."""
    shares = [int(ground[place : place + 2], 16) / 255 for place in (1, 3, 5)]
    linear = (share / 12.92 if share <= 0.04045 else ((share + 0.055) / 1.055) ** 2.4 for share in shares)
    return [*(round(share, 6) for share in linear), 1.0]
