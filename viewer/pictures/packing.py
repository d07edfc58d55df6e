"""A scene as JSON for the page's script, which paints it from any direction by one walk."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any, Final

from soleplate.engine.layout import Layout
from soleplate.engine.shapes import Chamber, ConvexBody, Facet, Partition, Vector
from soleplate.viewer.drawings import Face, drawn_as, drawn_parts, piece_place, role_class, told_of, tone_of
from soleplate.viewer.lists import cutting_rows
from soleplate.viewer.pictures.look import Look
from soleplate.viewer.pictures.painting import colour_of
from soleplate.viewer.pictures.scene import Scene, layer_of, scene_of
from soleplate.viewer.pictures.slabs import UNMARKED
from soleplate.viewer.words import ENGLISH, Texts, role_text

TENTHS: Final = 10.0
"""Points are told in whole tenths of a mm."""

Json = dict[str, Any]


def packed(layout: Layout, look: Look, texts: Texts = ENGLISH) -> Json:
    """All that a script needs to paint a look at a layout from any direction.

    `pieces` say of each what a drawing's element says, a roof's covering without a mark; `points` are X, Y
    and Z one after the other in tenths of a mm; `normals` and `colours` are those of faces. `space` is
    nested: a parting is a list of its normal, what lies behind, what lies before, and faces in the plane,
    each with its piece; a chamber is an object whose `bodies` are each its piece, then its faces. A face is
    its normal, its colour, 1 where a plane cuts, its corners' points, and a number whose bits, the lowest
    first, say of each corner whether a line is drawn to the next.
    """
    scene = scene_of(layout, look)
    return {
        "look": {"azimuth": look.azimuth, "elevation": look.elevation},
        "pieces": list(_pieces(scene, layout, texts)),
        **_Packer(scene).packed(),
    }


def _pieces(scene: Scene, layout: Layout, texts: Texts) -> Iterator[Json]:
    rows, places = cutting_rows(layout), _places(layout, texts)
    for each in scene.shown:
        piece = each.piece
        role = role_text(piece.role, texts)
        said = "{role}" if piece.mark == UNMARKED else texts.piece_title
        yield {
            "mark": piece.mark,
            "role": piece.role,
            "tone": role_class(drawn_as(piece)),
            "cut": rows.get(piece.mark),
            "layer": layer_of(each.part, piece),
            "part": each.part.name,
            "place": places.get(piece.mark),
            "title": said.format(mark=piece.mark, role=role, length=piece.display),
        }


def _places(layout: Layout, texts: Texts) -> dict[str, str]:
    """Where each piece sits in its part, in the words of that part's own drawing, by its mark."""
    faces = (Face(part, "outside", layout.units, told_of(part, texts)) for part in drawn_parts(layout))
    return {piece.mark: piece_place(face, piece) for face in faces for piece in face.wall.pieces}


class _Packer:
    """Points, normals and colours, each once, and what refers to them by their places."""

    def __init__(self, scene: Scene) -> None:
        self._scene = scene
        self._tones = [tone_of(drawn_as(each.piece)) for each in scene.shown]
        self._points: dict[tuple[int, int, int], int] = {}
        self._normals: dict[Vector, int] = {}
        self._colours: dict[str, int] = {}

    def packed(self) -> Json:
        space = self._space(self._scene.space)
        return {
            "points": [figure for point in self._points for figure in point],
            "normals": [list(normal) for normal in self._normals],
            "colours": list(self._colours),
            "space": space,
        }

    def _space(self, space: Partition) -> Json | list[Any]:
        if isinstance(space, Chamber):
            return {"bodies": [self._body(body) for body in space.bodies]}
        on = [[owner, self._facet(owner, facet)] for owner, facet in space.on]
        held: list[Any] = [self._normal(space.normal), self._space(space.behind), self._space(space.before)]
        return [*held, on] if on else held

    def _body(self, body: ConvexBody) -> list[Any]:
        return [body.owner, *(self._facet(body.owner, facet) for facet in body.facets)]

    def _facet(self, owner: int, facet: Facet) -> list[Any]:
        colour = colour_of(self._tones[owner], facet.normal, facet.is_section)
        lines = sum(1 << place for place, is_edge in enumerate(facet.edges) if is_edge)
        return [
            self._normal(facet.normal),
            self._colours.setdefault(colour, len(self._colours)),
            int(facet.is_section),
            [self._point(corner) for corner in facet.corners],
            lines,
        ]

    def _point(self, corner: Vector) -> int:
        x, y, z = (round(TENTHS * each) for each in corner)
        return self._points.setdefault((x, y, z), len(self._points))

    def _normal(self, normal: Vector) -> int:
        x, y, z = (round(each, 6) + 0.0 for each in normal)
        return self._normals.setdefault((x, y, z), len(self._normals))
