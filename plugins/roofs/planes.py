"""The planes that the pieces of a slope lie in."""

from __future__ import annotations

from soleplate.engine.rules import RoofShape, SlopeShape, Vector, View
from soleplate.plugins.roofs.pitched import Pitched


def planes(slope: SlopeShape, rafter: Pitched, shape: RoofShape) -> tuple[View, ...]:
    """`side`, `slope`, `ladder` square to both, `eaves` at the low plumb cut, and the one at the high end.

    In `side` u is r turned round, so that depth grows along the eaves. In `ladder` depth grows up the slope.
    """
    face = slope.eaves
    inwards, cos, sin = face.inwards, rafter.cos, rafter.sin
    downhill = _scaled(inwards, -1.0)
    uphill = (inwards[0] * cos, inwards[1] * cos, sin)
    outwards = (-inwards[0] * sin, -inwards[1] * sin, cos)
    on_top = _moved(face.origin, (0.0, 0.0, 1.0), rafter.top(0.0))
    high: View
    if shape.form == "mono-pitch":
        corner = _moved(_moved(face.origin, inwards, rafter.end), face.right, slope.length)
        high = View("eaves high", corner, _scaled(face.right, -1.0), face.up)
    else:
        high = View("ridge", _moved(face.origin, inwards, slope.run), face.right, face.up)
    return (
        View("side", face.origin, downhill, face.up),
        View("slope", on_top, face.right, uphill),
        View("ladder", on_top, face.right, outwards),
        View("eaves", _moved(face.origin, inwards, rafter.start), face.right, face.up),
        high,
    )


def _moved(place: Vector, way: Vector, far: float) -> Vector:
    return (place[0] + way[0] * far, place[1] + way[1] * far, place[2] + way[2] * far)


def _scaled(way: Vector, by: float) -> Vector:
    return (way[0] * by + 0.0, way[1] * by + 0.0, way[2] * by + 0.0)
