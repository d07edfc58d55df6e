"""Paper: its sizes, scales and lettering, and what can be asked of the sheets. Imports nothing heavy."""

from __future__ import annotations

from soleplate.viewer.paper.options import LONGEST, SheetOptions
from soleplate.viewer.paper.sizes import (
    BINDING,
    BLOCK,
    BLOCK_WIDTH,
    EDGE,
    FIGURE_FONT,
    FIGURE_WIDTH,
    FIGURES,
    GAP,
    HEADING,
    INSET,
    MARKS,
    NOTE,
    PAPERS,
    SCALES,
    WORD_FONT,
    WORDS,
    Page,
    PaperName,
    paper_for,
    scale_text,
)
