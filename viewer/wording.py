"""What the layout's values read like: sections, ends, weights, names of places on the page."""

from __future__ import annotations

from urllib.parse import quote

from soleplate.engine.layout import CutEnd
from soleplate.engine.units import Units, format_figure, format_length
from soleplate.viewer.serialise import figure
from soleplate.viewer.texts import Texts


def wall_id(name: str) -> str:
    """The page's id of a wall's section, the same in a link: `wall-front`; distinct for distinct names."""
    return f"wall-{quote(name, safe='')}"


def section_text(section: tuple[float, float], units: Units) -> str:
    """A section, breadth by depth: `45 × 70 mm`, `1 1/2 in × 3 1/2 in`."""
    breadth, depth = section
    return f"{format_figure(breadth, units)} × {format_length(depth, units)}"


def size_text(width: float, height: float, units: Units) -> str:
    """A width by a height, in whole millimetres without the unit as on a drawing, or in feet and inches."""
    return f"{format_figure(width, units)} × {format_figure(height, units)}"


def small_length(mm: float, units: Units) -> str:
    """A tolerance or an exact bay: to a tenth of a millimetre, or to a sixteenth of an inch."""
    return f"{figure(round(mm, 1))} mm" if units == "mm" else format_length(mm, units)


def weight_text(weight_kg: float) -> str:
    """A weight to a tenth of a kilogram."""
    return f"{weight_kg:.1f} kg"


def end_text(end: CutEnd, texts: Texts) -> str:
    """How an end is cut: `6° bevel, long point left, fresh cut`."""
    if end.cut == "square":
        cut = texts.square
    elif end.cut == "bevel":
        side = texts.sides[end.long_point] if end.long_point else ""
        cut = texts.bevel.format(angle=figure(end.angle or 0.0), side=side)
    else:
        angles = " / ".join(f"{figure(angle)}°" for angle in end.angles or ())
        cut = texts.cuts[end.cut].format(angles=angles)
    return f"{cut} ({texts.made[end.end]})" if end.end else cut


def ends_text(ends: tuple[CutEnd, CutEnd], texts: Texts) -> str:
    """Both ends of a piece in one line; an upright's are its foot and its head."""
    first, second = (end_text(end, texts) for end in ends)
    if first == second:
        return texts.both_ends.format(end=first)
    names = texts.end_pair[any(end.end for end in ends)]
    return texts.two_ends.format(
        first=texts.end_named.format(name=names[0], end=first),
        second=texts.end_named.format(name=names[1], end=second),
    )
