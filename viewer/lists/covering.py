"""What is said of a slope's covering, for the page and the sheets."""

from __future__ import annotations

import math

from soleplate.engine.building_file import Units, format_length
from soleplate.engine.layout import SlopeOut
from soleplate.viewer.words import Texts


def covering_said(slope: SlopeOut, units: Units, texts: Texts) -> list[str]:
    """Count, order, cuts, reach and battens of a slope's covering, in sentences; none without one."""
    covering, said = slope.covering, texts.covering
    if covering is None:
        return []
    first, last = covering.parts[0], covering.parts[-1]
    wide = max(first.right, last.right) - min(first.left, last.left)
    tall = last.top - first.bottom
    lines = [
        said.count[covering.kind].format(
            count=len(covering.parts),
            width=format_length(covering.width, units),
            length=format_length(covering.piece_length, units),
            area=f"{covering.area_m2:.2f}",
        ),
        said.order[covering.kind].format(
            corner=texts.sides["left" if starts_left(slope) else "right"],
            lap=format_length(covering.lap, units),
            diagonal=format_length(math.hypot(wide, tall), units),
        ),
    ]
    lines += [
        said.cut.format(number=number, width=format_length(part.cut_to, units))
        for number, part in enumerate(covering.parts, 1)
        if part.cut_to is not None
    ]
    if covering.overhang:
        lines.append(said.overhang.format(overhang=format_length(covering.overhang, units)))
    else:
        lines.append(said.flush)
    sides = -min(first.left, last.left)
    lines.append(
        said.reach.format(eaves=format_length(-first.bottom, units), sides=format_length(sides, units))
    )
    if covering.kind == "sheet":
        lines.append(said.weather.format(corner=texts.sides["left" if starts_left(slope) else "right"]))
    if covering.gauge is not None and covering.first_batten is not None:
        lines.append(
            said.battens.format(
                count=covering.battens,
                first=format_length(covering.first_batten - first.bottom, units),
                gauge=format_length(covering.gauge, units),
            )
        )
    if slope.openings:
        lines.append(said.windows.format(windows=", ".join(each.name for each in slope.openings)))
    return lines


def starts_left(slope: SlopeOut) -> bool:
    """Whether the covering is laid from the left, seen from outside."""
    parts = slope.covering.parts if slope.covering is not None else ()
    return len(parts) < 2 or parts[0].left <= parts[1].left
