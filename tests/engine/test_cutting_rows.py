"""Rows of the cutting list: their pieces are alike, and what they say is enough to make them."""

from __future__ import annotations

import json
from itertools import pairwise
from pathlib import Path
from typing import Any

import pytest
from hypothesis import HealthCheck, given, reject, settings
from shapely import Polygon

from soleplate.engine.errors import UnbuildableError
from soleplate.engine.geometry import Outline
from soleplate.engine.layout import Layout, Piece
from tests.buildings import HONEY_HOUSE, layout_of
from tests.engine.cladding.test_outlines import clad_buildings
from tests.engine.rebuilding import laid_flat, rakes, rebuilt

EXAMPLES = sorted(HONEY_HOUSE.parent.glob("*.json"))

WITHIN = 0.02
"""mm. Outlines are put out at 0.001, angles at 0.001 degrees."""


def span(outline: Outline) -> tuple[float, float]:
    xs, zs = zip(*outline, strict=True)
    return max(xs) - min(xs), max(zs) - min(zs)


def stands(piece: Piece) -> bool:
    width, height = span(piece.outline)
    return not rakes(piece) and abs(height - piece.length) < abs(width - piece.length)


def are_congruent(one: Outline, other: Outline) -> bool:
    return Polygon(one).hausdorff_distance(Polygon(other)) < WITHIN


def assert_rows_tell_all(layout: Layout) -> None:
    """Pieces of one row are one outline laid down, and the row's words rebuild it.

    A timber of the frame with square ends shows its breadth or its depth, whichever way it is turned.
    """
    pieces = {piece.mark: piece for wall in layout.walls for piece in wall.pieces}
    for row in layout.cutting_list:
        alike = [pieces[mark] for mark in row.marks]
        is_square = all(end.cut == "square" for end in row.ends)
        laid = [laid_flat(piece, upright=stands(piece)) for piece in alike]
        shown = [own for piece, own in zip(alike, laid, strict=True) if not (piece.is_frame and is_square)]
        for one, other in pairwise(shown):
            assert are_congruent(one, other), row
        for piece, own in zip(alike, laid, strict=True):
            if row.notched or any(end.cut == "shaped" for end in row.ends):
                continue
            width = span(own)[1] if piece.is_frame else row.rip or row.section[1]
            again = rebuilt(row, width, upright=stands(piece))
            assert are_congruent(own, again), (piece.mark, own, again, row)


@pytest.mark.parametrize("path", EXAMPLES, ids=[path.stem for path in EXAMPLES])
def test_rows_of_the_examples(path: Path) -> None:
    assert_rows_tell_all(layout_of(json.loads(path.read_text())))


@settings(max_examples=20, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(clad_buildings())
def test_rows_of_any_building(value: dict[str, Any]) -> None:
    try:
        layout = layout_of(value)
    except UnbuildableError:
        reject()
    assert_rows_tell_all(layout)
