"""The storey rod: every course's edge on one upright stick, to scale, to be held against each wall."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Final, NamedTuple

import svg

from soleplate.engine.building_file import format_figure
from soleplate.engine.layout import CutOut, Layout, RodCourse
from soleplate.viewer.drawings.lettering import FONTS, lettering, text_width
from soleplate.viewer.markup import svg_text
from soleplate.viewer.words import ENGLISH, Texts

WIDE: Final = 90.0
"""Of the drawn rod, mm."""

INK: Final = "#2b2d30"
PAPER: Final = "#fffdf8"
ROD: Final = "#f6e3bd"
NOTCH: Final = "#8a3a00"

LEAST_PIXELS: Final = 10.5
"""Of lettering on a screen."""


def storey_rod_svg(layout: Layout, texts: Texts = ENGLISH) -> str:
    """Draw the storey rod; 1 unit is 1 mm, y 0 the underside of the sole plate.

    Walls with courses of their own have a rod of their own, as have linings. Each course has its number on
    the rod and the height of its lower edge beside it; edges of openings are marked where boards are notched,
    with their height over the course's lower edge.

    Raises:
        ValueError: no wall is clad or lined in courses.
    """
    rods = rods_of(layout)
    if not rods:
        raise ValueError("no wall is clad or lined in courses")
    every = [course for rod in rods for course in rod.courses]
    size = _size(every)
    parts: list[svg.Element] = []
    left = 0.0
    for rod in rods:
        drawn, wide = _rod(rod, layout, left, size, texts)
        parts += drawn
        left += wide
    bottom, top = _reach(every)
    head = 4.2 * size
    title = texts.storey_rod.format(name=layout.name)
    wide = max(left, text_width(title, 1.1 * size) + 2 * size)
    view = svg.ViewBoxSpec(-2 * size, -top - head, wide + 2 * size, top - bottom + head + 1.5 * size)
    paper = svg.Rect(x=view.min_x, y=view.min_y, width=view.width, height=view.height, fill=PAPER)
    heading = lettering(title, -size, -top - head + 1.2 * size, 1.1 * size, anchor="start")
    scale = LEAST_PIXELS / size
    return svg_text(
        svg.SVG(
            viewBox=view,
            width=round(float(view.width) * scale),
            height=round(float(view.height) * scale),
            class_=["storey-rod"],
            extra={"role": "group", "aria-label": title},
            elements=[
                svg.Title(text=title),
                paper,
                svg.G(fill=INK, extra={"font-family": FONTS}, elements=[heading, *parts]),
            ],
        )
    )


class Rod(NamedTuple):
    """One rod: its courses, upwards, and whether they are those of linings."""

    courses: Sequence[RodCourse]
    lining: bool

    def name(self, texts: Texts) -> str:
        """The walls that it serves, in words."""
        walls = ", ".join(self.courses[0].walls)
        return texts.rod_of_lining.format(walls=walls) if self.lining else walls


def rods_of(layout: Layout) -> list[Rod]:
    """All rods: walls with other cladding have a rod of their own; those of linings come last."""
    return [
        Rod(courses, lining)
        for all_, lining in ((layout.storey_rod, False), (layout.lining_rod, True))
        for courses in _parted(all_)
    ]


def _parted(courses: Sequence[RodCourse]) -> list[list[RodCourse]]:
    rods: list[list[RodCourse]] = []
    for course in courses:
        own = next((rod for rod in rods if set(rod[0].walls) >= set(course.walls)), None)
        if own is None:
            rods.append([course])
        else:
            own.append(course)
    return rods


def _reach(courses: Sequence[RodCourse]) -> tuple[float, float]:
    return min(0.0, *(course.bottom for course in courses)), max(course.top for course in courses)


def _size(courses: Sequence[RodCourse]) -> float:
    """Of the lettering: what two neighbouring edges leave room for, within reason."""
    return min(max(min(course.seen for course in courses) * 0.62, 24.0), 60.0)


def _rod(rod: Rod, layout: Layout, left: float, size: float, texts: Texts) -> tuple[list[svg.Element], float]:
    """One rod with what stands beside it, and how wide it all is, mm."""
    courses, name = rod.courses, rod.name(texts)
    bottom, top = _reach(courses)
    parts: list[svg.Element] = [
        lettering(name, left, -top - 1.4 * size, 0.9 * size, anchor="start"),
        svg.Rect(x=left, y=-top, width=WIDE, height=top - bottom, fill=ROD, stroke=INK, stroke_width=4),
    ]
    beside = left + WIDE + 0.5 * size
    widest = text_width(name, 0.9 * size)
    for course in courses:
        parts += _course(course, left, size)
        edge = texts.rod_course.format(bottom=course.display, seen=format_figure(course.seen, layout.units))
        parts.append(lettering(edge, beside, -course.bottom - 0.55 * size, size, anchor="start"))
        widest = max(widest, WIDE + 0.5 * size + text_width(edge, size))
    ground = [svg.Point(left - size, 0), svg.Point(left + WIDE + 0.35 * size, 0)]
    parts.append(svg.Polyline(points=ground, stroke=INK, stroke_width=8, fill="none"))
    notes = left + widest + size
    widest += size
    for (wall, opening, edge_name), at, over in notches_of(courses):
        said = texts.rod_notch.format(wall=wall, opening=opening, edge=edge_name, over=over)
        for start, end in ((left, left + WIDE), (notes - size, notes - 0.3 * size)):
            ends = [svg.Point(start, -at), svg.Point(end, -at)]
            parts.append(
                svg.Polyline(points=ends, stroke=NOTCH, stroke_width=6, stroke_dasharray=[18, 8], fill="none")
            )
        parts.append(lettering(said, notes, -at, 0.8 * size, anchor="start"))
        widest = max(widest, notes - left + text_width(said, 0.8 * size))
    return parts, widest + 2.5 * size


def _course(course: RodCourse, left: float, size: float) -> Iterator[svg.Element]:
    ends = [svg.Point(left, -course.bottom), svg.Point(left + WIDE + 0.35 * size, -course.bottom)]
    yield svg.Polyline(points=ends, stroke=INK, stroke_width=5, fill="none")
    yield lettering(f"{course.number}", left + WIDE / 2, -(course.bottom + course.top) / 2, size)


def notches_of(courses: Sequence[RodCourse]) -> Iterator[tuple[tuple[str, str, str], float, str]]:
    """Each edge of an opening within a course, those at one height together."""
    found: dict[float, list[CutOut]] = {}
    for course in courses:
        for cut_out in course.cut_outs:
            found.setdefault(cut_out.at, []).append(cut_out)
    for at, alike in sorted(found.items()):
        names = tuple(
            ", ".join(dict.fromkeys(getattr(cut_out, name) for cut_out in alike))
            for name in ("wall", "opening", "edge")
        )
        yield (names[0], names[1], names[2]), at, alike[0].display
