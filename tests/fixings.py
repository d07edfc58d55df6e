"""Buildings whose joints are fixed, for tests."""

from __future__ import annotations

import json
import math
from collections.abc import Iterator
from functools import cache
from pathlib import Path
from typing import Any

import numpy as np
import shapely
from scipy.spatial import cKDTree

from soleplate.engine.layout import JointFixingOut, Layout, Piece
from soleplate.engine.shapes import Vector, View
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


STEP = 1.0
"""mm between the places of a fixing that are looked at."""


def along(head: Vector, point: Vector) -> np.ndarray:
    count = int(math.dist(head, point) / STEP) + 1
    return np.linspace(head, point, count)


def lines(layout: Layout) -> Iterator[tuple[JointFixingOut, Vector, Vector]]:
    for fixing in layout.fixings:
        for place in fixing.places:
            yield fixing, place.head, place.point


def within(piece: Piece, view: View, places: np.ndarray) -> np.ndarray:
    away = places - np.array(view.origin)
    u, v, w = away @ np.array(view.right), away @ np.array(view.up), away @ np.array(view.inwards)
    low, high = piece.depth
    outline = shapely.Polygon(piece.outline).buffer(0.1, join_style="mitre")
    return shapely.contains_xy(outline, u, v) & (w > low - 0.1) & (w < high + 0.1)


def meeting(layout: Layout) -> set[tuple[str, str]]:
    """What the fixings are driven into that come nearer to each other than two diameters.

    Axes are cut into points 1 mm apart: two that come so near have points almost as near.
    """
    every = list(lines(layout))
    if not every:
        return set()
    points = [along(head, point) for _, head, point in every]
    owner = np.repeat(np.arange(len(every)), [len(each) for each in points])
    near = cKDTree(np.concatenate(points)).query_pairs(2 * 2.8 - STEP, output_type="ndarray")
    both = near[owner[near[:, 0]] != owner[near[:, 1]]]
    return {(every[owner[a]][0].into, every[owner[b]][0].into) for a, b in both}


def out_of_timber(layout: Layout) -> set[str]:
    """Which nails and screws leave the timber between head and point.

    They are in the two pieces of their joint, in the third of three plies, or in the deck under a sole plate.
    """
    pieces = views_of(layout)
    found: set[str] = set()
    for fixing, head, point in lines(layout):
        if fixing.kind not in ("nail", "screw"):
            continue
        places = along(head, point)
        others = [each for each in pieces.values() if each[2] == pieces[fixing.into][2]]
        among = [pieces[fixing.through], pieces[fixing.into], *(others if fixing.joint == "plies" else ())]
        held = np.any([within(piece, view, places) for piece, view, _ in among], axis=0)
        gaps = np.flatnonzero(~held)
        is_deck = (
            fixing.joint == "base"
            and held[0]
            and held[-1]
            and len(gaps) == gaps[-1:].sum() - gaps[:1].sum() + 1
        )
        if len(gaps) and not is_deck:
            found.add(f"{fixing.through} into {fixing.into}")
    return found
