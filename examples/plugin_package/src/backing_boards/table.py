"""An export: the cuts of the boards as a table."""

from __future__ import annotations

import csv
import io

from backing_boards.reading import boards, middle, span
from soleplate.engine.rules import Exporter, Layout

HEAD = ("wall", "mark", "length mm", "from mm", "height mm")


class BackingCuts(Exporter):
    """A row for each board: its length, and where it goes."""

    name = "backing-cuts"
    media_type = "text/csv"
    suffix = ".csv"

    def export(self, layout: Layout) -> bytes:
        """Return the table in UTF-8, lengths in mm."""
        text = io.StringIO()
        table = csv.writer(text)
        table.writerow(HEAD)
        for wall in layout.walls:
            for piece in boards(wall):
                left, _ = span(piece)
                figures = (piece.length, left, middle(piece))
                table.writerow([wall.name, piece.mark, *(f"{figure:g}" for figure in figures)])
        return text.getvalue().encode()
