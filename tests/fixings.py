"""Buildings whose joints are fixed, for tests."""

from __future__ import annotations

import json
from functools import cache
from pathlib import Path
from typing import Any

from soleplate.engine.layout import Layout, Piece
from soleplate.engine.shapes import View
from tests.buildings import building, layout_of
from tests.floors import floor_with
from tests.roofs import duo, mono

EXAMPLES = tuple(sorted((Path(__file__).parent.parent / "examples").glob("*.json")))


def braced(rule: str) -> dict[str, Any]:
    """A building with noggins and two head plates, braced by a rule."""
    return building(
        defaults={
            "studs": {"rule": "equal-bays", "largest_bay": 600},
            "noggins": {"rule": "staggered", "rows": 1},
            "top_plates": {"rule": "double"},
            "bracing": [{"rule": rule}],
        }
    )


FRAMED: dict[str, dict[str, Any]] = {
    **{path.stem: json.loads(path.read_text()) for path in EXAMPLES},
    "on a floor, under a roof": mono() | {"floor": floor_with()},
    "two slopes": duo(),
    "cut-in braces": braced("cut-in"),
    "let-in braces": braced("let-in"),
}
"""The examples, and a building with all kinds of parts."""


@cache
def fixed(name: str) -> Layout:
    """One of them with its joints fixed by the installed rules."""
    return layout_of(FRAMED[name] | {"fixings": []})


def views_of(layout: Layout) -> dict[str, tuple[Piece, View, str]]:
    """Every piece of the frame by its mark, with its view and its part."""
    return {
        piece.mark: (piece, View(name, view.origin, view.right, view.up), part.name)
        for part in layout.parts
        for piece in part.pieces
        if piece.is_frame
        for name in [piece.view or "face"]
        for view in [part.views[name]]
    }
