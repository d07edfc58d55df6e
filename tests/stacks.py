"""Walls with openings above each other for tests, and what holds of their frames."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Any

from shapely import Polygon, box

from soleplate.engine.layout import Piece, WallOut

NEAR = 0.05
"""mm; outlines are put out at 0.001."""


def stacked_wall(
    *openings: dict[str, Any],
    length: float = 3600.0,
    heights: tuple[float, float] = (3200.0, 3200.0),
    carries_roof: bool = False,
    **defaults: Any,
) -> dict[str, Any]:
    """One wall on its own with these openings."""
    alone = {"name": "wall", "length": length, "heights": list(heights), "carries_roof": carries_roof}
    return {
        "format": "soleplate.building/1",
        "name": "Stack",
        "frame": {"section": [45, 70]},
        "outline": {"walls": [alone]},
        "defaults": defaults,
        "walls": {"wall": {"openings": list(openings)}},
    }


def opening(name: str, centre: float, width: float, bottom: float, top: float, **more: Any) -> dict[str, Any]:
    """A door where it starts at the floor, else a window."""
    kind = "door" if bottom == 0 else "window"
    at = {"centre": centre}
    return {
        "name": name,
        "kind": kind,
        "width": width,
        "height": top - bottom,
        "sill": bottom,
        "at": at,
    } | more


class Box:
    """A piece by its extent, mm."""

    def __init__(self, piece: Piece) -> None:
        self.piece = piece
        self.role = piece.role
        self.left = min(x for x, _ in piece.outline)
        self.right = max(x for x, _ in piece.outline)
        self.bottom = min(z for _, z in piece.outline)
        self.top = max(z for _, z in piece.outline)
        self.is_upright = self.top - self.bottom > self.right - self.left and self.role not in LYING

    def __repr__(self) -> str:
        return f"{self.role} {self.left:.1f}-{self.right:.1f} {self.bottom:.1f}-{self.top:.1f}"


LYING = {"sole plate", "head plate", "raked plate", "lintel", "head", "sill", "noggin", "packer"}


def boxes(wall: WallOut) -> list[Box]:
    """The pieces of its frame."""
    return [Box(piece) for piece in wall.pieces if piece.is_frame]


def in_a_hole(wall: WallOut) -> list[tuple[str, Box]]:
    """What lies in an opening."""
    return [
        (hole.name, each)
        for hole in wall.openings
        for each in boxes(wall)
        if Polygon(each.piece.outline)
        .intersection(box(hole.left + NEAR, hole.bottom + NEAR, hole.right - NEAR, hole.top - NEAR))
        .area
        > 0
    ]


def not_led_down(wall: WallOut) -> list[Box]:
    """The pieces whose load comes to no sole plate, or of a level one at one end only, by their contacts."""
    every = boxes(wall)
    led = {id(each) for each in every if each.role == "sole plate"}
    waiting = [each for each in every if id(each) not in led and not each.role.endswith("plate")]
    while True:
        more = [each for each in waiting if _is_led(each, [other for other in every if id(other) in led])]
        if not more:
            return waiting
        led |= {id(each) for each in more}
        waiting = [each for each in waiting if id(each) not in led]


def _is_led(piece: Box, led: Sequence[Box]) -> bool:
    if piece.is_upright:
        return any(_stands_on(piece, other) for other in led)
    ends = {side for other in led for side in _ends_at(piece, other)}
    return ends == {"left", "right"}


def _shares(one: Box, other: Box) -> bool:
    return min(one.right, other.right) - max(one.left, other.left) > 1.0


def _stands_on(piece: Box, other: Box) -> bool:
    return not other.is_upright and abs(piece.bottom - other.top) < NEAR and _shares(piece, other)


def _ends_at(piece: Box, other: Box) -> Iterator[str]:
    """Which ends of a level piece are held: by an upright under that half of it, or one that it ends at."""
    if not other.is_upright:
        # A packer, or a sill without cripples, lies on what is under it.
        if abs(piece.bottom - other.top) < NEAR and _shares(piece, other):
            yield from ("left", "right")
        return
    beside = other.bottom < piece.top - 1.0 and other.top > piece.bottom + 1.0
    if beside and abs(other.right - piece.left) < NEAR:
        yield "left"
    if beside and abs(other.left - piece.right) < NEAR:
        yield "right"
    if abs(other.top - piece.bottom) < NEAR and _shares(piece, other):
        third = (piece.right - piece.left) / 3
        if other.left < piece.left + third:
            yield "left"
        if other.right > piece.right - third:
            yield "right"


def mirrored(value: dict[str, Any]) -> dict[str, Any]:
    """The same wall seen in a mirror: its openings by their centres, and its heights."""
    (alone,) = value["outline"]["walls"]
    openings = [
        each | {"at": {"centre": alone["length"] - each["at"]["centre"]}}
        for each in value["walls"]["wall"]["openings"]
    ]
    outline = {"walls": [alone | {"heights": alone["heights"][::-1]}]}
    return value | {"outline": outline, "walls": {"wall": {"openings": openings}}}


def places(wall: WallOut, *, turned: bool = False) -> list[tuple[object, ...]]:
    """Where each piece of the frame lies, to 0.1 mm, or in a mirror."""
    found = []
    for piece in wall.pieces:
        if piece.is_frame:
            corners = [(wall.length - x if turned else x, z) for x, z in piece.outline]
            shape = tuple(sorted((round(x, 1) + 0.0, round(z, 1)) for x, z in corners))
            found.append((piece.role, piece.depth, shape))
    return sorted(found, key=repr)
