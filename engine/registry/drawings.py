"""What a drawing layer returned, taken in only if it can be drawn."""

from __future__ import annotations

from soleplate.engine.registry.answers import sound
from soleplate.engine.registry.blame import NonsenseError
from soleplate.engine.rules import Drawn, DrawnArea, DrawnLine, DrawnText


def to_draw(shape: object) -> Drawn:
    """A shape that a layer returned; to be called where the plugin is blamed.

    Raises:
        NonsenseError: it is nothing to draw, or holds something else than it should.
    """
    if not isinstance(shape, DrawnLine | DrawnArea | DrawnText):
        raise NonsenseError(f"returned {shape!r}, which is nothing to draw")
    return sound(shape, type(shape))
