"""Lists as CSV (RFC 4180) for a spreadsheet, in which no text can become a formula."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterable
from typing import Final

from soleplate.engine.layout import Layout
from soleplate.viewer.serialise import carriable, figure
from soleplate.viewer.texts import ENGLISH
from soleplate.viewer.wording import ends_text

FORMULA_STARTS: Final = ("=", "+", "-", "@", "\t", "\r", "\n")
"""A spreadsheet takes a cell that starts so for a formula (OWASP, CSV injection)."""

CUTTING_HEAD: Final = (
    "count", "cut to", "role", "breadth mm", "depth mm", "material", "grade", "length mm", "short side mm",
    "trim allowance mm", "ends", "clamp and cut", "marks",
)  # fmt: skip


def cutting_list_csv(layout: Layout) -> bytes:
    """The cutting list, one row for each setting of the saw; lengths are over the long points."""
    return _csv(
        CUTTING_HEAD,
        (
            (
                str(row.count),
                row.display,
                row.role,
                figure(row.section[0]),
                figure(row.section[1]),
                row.material,
                row.grade,
                figure(row.length),
                figure(row.short_length),
                figure(row.trim_allowance),
                ends_text(row.ends, ENGLISH),
                " + ".join(map(str, row.gangs)),
                " ".join(row.marks),
            )
            for row in layout.cutting_list
        ),
    )


def _csv(head: Iterable[str], rows: Iterable[Iterable[str]]) -> bytes:
    """With a byte order mark, by which spreadsheets tell UTF-8."""
    text = io.StringIO(newline="")
    writer = csv.writer(text)
    writer.writerow(head)
    writer.writerows([_cell(cell) for cell in row] for row in rows)
    return text.getvalue().encode("utf-8-sig")


def _cell(text: str) -> str:
    """An apostrophe makes it a text again."""
    return f"'{carriable(text)}" if text.startswith(FORMULA_STARTS) else carriable(text)
