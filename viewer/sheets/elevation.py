"""A wall on a sheet: at the largest standard scale that fits, its lettering as large as paper asks."""

from __future__ import annotations

import itertools
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Final, NamedTuple

import svg

from soleplate.engine.layout import Layout, Piece, WallOut
from soleplate.engine.shapes import bounds
from soleplate.viewer.drawings import (
    PANEL_ROOM,
    TAG_INK,
    Face,
    LaidFloor,
    LaidSlope,
    LetteringBox,
    Places,
    anchor_marks,
    apex_mark,
    break_lines,
    breaks_of,
    draw_openings,
    draw_pieces,
    drawn_as,
    label_openings,
    label_pieces,
    lettering,
    level_string,
    panel_numbers,
    rows_below,
    strap_marks,
    tone_patterns,
    verges,
)
from soleplate.viewer.paper import FIGURES, SCALES, Page, PaperName, scale_text
from soleplate.viewer.sheets.hung_tape import hung_tape
from soleplate.viewer.sheets.parts import SheetPart, parted, shown_of, whole, within
from soleplate.viewer.sheets.picture import Picture, picture
from soleplate.viewer.sheets.strings import BESIDE, height_beside, match_line
from soleplate.viewer.words import Texts

LETTERING: Final = FIGURES / 0.9
"""On the sheet, mm: what the drawings' smallest lettering, nine tenths of it, needs to be tall enough."""

LARGEST_PARTED: Final = 20
"""The scale from which a wall is parted on which marks would cover each other or whole pieces."""

MOST_COVERED: Final = 0.1
"""Share of a wall's pieces whose marks may cover another a little; none may in a floor or a slope."""

HIDDEN: Final = 0.9
"""Of a piece, the share under marks from which it is hidden."""

MOST_PARTS: Final = 6
"""A wall that would take more sheets than this for its marks' sake is left whole."""

SMALLEST_WHOLE: Final = 50
"""A wall that would be smaller than 1 to this is parted instead, since its marks would crowd."""


@dataclass(frozen=True, slots=True)
class Elevation:
    """A wall drawn on one sheet, or the sheets of its parts."""

    page: Page
    scale: int
    parts: tuple[tuple[SheetPart, Picture], ...]


def elevation(
    wall: WallOut, layout: Layout, rows: Mapping[str, int], paper: PaperName, texts: Texts
) -> Elevation:
    """Draw a wall at the largest scale at which it fits a sheet, upright where that does as well.

    A wall for which that would be smaller than `SMALLEST_WHOLE`, or on which marks would then hide a piece
    or many of them cover each other, is parted at match lines.
    """
    made = _Making(wall, layout, rows, paper, texts)
    found = made.whole()
    if found is None:
        return made.in_parts(SMALLEST_WHOLE)[0]
    drawn, lost = found
    most = 0.0 if isinstance(wall, LaidFloor | LaidSlope) else MOST_COVERED * len(wall.pieces)
    if drawn.scale > LARGEST_PARTED and (lost.hidden or lost.crowded > most):
        parted_, less = made.in_parts(LARGEST_PARTED)
        if less < lost and len(parted_.parts) <= MOST_PARTS:
            return parted_
    return drawn


class _Lost(NamedTuple):
    """What marks cost on a drawing: how many pieces they hide, and how many cover each other."""

    hidden: int
    crowded: int


@dataclass(frozen=True, slots=True)
class _Making:
    """What a wall is drawn from; what marks cover is counted with each drawing."""

    wall: WallOut
    layout: Layout
    rows: Mapping[str, int]
    paper: PaperName
    texts: Texts

    def whole(self) -> tuple[Elevation, _Lost] | None:
        """On one sheet, at no smaller scale than `SMALLEST_WHOLE`; `None` where it fits none."""
        for scale in SCALES[: SCALES.index(SMALLEST_WHOLE) + 1]:
            for landscape in (False, True):
                page = Page(self.paper, landscape=landscape)
                if self.wall.length + self._beside(scale) <= page.room[0] * scale:
                    part = whole(self.wall)
                    drawn, lost = self.draw(scale, part)
                    if drawn.height <= page.room[1]:
                        return Elevation(page, scale, ((part, drawn),)), lost
        return None

    def in_parts(self, largest: int) -> tuple[Elevation, _Lost]:
        """In parts, at the largest scale from `largest` on at which all fit in height."""
        for scale in SCALES[SCALES.index(largest) :]:
            for landscape in (True, False):
                page = Page(self.paper, landscape=landscape)
                parts = parted(self.wall, page.room[0] * scale - self._beside(scale))
                drawn = [self.draw(scale, part) for part in parts]
                if max(picture.height for picture, _ in drawn) <= page.room[1]:
                    pictures = [picture for picture, _ in drawn]
                    hidden, crowded = (
                        sum(counts) for counts in zip(*(lost for _, lost in drawn), strict=True)
                    )
                    shown = tuple(zip(parts, pictures, strict=True))
                    return Elevation(page, scale, shown), _Lost(hidden, crowded)
        raise ValueError(f"wall {self.wall.name!r} fits no sheet")

    def _beside(self, scale: float) -> float:
        """What stands beside the wall's ends, mm: its heights, and of a slope its verges."""
        return 2 * BESIDE * LETTERING * scale + sum(verges(self.wall))

    def draw(self, scale: int, part: SheetPart) -> tuple[Picture, _Lost]:
        """A part of the wall at a scale."""
        return _draw(self.wall, self.layout, self.rows, scale, part, self.texts)


def _draw(
    wall: WallOut, layout: Layout, rows: Mapping[str, int], scale: int, part: SheetPart, texts: Texts
) -> tuple[Picture, _Lost]:
    face = Face(within(wall, part), "outside", layout.units, texts, LETTERING * scale)
    size = face.size
    tall = max(z for x, z in _top_line(wall, part))
    apex = _apex(wall, part)
    top = -tall - (2.0 if apex else 0.7 + PANEL_ROOM if wall.panels else 0.7) * size
    places = Places(4 * size)
    parts = [*_timbers(face, part, rows, places), *_heights(face, wall, part, apex)]
    parts += [
        *break_lines(face, left=part.left, right=part.right),
        *panel_numbers(face, places, left=part.left, right=part.right),
    ]
    strip = hung_tape(face, part, 0.7 * size)
    strings, foot = level_strings(face, part, strip.bottom)
    parts += [*strip.drawn, *strings, *match_lines(face, part, top, foot)]
    start, end = shown_of(wall, part)
    left, right = start - BESIDE * size, end + BESIDE * size
    view = left, top, right - left, foot - top
    said = texts.seen_outside.format(wall=wall.name)
    alt = texts.sheets.elevation_alt.format(
        seen=said, scale=scale_text(scale), length=wall.display, pieces=len(wall.pieces)
    )
    roles = [drawn_as(piece) for piece in face.wall.pieces]
    lost = _Lost(sum(_share_covered(piece, places) > HIDDEN for piece in face.frame), places.crowded)
    return picture(parts, view, alt, scale=scale, defs=[tone_patterns(roles)]), lost


def _share_covered(piece: Piece, places: Places) -> float:
    left, right, bottom, top = bounds(piece.outline)
    return places.share_covered(LetteringBox(left, right, -top, -bottom))


def _timbers(face: Face, part: SheetPart, rows: Mapping[str, int], places: Places) -> list[svg.Element]:
    named = tuple(o for o in face.wall.openings if part.left <= (o.left + o.right) / 2 <= part.right)
    labelled = replace(face, wall=replace(face.wall, openings=named))
    cut = [] if part.count == 1 else [cut_off(face, part)]
    over = 0.6 * face.size
    start, end = shown_of(face.wall, part)
    between = start - over * part.begins, end + over * part.ends
    shapes: list[svg.Element] = [
        svg.G(stroke=TAG_INK, stroke_width=0.05 * face.size, elements=draw_pieces(face, rows)),
        *strap_marks(face),
        *anchor_marks(face),
        svg.G(elements=draw_openings(face)),
    ]
    return [
        *cut,
        svg.G(clip_path="url(#part)" if cut else None, elements=shapes),
        svg.G(fill=TAG_INK, elements=label_openings(labelled, places, between)),
        svg.G(fill=TAG_INK, extra={"font-weight": "bold"}, elements=label_pieces(face, places, between)),
    ]


def cut_off(face: Face, part: SheetPart) -> svg.ClipPath:
    """What leaves the stretch between the match lines is not drawn."""
    heights = [z for piece in face.wall.pieces for _, z in piece.outline]
    low, high = min(heights) - face.size, max(heights) + face.size
    start, end = shown_of(face.wall, part)
    shown = svg.Rect(x=start, y=-high, width=end - start, height=high - low)
    return svg.ClipPath(id="part", elements=[shown])


def _top_line(wall: WallOut, part: SheetPart) -> Sequence[tuple[float, float]]:
    """The wall's top within a part, its ends included."""
    inner = [point for point in wall.top_line if part.left <= point[0] <= part.right]
    return [(part.left, _top_at(wall, part.left)), *inner, (part.right, _top_at(wall, part.right))]


def _top_at(wall: WallOut, x: float) -> float:
    for (x0, z0), (x1, z1) in itertools.pairwise(wall.top_line):
        if x0 <= x <= x1 and x1 > x0:
            return z0 + (x - x0) / (x1 - x0) * (z1 - z0)
    return wall.top_line[-1][1]


def _apex(wall: WallOut, part: SheetPart) -> tuple[float, float] | None:
    """The wall's highest point where that is above both its ends, and in this part."""
    x, z = max(wall.top_line, key=lambda point: point[1])
    ends = wall.top_line[0][1], wall.top_line[-1][1]
    return (x, z) if z > max(ends) + 0.5 and part.left <= x <= part.right else None


def _heights(
    face: Face, wall: WallOut, part: SheetPart, apex: tuple[float, float] | None
) -> list[svg.Element]:
    drawn = []
    start, end = shown_of(wall, part)
    if part.begins:
        drawn += height_beside(face, wall.top_line[0][1], start, -1.0)
    if part.ends:
        drawn += height_beside(face, wall.top_line[-1][1], end, 1.0)
    return drawn + (apex_mark(face, *apex) if apex else [])


def level_strings(face: Face, part: SheetPart, top: float) -> tuple[list[svg.Element], float]:
    """Openings' edges where there are any, the panels, and the length; of a part what lies within it."""
    size, length = face.size, face.length
    edges = {x for opening in face.wall.openings for x in (opening.left, opening.right)}
    ends = ([part.left] if part.begins else []) + ([part.right] if part.ends else [])
    stops = sorted({*ends, *(edge for edge in edges if part.left < edge < part.right)})
    drawn: list[svg.Element] = []
    if len(stops) > len(ends) and len(stops) > 1:
        top += 1.4 * size
        drawn += level_string(face, stops, top)
        top += 0.77 * rows_below(face, stops) * size
    if breaks := [x for x in breaks_of(face.wall) if part.left < x < part.right]:
        top += 1.4 * size
        drawn += level_string(face, sorted({*ends, *breaks}), top)
    if part.count > 1:
        return drawn, top + 0.3 * size
    top += 1.4 * size
    return drawn + level_string(face, (0.0, length), top), top + 0.3 * size


def match_lines(face: Face, part: SheetPart, top: float, foot: float) -> list[svg.Element]:
    """A chain line where the wall goes on, named along it by a letter on both sheets."""
    drawn: list[svg.Element] = []
    for x, number, outwards in ((part.left, part.number - 1, -1.0), (part.right, part.number, 1.0)):
        if 0 < number < part.count:
            said = face.texts.sheets.match_line.format(letter=letter(number))
            beside = x + 0.9 * outwards * face.size
            drawn.append(match_line(face, x, top, foot))
            drawn.append(lettering(said, beside, top / 2, 0.9 * face.size, turned=True))
    return drawn


def letter(number: int) -> str:
    """A, B, ... Z, AA, AB, ... for 1, 2, ... 26, 27, 28, ..."""
    name = ""
    while number > 0:
        number, rest = divmod(number - 1, 26)
        name = chr(ord("A") + rest) + name
    return name
