"""What stands in a PDF, read from its content streams: lines, texts and fonts, in mm from the top left."""

from __future__ import annotations

import io
import math
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from typing import Any

from pypdf import PdfReader
from pypdf.generic import ContentStream

MM = 25.4 / 72

Matrix = tuple[float, float, float, float, float, float]
UPRIGHT: Matrix = (1.0, 0.0, 0.0, 1.0, 0.0, 0.0)


def times(one: Matrix, other: Matrix) -> Matrix:
    a, b, c, d, e, f = one
    a2, b2, c2, d2, e2, f2 = other
    return (
        a * a2 + b * c2,
        a * b2 + b * d2,
        c * a2 + d * c2,
        c * b2 + d * d2,
        e * a2 + f * c2 + e2,
        e * b2 + f * d2 + f2,
    )


@dataclass(frozen=True)
class Line:
    x0: float
    y0: float
    x1: float
    y1: float

    @property
    def length(self) -> float:
        return math.hypot(self.x1 - self.x0, self.y1 - self.y0)

    @property
    def is_level(self) -> bool:
        return abs(self.y1 - self.y0) < 1e-3

    @property
    def is_upright(self) -> bool:
        return abs(self.x1 - self.x0) < 1e-3


@dataclass(frozen=True)
class Run:
    """A run of glyphs: where it begins, and its size."""

    x: float
    y: float
    size: float
    font: str
    width: float
    upright: bool


@dataclass
class Page:
    width: float
    height: float
    text: str
    lines: list[Line] = field(default_factory=list)
    runs: list[Run] = field(default_factory=list)
    fonts: set[str] = field(default_factory=set)


def read(pdf: bytes) -> list[Page]:
    reader = PdfReader(io.BytesIO(pdf))
    pages = []
    for page in reader.pages:
        box = page.mediabox
        made = Page(float(box.width) * MM, float(box.height) * MM, page.extract_text())
        base = (MM, 0.0, 0.0, -MM, 0.0, made.height)
        _Walk(made, page["/Resources"].get_object(), base, reader).run(page.get_contents())
        pages.append(made)
    return pages


class _Walk:
    """A content stream walked once; what it draws is put on the page."""

    def __init__(self, page: Page, resources: Any, matrix: Matrix, reader: PdfReader) -> None:
        self.page, self.resources, self.matrix, self.reader = page, resources, matrix, reader
        self.stack: list[Matrix] = []
        self.font, self.size = "", 0.0
        self.widths: dict[int, float] = {}
        self.text: Matrix = UPRIGHT
        self.at = self.start = (0.0, 0.0)

    def run(self, stream: Any) -> None:
        content = stream if isinstance(stream, ContentStream) else ContentStream(stream, self.reader)
        for operands, operator in content.operations:
            step = STEPS.get(bytes(operator))
            if step is not None:
                step(self, operands)

    def push(self, _: Any) -> None:
        self.stack.append(self.matrix)

    def pop(self, _: Any) -> None:
        self.matrix = self.stack.pop()

    def transform(self, values: Any) -> None:
        self.matrix = times(_matrix(values), self.matrix)

    def move(self, values: Any) -> None:
        self.at = self.start = (float(values[0]), float(values[1]))

    def line(self, values: Any) -> None:
        self._to((float(values[0]), float(values[1])))

    def close(self, _: Any) -> None:
        self._to(self.start)

    def curve(self, values: Any) -> None:
        self.at = (float(values[4]), float(values[5]))

    def rectangle(self, values: Any) -> None:
        x, y, width, height = map(float, values)
        self.at = self.start = (x, y)
        for corner in ((x + width, y), (x + width, y + height), (x, y + height), (x, y)):
            self._to(corner)

    def _to(self, point: tuple[float, float]) -> None:
        self.page.lines.append(_line(self.at, point, self.matrix))
        self.at = point

    def begin_text(self, _: Any) -> None:
        self.text = UPRIGHT

    def set_font(self, operands: Any) -> None:
        found = self.resources["/Font"][operands[0]].get_object()
        self.font, self.size, self.widths = f"{found['/BaseFont']}", float(operands[1]), _widths(found)
        self.page.fonts.add(self.font)

    def set_text(self, values: Any) -> None:
        self.text = _matrix(values)

    def move_text(self, values: Any) -> None:
        self.text = times((1.0, 0.0, 0.0, 1.0, float(values[0]), float(values[1])), self.text)

    def show(self, operands: Any) -> None:
        parts = operands[0] if isinstance(operands[0], list) else operands
        placed = times(self.text, self.matrix)
        self.page.runs.append(_run(parts, self.widths, self.font, self.size, placed))

    def form(self, operands: Any) -> None:
        form = self.resources["/XObject"][operands[0]].get_object()
        if form["/Subtype"] == "/Form":
            inner = times(_matrix(form.get("/Matrix", UPRIGHT)), self.matrix)
            own = form.get("/Resources", self.resources).get_object()
            _Walk(self.page, own, inner, self.reader).run(form)


STEPS: dict[bytes, Callable[[_Walk, Any], None]] = {
    b"q": _Walk.push, b"Q": _Walk.pop, b"cm": _Walk.transform, b"m": _Walk.move, b"l": _Walk.line,
    b"h": _Walk.close, b"c": _Walk.curve, b"re": _Walk.rectangle, b"BT": _Walk.begin_text,
    b"Tf": _Walk.set_font, b"Tm": _Walk.set_text, b"Td": _Walk.move_text, b"Tj": _Walk.show,
    b"TJ": _Walk.show, b"Do": _Walk.form,
}  # fmt: skip


def _matrix(values: Any) -> Matrix:
    a, b, c, d, e, f = map(float, values)
    return a, b, c, d, e, f


def _widths(font: Any) -> dict[int, float]:
    descendant = font["/DescendantFonts"][0].get_object()
    found: dict[int, float] = {-1: float(descendant.get("/DW", 1000))}
    listed = list(descendant.get("/W", ()))
    while listed:
        first, second = int(listed.pop(0)), listed.pop(0)
        second = second.get_object() if hasattr(second, "get_object") else second
        if isinstance(second, list):
            found |= {first + index: float(width) for index, width in enumerate(second)}
        else:
            width = float(listed.pop(0))
            found |= dict.fromkeys(range(first, int(second) + 1), width)
    return found


def _run(parts: Any, widths: dict[int, float], font: str, size: float, matrix: Matrix) -> Run:
    total = 0.0
    for part in parts:
        if isinstance(part, int | float):
            total -= float(part)
            continue
        raw = part if isinstance(part, bytes) else part.original_bytes
        for index in range(0, len(raw), 2):
            total += widths.get(int.from_bytes(raw[index : index + 2], "big"), widths[-1])
    a, b, c, d, e, f = matrix
    along = math.hypot(a, b)
    return Run(e, f, size * math.hypot(c, d), font, size * total / 1000 * along, abs(b) > abs(a))


def _line(one: tuple[float, float], other: tuple[float, float], matrix: Matrix) -> Line:
    return Line(*_placed(one, matrix), *_placed(other, matrix))


def _placed(point: tuple[float, float], matrix: Matrix) -> tuple[float, float]:
    a, b, c, d, e, f = matrix
    return a * point[0] + c * point[1] + e, b * point[0] + d * point[1] + f


def boxes(page: Page) -> Iterator[tuple[float, float, float, float]]:
    """Left, right, top and bottom of each run, by its width and its capitals' height."""
    for run in page.runs:
        tall = 0.7 * run.size
        if run.upright:
            yield run.x - tall, run.x, run.y - run.width, run.y
        else:
            yield run.x, run.x + run.width, run.y - tall, run.y
