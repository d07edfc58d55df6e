"""An export: the cuts of the braces as a table."""

from __future__ import annotations

import csv
import io

from cut_in_braces.reading import braces
from soleplate.engine.rules import CutEnd, Exporter, Layout

HEAD = ("mark", "length mm", "short side mm", "left end", "right end")


class BraceCuts(Exporter):
    """A row for each piece of a brace: its lengths, and how both ends are cut, in degrees off square."""

    name = "brace-cuts"
    media_type = "text/csv"
    suffix = ".csv"

    def export(self, layout: Layout) -> bytes:
        """Return the table in UTF-8, lengths in mm."""
        text = io.StringIO()
        table = csv.writer(text)
        table.writerow(HEAD)
        for wall in layout.walls:
            for piece in braces(wall):
                ends = map(_cut, piece.ends)
                table.writerow([piece.mark, f"{piece.length:g}", f"{piece.short_length:g}", *ends])
        return text.getvalue().encode()


def _cut(end: CutEnd) -> str:
    angles = end.angles or ((end.angle,) if end.angle is not None else ())
    return " ".join([end.cut, *(f"{value:.1f}" for value in angles)])
