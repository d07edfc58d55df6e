"""The covering plan of a slope: its sheets or strips in the order in which they are laid, and its battens."""

from __future__ import annotations

from soleplate.engine.building_file import format_length
from soleplate.engine.layout import CoveringOut, Layout, SlopeOut
from soleplate.viewer.drawings import draw_covering
from soleplate.viewer.lists import covering_said
from soleplate.viewer.paper import PaperName, scale_text
from soleplate.viewer.sheets.blocks import SheetOf, drawing, listed
from soleplate.viewer.sheets.fitting import LETTERING, largest
from soleplate.viewer.sheets.picture import Picture, picture
from soleplate.viewer.words import Texts


def covering_sheets(layout: Layout, paper: PaperName, texts: Texts) -> list[SheetOf]:
    """A sheet for each slope that is covered."""
    return [
        _sheet(slope, slope.covering, layout, paper, texts)
        for slope in layout.roofs
        if slope.covering is not None
    ]


def _sheet(slope: SlopeOut, covering: CoveringOut, layout: Layout, paper: PaperName, texts: Texts) -> SheetOf:
    said = texts.covering
    told = [listed(covering_said(slope, layout.units, texts))]

    def draw(scale: int) -> Picture:
        drawn, view = draw_covering(slope, covering, layout.units, LETTERING * scale, texts)
        alt = said.alt.format(
            slope=slope.name,
            scale=scale_text(scale),
            count=len(covering.parts),
            length=format_length(covering.piece_length, layout.units),
        )
        return picture(drawn, view, alt, scale=scale)

    drawn, scale, page = largest(draw, told, paper)
    return SheetOf(
        f"{slope.name.replace(' ', '-')}-covering", said.of_slope.format(slope=slope.name), said.sub,
        said.title, scale_text(scale), [drawing(drawn), *told], landscape=page.landscape, of=said.title,
    )  # fmt: skip
