"""Whether what a drawing layer returned can be drawn."""

from __future__ import annotations

from soleplate.engine.registry.answers import sound
from soleplate.engine.registry.blame import NonsenseError
from soleplate.engine.rules import DrawnArea, DrawnLine, DrawnText


def nothing_to_draw(shape: object) -> str | None:
    """What is wrong with something that a layer returned, in words; `None` where it can be drawn."""
    if not isinstance(shape, DrawnLine | DrawnArea | DrawnText):
        return f"returned {shape!r}, which is nothing to draw"
    try:
        sound(shape, type(shape))
    except NonsenseError as error:
        return f"returned {error}"
    return None
