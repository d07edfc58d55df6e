"""A picture as large as its sheet lets it be, with what is told under it."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from soleplate.viewer.paper import FIGURES, SCALES, Page, PaperName
from soleplate.viewer.sheets.blocks import Block, blocks_height
from soleplate.viewer.sheets.picture import Picture

LETTERING = FIGURES / 0.9
"""On the sheet, mm: what the drawings' smallest lettering, nine tenths of it, needs to be tall enough."""

BETWEEN = 4.0
"""Under a picture, mm."""


def largest(
    draw: Callable[[int], Picture],
    told: Sequence[Block],
    paper: PaperName,
    ways: Sequence[bool] = (False, True),
) -> tuple[Picture, int, Page]:
    """The picture at the largest scale that leaves room for what is told under it, its scale and page.

    `ways` are those in which the sheet may lie, whether landscape, the first first. What fits nowhere is
    drawn at the least scale.
    """
    for scale in SCALES:
        drawn = draw(scale)
        for landscape in ways:
            page = Page(paper, landscape=landscape)
            width, height = page.room
            if drawn.width <= width and drawn.height + blocks_height(told, width) + BETWEEN <= height:
                return drawn, scale, page
    return draw(SCALES[-1]), SCALES[-1], Page(paper, landscape=ways[-1])
