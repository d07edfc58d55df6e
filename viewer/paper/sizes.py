"""Paper, and what there is room for on it: sizes, frame, scales, lettering. All in mm on the sheet."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final, Literal

from soleplate.engine.building_file import Units

PaperName = Literal["A4", "Letter"]

PAPERS: Final[dict[PaperName, tuple[float, float]]] = {"A4": (210.0, 297.0), "Letter": (215.9, 279.4)}
"""Short and long side: ISO 216 A4, and 8 1/2 in by 11 in (ASME Y14.1 size A)."""

BINDING: Final = 20.0
"""Outside the frame at the left, where sheets are filed (ISO 5457)."""

EDGE: Final = 10.0
"""Outside the frame elsewhere (ISO 5457)."""

INSET: Final = 3.0
"""Between the frame and what stands in it."""

BLOCK: Final = 23.0
"""Height of the title block: two rows, each of a field's name and up to two lines of what it says."""

BLOCK_WIDTH: Final = 180.0
"""Of the title block, where the frame has room beside it (ISO 7200)."""

NOTE: Final = 16.0
"""Height of the cautions above a title block that takes the frame's whole width."""

HEADING: Final = 12.0
"""Height of a sheet's own heading, under which a line may say more."""

GAP: Final = 2.0
"""Over and under a drawing."""

SCALES: Final = (1, 2, 5, 10, 20, 50, 100, 200, 500, 1000)
"""Reducing scales, and full size (ISO 5455)."""

LEAST_LETTERING: Final = 2.5
"""Height of a capital letter, the least on any sheet (ISO 3098)."""

FIGURE_FONT: Final = "DejaVu Sans Mono"
WORD_FONT: Final = "Libertinus Serif"
CAPITALS: Final = {FIGURE_FONT: 0.729, WORD_FONT: 0.658}
"""Height of a capital letter, of a text size of 1. Both fonts are within the typesetter."""

FIGURE_WIDTH: Final = 0.602
"""Of any character of the font of figures, of a text size of 1."""

FIGURES: Final = 3.45
"""Text size of figures and of all lettering on drawings."""

MARKS: Final = 4.0
"""Text size of running marks, which are read from a sheet that lies beside the plate."""

WORDS: Final = 3.9
"""Text size of sentences and lists."""


@dataclass(frozen=True, slots=True)
class Page:
    """One way up of one paper."""

    paper: PaperName
    landscape: bool

    @property
    def size(self) -> tuple[float, float]:
        """Width and height."""
        short, long = PAPERS[self.paper]
        return (long, short) if self.landscape else (short, long)

    @property
    def frame(self) -> tuple[float, float]:
        """Width and height within the frame."""
        width, height = self.size
        return width - BINDING - EDGE, height - 2 * EDGE

    @property
    def foot(self) -> float:
        """Height that title block and cautions take."""
        return BLOCK if self.landscape else BLOCK + NOTE

    @property
    def body(self) -> tuple[float, float]:
        """Width and height for what the sheet is about."""
        width, height = self.frame
        return width - 2 * INSET, height - self.foot - 2 * INSET

    @property
    def room(self) -> tuple[float, float]:
        """Width and height for a drawing under the sheet's heading."""
        width, height = self.body
        return width, height - HEADING - GAP


def paper_for(units: Units) -> PaperName:
    """The paper usual where lengths are told in these units."""
    return "A4" if units == "mm" else "Letter"


def scale_text(scale: float) -> str:
    """A scale as it is written: `1:20`."""
    return f"1:{scale:g}"
