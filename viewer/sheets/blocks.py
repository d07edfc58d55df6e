"""What a sheet is made of: blocks that the typesetter's template knows by their kind."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from typing import Any, Final, Literal

from soleplate.viewer.markup import carriable
from soleplate.viewer.paper import FIGURE_WIDTH, FIGURES, GAP, MARKS, WORDS
from soleplate.viewer.sheets.picture import Picture

Block = dict[str, Any]
Cell = str | dict[str, str]

MOST_IN_ONE: Final = 6
"""Rows of contents that stand below each other."""

_LONG_WORD: Final = re.compile(r"\S{15,}")
_CELL: Final = 1.3
"""At either side of a cell's text, mm."""
_BREAK: Final = "\N{ZERO WIDTH SPACE}"


@dataclass(frozen=True, slots=True)
class SheetOf:
    """One sheet, or several where its blocks flow on."""

    id: str
    title: str
    sub: str
    document_type: str
    scale: str
    blocks: Sequence[Block]
    landscape: bool = False
    of: str = ""
    """What it is listed under on the cover, where not under its title."""


@dataclass(frozen=True, slots=True)
class Column:
    """A column of a table: its width in mm, or by its content, or what is left."""

    head: str
    width: float | Literal["auto", "rest"] = "auto"
    face: Literal["figure", "word"] = "word"
    right: bool = False


def tick() -> Cell:
    """A box to tick."""
    return {"tick": ""}


def strong(text: str, small: str = "") -> Cell:
    """An emphasised text, and a smaller remark under it."""
    return {"strong": breakable(text), "small": breakable(small)}


def head(text: str) -> Block:
    """A heading within a sheet."""
    return {"kind": "head", "text": breakable(text)}


def words(text: str) -> Block:
    """A paragraph."""
    return {"kind": "words", "text": breakable(text)}


def listed(items: Iterable[str]) -> Block:
    """Sentences, one below the other."""
    return {"kind": "list", "items": [breakable(item) for item in items]}


def notice(level: str, text: str, tint: str) -> Block:
    """A finding, its level in front and its tint at its side."""
    return {"kind": "notice", "level": level, "text": breakable(text), "tint": tint}


def drawing(picture: Picture, beside: Picture | None = None) -> Block:
    """A picture at its size, with another one at its right where there is one."""
    block = {
        "kind": "picture",
        "svg": picture.svg,
        "width": picture.width,
        "height": picture.height,
        "alt": carriable(picture.alt),
    }
    return block if beside is None else block | {"beside": drawing(beside)}


def table(columns: Sequence[Column], rows: Iterable[Sequence[Cell] | str]) -> Block:
    """A table whose head is repeated on each sheet; a row that is a text heads those after it."""
    return {
        "kind": "table",
        "head": [column.head for column in columns],
        "columns": [
            {"width": column.width, "face": column.face, "right": column.right} for column in columns
        ],
        "rows": [
            breakable(row)
            if isinstance(row, str)
            else [breakable(cell) if isinstance(cell, str) else cell for cell in row]
            for row in rows
        ],
    }


def running_marks(items: Iterable[tuple[str, str]]) -> Block:
    """Marks with their figures, line by line."""
    return {"kind": "marks", "items": [[breakable(mark), figure] for mark, figure in items]}


def facts(items: Iterable[tuple[str, str]]) -> Block:
    """Names with their figures side by side."""
    return {"kind": "facts", "items": [list(item) for item in items]}


def contents(rows: Iterable[tuple[str, Sequence[str], str]], head: Sequence[str]) -> Block:
    """Where sheets begin: by title their ids, whose numbers the typesetter knows, and a scale.

    Many stand side by side, the first half at the left.
    """
    made = [{"title": breakable(title), "ids": list(ids), "scale": scale} for title, ids, scale in rows]
    sides = 1 if len(made) <= MOST_IN_ONE else 2
    return {"kind": "contents", "head": list(head), "rows": made, "sides": sides}


def blocks_height(blocks: Iterable[Block], width: float) -> float:
    """About how high blocks come out in a width, mm; rather too much than too little."""
    return sum(_HEIGHTS[block["kind"]](block, width) for block in blocks)


def _lines(text: str, width: float) -> int:
    return 1 + int(len(text) * 0.385 * WORDS / width)


def _table_height(block: Block, width: float) -> float:
    rows = [row for row in block["rows"] if not isinstance(row, str)]
    wide = [
        [_widths(cell, column["face"]) for cell in cells]
        for column, *cells in zip(block["columns"], *rows, strict=True)
    ]
    fixed = [
        column["width"]
        if not isinstance(column["width"], str)
        else max((max(lines) for lines in cells), default=0.0) + 2 * _CELL
        for column, cells in zip(block["columns"], wide, strict=True)
    ]
    rest = [index for index, column in enumerate(block["columns"]) if column["width"] == "rest"]
    for index in rest:
        fixed[index] = 0.0
        fixed[index] = max(width - sum(fixed), 20.0)
    lines = [
        max(
            sum(1 + int(0.999 * line / max(room - 2 * _CELL, 1.0)) for line in cell)
            for cell, room in zip(row, fixed, strict=True)
        )
        for row in zip(*wide, strict=True)
    ]
    timbers = len(block["rows"]) - len(rows)
    return 8.0 + sum(0.8 + 4.6 * count for count in lines) + 7.2 * timbers


def _widths(cell: Cell, face: str) -> list[float]:
    """How wide each of the texts below each other in a cell is set on one line, mm, rather too much."""
    texts = [cell] if isinstance(cell, str) else [cell.get("strong", ""), cell.get("small", "")]
    wide = 1.05 * FIGURE_WIDTH * FIGURES if face == "figure" else 0.45 * WORDS
    return [wide * len(text.replace(_BREAK, "")) for text in texts if text] or [0.0]


def _marks_height(block: Block, width: float) -> float:
    wide = sum(4.5 + FIGURE_WIDTH * MARKS * len("".join(item)) for item in block["items"])
    return 7.2 * (1 + int(wide / (0.93 * width))) + 1.0


def _contents_height(block: Block, width: float) -> float:
    """Of its taller side, where it has two."""
    rows = block["rows"]
    side = width if block["sides"] == 1 else width / 2 - 3.0
    first = -(-len(rows) // block["sides"])
    tall = [4.5 * _lines(row["title"], side - 45.0) for row in rows]
    return 4.5 + max(sum(tall[:first]), sum(tall[first:])) + 1.0


_HEIGHTS: Final[dict[str, Callable[[Block, float], float]]] = {
    "picture": lambda block, width: block["height"] + 2 * GAP,
    "head": lambda block, width: 8.6,
    "words": lambda block, width: 4.6 * _lines(block["text"], width) + 2.0,
    "list": lambda block, width: sum(4.6 * _lines(item, width - 5) + 0.4 for item in block["items"]) + 2.0,
    "notice": lambda block, width: 4.6 * _lines(block["text"] + block["level"], width - 3) + 1.5,
    "table": _table_height,
    "contents": _contents_height,
    "facts": lambda block, width: 9.5,
    "marks": _marks_height,
}


def breakable(text: str) -> str:
    """A text that the typesetter can carry, a word that is longer than any may be broken."""
    return _LONG_WORD.sub(lambda word: _BREAK.join(word.group()), carriable(text))
