"""What is laid between and over a part's timbers, in square metres, what braces a wall and holds it down."""

from __future__ import annotations

import itertools
from collections.abc import Iterator

from soleplate.engine.building_file import Units, format_length
from soleplate.engine.layout import WallOut
from soleplate.viewer.drawings import LaidFloor
from soleplate.viewer.markup import Markup, element, joined
from soleplate.viewer.words import Texts, anchor_text, brace_text


def areas(wall: WallOut, units: Units, texts: Texts) -> Markup:
    """What its deck, insulation and vapour layer come to; empty where there is none."""
    said = [element("li", line) for line in _areas(wall, units, texts)]
    if not said:
        return Markup("")
    return joined(element("h3", texts.areas), element("ul", *said, class_="to-note"))


def _areas(wall: WallOut, units: Units, texts: Texts) -> Iterator[str]:
    if isinstance(wall, LaidFloor) and wall.floor.deck_m2:
        yield texts.deck_area.format(area=f"{wall.floor.deck_m2:.2f}")
    if wall.insulation is not None and wall.insulation_m2 is not None:
        thickness = format_length(wall.insulation, units)
        yield texts.insulation_area.format(thickness=thickness, area=f"{wall.insulation_m2:.2f}")
    if wall.vapour_m2 is not None:
        yield texts.vapour_area.format(area=f"{wall.vapour_m2:.2f}")


def held_down(wall: WallOut, units: Units, texts: Texts) -> Markup:
    """Where its sole plates are held down, and by what; empty where nothing was asked for."""
    if not wall.anchors:
        return Markup("")
    kinds = itertools.groupby(wall.anchors, lambda each: anchor_text(each, units, texts))
    said = (f"{kind}: {', '.join(each.display for each in anchors)}" for kind, anchors in kinds)
    return joined(
        element("h3", texts.held_down),
        element("ul", *(element("li", line) for line in said), class_="to-note"),
    )


def bracing(wall: WallOut, units: Units, texts: Texts) -> Markup:
    """What keeps it from racking besides sheets; empty where nothing was asked for."""
    if not wall.braces:
        return Markup("")
    said = (element("li", brace_text(brace, units, texts)) for brace in wall.braces)
    return joined(element("h3", texts.bracing), element("ul", *said, class_="to-note"))
