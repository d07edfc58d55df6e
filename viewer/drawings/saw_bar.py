"""One bar of a saw plan: a set-up's timber to scale, lettered, its running positions hung below it."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, field
from typing import Final

import svg

from soleplate.engine.building_file import Units, format_figure, format_length
from soleplate.viewer.drawings.frame import TAG_INK, TAG_PAPER
from soleplate.viewer.drawings.lettering import shortened, stacked, text_width
from soleplate.viewer.drawings.tones import SAW_TONES, saw_fill
from soleplate.viewer.lists import SetUp
from soleplate.viewer.words import Texts, money_text

_LINE: Final = 1.2
"""Of a line of text, in text sizes."""


@dataclass(frozen=True, slots=True)
class BarSheet:
    """What all bars of a drawing share: the size of lettering, mm, and the room on either side."""

    size: float
    reach: float
    before: float
    after: float
    units: Units
    priced: bool
    texts: Texts

    @property
    def high(self) -> int:
        """Of a bar, mm: two lines, or three where feet and inches go on lines of their own."""
        return round((2.7 if self.units == "mm" else 3.8) * self.size)

    @property
    def width(self) -> float:
        """Of the drawing, mm."""
        return self.before + self.reach + self.after


def words_of(bar: SetUp, units: Units, texts: Texts, *, priced: bool) -> list[str]:
    """What stands at the left of a bar."""
    like = bar.like
    stock = texts.lengths_alike.format(count=bar.count, length=format_length(like.stock_length, units))
    about = [texts.on_hand] if like.on_hand else []
    about += [texts.bent] if like.grade == "short" else []
    about += [texts.each.format(price=money_text(like.price))] if priced and like.price else []
    return [stock, ", ".join(about), texts.set_up.format(number=bar.number)]


def draw_bar(sheet: BarSheet, bar: SetUp, top: float) -> tuple[svg.G, float]:
    """A set-up with its upper edge at y 0 of its own group, and how much height it takes."""
    size = sheet.size
    lettered = _lettered(sheet, bar)
    above, up = _called_out(sheet, lettered.called)
    below, down = _positions(sheet, bar)
    marks = svg.G(
        fill=TAG_INK,
        pointer_events="none",
        extra={"text-anchor": "middle"}
        | (
            {"stroke": TAG_PAPER, "stroke-width": "0.3em", "paint-order": "stroke"}
            if bar.like.on_hand
            else {}
        ),
        elements=[svg.G(extra={"font-weight": "bold"}, elements=lettered.marks), *lettered.lengths],
    )
    drawn = svg.G(
        class_=["set-up"],
        transform=[svg.Translate(0, round(top + up))],
        data={"set-up": bar.number},
        elements=[_timber(sheet, bar), marks, *above, *below, *_beside(sheet, bar)],
    )
    return drawn, up + max(sheet.high + down, 3.4 * size) + 0.9 * size


def _timber(sheet: BarSheet, bar: SetUp) -> svg.G:
    texts, units, like = sheet.texts, sheet.units, bar.like
    tone = "on-hand" if like.on_hand else "bought"
    lost = [(0.0, bar.trim, texts.trimmed_off), (like.stock_length - bar.trim, bar.trim, texts.trimmed_off)]
    lost.append((bar.offcut_from, like.offcut, texts.offcut_title))
    rest: list[svg.Element] = [
        _rect(sheet, start, length, title.format(length=format_length(length, units)))
        for start, length, title in lost
        if length > 0
    ]
    pieces: list[svg.Element] = [
        _rect(
            sheet,
            piece.start,
            piece.length,
            texts.cut_title.format(
                marks=", ".join(bar.marks(index)),
                length=format_length(piece.length, units),
                start=format_figure(piece.start, units),
                end=format_figure(piece.end, units),
            ),
        )
        for index, piece in enumerate(bar.sawn[0])
    ]
    whole = svg.Rect(x=0, width=like.stock_length, height=sheet.high, fill=TAG_INK)
    left_over = svg.G(class_=["offcuts"], fill=saw_fill("offcut"), elements=rest)
    cuts = svg.G(class_=["cuts"], fill=saw_fill(tone), elements=pieces)
    grounds: list[svg.Element] = []
    if like.on_hand:
        grounds.append(_ground(sheet, [(piece.start, piece.length) for piece in bar.sawn[0]], tone))
    if rest:
        grounds.append(_ground(sheet, [(start, length) for start, length, _ in lost], "offcut"))
    return svg.G(stroke=TAG_INK, elements=[whole, *grounds, *([left_over] if rest else []), cuts])


def _ground(sheet: BarSheet, stretches: Sequence[tuple[float, float]], tone: str) -> svg.G:
    """Plain ground under a pattern, or the dark bar would show between the pattern's tiles."""
    drawn: list[svg.Element] = [
        svg.Rect(x=start, width=length, height=sheet.high) for start, length in stretches if length > 0
    ]
    return svg.G(fill=SAW_TONES[tone].ground, stroke="none", elements=drawn)


def _rect(sheet: BarSheet, start: float, length: float, title: str) -> svg.Rect:
    return svg.Rect(x=start, width=length, height=sheet.high, elements=[svg.Title(text=title)])


@dataclass(frozen=True, slots=True)
class _Lettered:
    """The marks and lengths that fit into their pieces, and those to call out above, by their middles."""

    marks: list[svg.Element] = field(default_factory=list)
    lengths: list[svg.Element] = field(default_factory=list)
    called: list[tuple[float, str]] = field(default_factory=list)


def _lettered(sheet: BarSheet, bar: SetUp) -> _Lettered:
    size, found = sheet.size, _Lettered()
    for index, piece in enumerate(bar.sawn[0]):
        middle, room = (piece.start + piece.end) / 2, piece.length - 0.4 * size
        choices = list(_marks_said(bar.marks(index), sheet.texts))
        marks = next((said for said in choices if figures_width(said, 1.1 * size) <= room), None)
        if marks is None and room > 12 * size:
            marks = shortened(choices[-1], 1.1 * size, room)
        length = format_figure(piece.length, sheet.units)
        lines = [length] if figures_width(length, size) <= room else length.replace("ft ", "ft\n").split("\n")
        if marks is None or max(figures_width(line, size) for line in lines) > room:
            called = shortened(choices[-1], size, 12 * size)
            found.called.append((middle, f"{called} {length}"))
            continue
        y = (sheet.high - _LINE * len(lines) * size) / 2
        found.marks.append(plain(marks, middle, y, size))
        found.lengths.extend(
            plain(line, middle, y + _LINE * (index + 1) * size, size) for index, line in enumerate(lines)
        )
    return found


def _marks_said(marks: Sequence[str], texts: Texts) -> Iterator[str]:
    """All marks, or the first and how many others there are."""
    yield " ".join(marks)
    if len(marks) > 1:
        yield texts.alike.format(mark=marks[0], others=len(marks) - 1)


def _called_out(sheet: BarSheet, called: Sequence[tuple[float, str]]) -> tuple[list[svg.Element], float]:
    """Texts above the bar, each with a line down into its piece, and the height they take."""
    size = sheet.size
    drawn, rows = _hung(sheet, called, lambda row: -(0.6 + _LINE * row) * size, 0.4 * size)
    return drawn, (_LINE * rows + 0.3) * size if rows else 0.0


def _positions(sheet: BarSheet, bar: SetUp) -> tuple[list[svg.Element], float]:
    """The running position at each saw line, below the bar, and the height they take."""
    size, whole = sheet.size, bar.like.stock_length
    at = sorted(piece.saw_at for piece in bar.sawn[0] if 0 < piece.saw_at < whole)
    named = [(x, format_figure(x, sheet.units)) for x in at]
    drawn, rows = _hung(sheet, named, lambda row: sheet.high + (0.7 + _LINE * row) * size, sheet.high)
    return drawn, _LINE * rows * size


def _hung(
    sheet: BarSheet, named: Sequence[tuple[float, str]], height: Callable[[int], float], foot: float
) -> tuple[list[svg.Element], int]:
    """Texts that end at their places' lines, which run from `foot`, and how many rows they take."""
    if not named:
        return [], 0
    size, left = sheet.size, sheet.size - sheet.before
    widths = [figures_width(text, size) + 0.25 * size for _, text in named]
    places = stacked([(x, w) for (x, _), w in zip(named, widths, strict=True)], left, 0.25 * size)
    texts: list[svg.Element] = []
    lines: list[svg.PathData] = []
    for (x, text), width, (start, row) in zip(named, widths, places, strict=True):
        texts.append(plain(text, start + width - 0.25 * size, height(row), size))
        far = height(row) + (0.45 if height(row) > foot else -0.45) * size
        lines += [svg.M(x, foot), svg.V(round(far))]
    return [
        svg.Path(d=lines, stroke="currentColor"),
        svg.G(extra={"text-anchor": "end"}, elements=texts),
    ], 1 + max(row for _, row in places)


def _beside(sheet: BarSheet, bar: SetUp) -> list[svg.Element]:
    """What the lengths are at the left, the offcut at the right, a wedge at each factory end kept."""
    size, texts = sheet.size, sheet.texts
    whole, middle = bar.like.stock_length, sheet.high / 2
    stock, *about = words_of(bar, sheet.units, texts, priced=sheet.priced)
    left = size - sheet.before
    drawn = [plain(stock, left, 0.5 * size, size, bold=True)]
    drawn += [
        plain(line, left, (1.65 + 1.15 * index) * size, size) for index, line in enumerate(about) if line
    ]
    if bar.like.offcut >= 0.5:
        said = (texts.offcut, format_length(bar.like.offcut, sheet.units))
        drawn += [
            plain(text, whole + 1.4 * size, (0.75 + 1.15 * index) * size, size)
            for index, text in enumerate(said)
        ]
    wedges: list[svg.Element] = []
    for index, piece in enumerate(bar.sawn[0]):
        title = texts.factory_end.format(mark=", ".join(bar.marks(index)))
        if piece.kept in ("start", "both"):
            wedges.append(wedge(size, -0.2 * size, middle, -1.0, title))
        if piece.kept in ("finish", "both"):
            wedges.append(wedge(size, whole + 0.2 * size, middle, 1.0, title))
    return [*drawn, *wedges]


def wedge(size: float, x: float, y: float, way: float, title: str) -> svg.Polygon:
    """A factory end's sign, its point at (x, y) and its back to the right, or with -1 to the left."""
    corners = ((x, y), (x + 0.9 * way * size, y - 0.6 * size), (x + 0.9 * way * size, y + 0.6 * size))
    return svg.Polygon(
        points=[svg.Point(round(corner[0]), round(corner[1])) for corner in corners],
        class_=["factory"],
        elements=[svg.Title(text=title)] if title else [],
    )


def figures_width(text: str, size: float) -> float:
    """As `text_width`, of figures mostly: in every usual font these characters are much narrower."""
    return text_width(text, size) - 0.25 * size * sum(character in " /fti.," for character in text)


def plain(text: str, x: float, y: float, size: float, *, bold: bool = False) -> svg.Text:
    """A line of text of the drawing's own size, anchored as its group is, its middle about at y."""
    return svg.Text(x=round(x), y=round(y + 0.35 * size), font_weight="bold" if bold else None, text=text)
