"""What the layout's values read like: sections, ends, weights, names of places on the page."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final
from urllib.parse import quote

from soleplate.engine.building_file import Units, format_figure, format_length
from soleplate.engine.layout import (
    AnchorOut,
    BraceOut,
    BuyingRow,
    CutEnd,
    CuttingRow,
    GoodsRow,
    NotchOut,
    OpeningOut,
    PlateLength,
    Taper,
)
from soleplate.viewer.markup import figure
from soleplate.viewer.words.texts import Texts

LONG_POINTS_OF_UPRIGHTS: Final = frozenset({"left", "right", "middle"})
"""All else has its long points on top or below."""


SMALL: Final = 100.0
"""mm. Goods are called by a tenth of a millimetre up to here."""


def wall_id(name: str) -> str:
    """The page's id of a wall's section, the same in a link: `wall-front`; distinct for distinct names."""
    return f"wall-{quote(name, safe='')}"


def finding_id(wall: str, number: int) -> str:
    """The page's id of a finding in its wall's list, where they are counted from 1."""
    return f"{wall_id(wall)}-finding-{number}"


def section_text(section: tuple[float, float], units: Units) -> str:
    """A section, breadth by depth: `45 × 70 mm`, `1 1/2 in × 3 1/2 in`."""
    breadth, depth = section
    return f"{format_figure(breadth, units)} × {format_length(depth, units)}"


def role_text(role: str, texts: Texts) -> str:
    """What a piece or a plate is called; of a row of the cutting list its roles, joined by commas."""
    return ", ".join(texts.role_names.get(each, each) for each in role.split(", "))


def plate_text(length: PlateLength, texts: Texts) -> str:
    """What a plate with running marks is called, or what lies over an opening and has some."""
    called = role_text(length.plate, texts)
    return called if length.over is None else texts.plate_over.format(plate=called, opening=length.over)


def size_text(width: float, height: float, units: Units) -> str:
    """A width by a height, in whole millimetres without the unit as on a drawing, or in feet and inches."""
    return f"{format_figure(width, units)} × {format_figure(height, units)}"


def clear_text(opening: OpeningOut, units: Units) -> str:
    """The size that linings leave of an opening; nothing of one without."""
    finish = opening.finish
    return "" if finish is None else size_text(finish.clear_width, finish.clear_height, units)


def small_length(mm: float, units: Units) -> str:
    """A tolerance or an exact bay: to a tenth of a millimetre, or to a sixteenth of an inch."""
    return f"{figure(round(mm, 1))} mm" if units == "mm" else format_length(mm, units)


def weight_text(weight_kg: float) -> str:
    """A weight to a tenth of a kilogram."""
    return f"{weight_kg:.1f} kg"


def money_text(amount: float) -> str:
    """An amount in the builder's own money, to the hundredth."""
    return f"{amount:.2f}"


def timber_text(section: tuple[float, float] | None, material: str | None, units: Units) -> str:
    """What a length is of: `45 × 70 mm C16`; empty where neither is told."""
    return " ".join([*([section_text(section, units)] if section else []), *([material] if material else [])])


def stuff_text(row: CuttingRow | BuyingRow, units: Units, texts: Texts) -> str:
    """What the pieces of a row are of; of strips of sheet that they are such."""
    said = timber_text(row.section, row.material, units)
    return f"{said}, {texts.strip_of_sheet}" if row.of_sheet else said


def goods_text(row: GoodsRow, units: Units, texts: Texts) -> str:
    """What sort of goods it is, and its boxes: `nail, 3.1 × 90 mm, 4 boxes of 100`."""
    said = _sized(row.kind, row.size, units, texts)
    if row.box is None:
        return said
    boxes = texts.box_of if row.boxes == 1 else texts.boxes_of
    return f"{said}, {boxes.format(count=row.boxes, box=row.box)}"


def anchor_text(anchor: AnchorOut, units: Units, texts: Texts) -> str:
    """What holds a sole plate down: `anchor bolt, 12 × 250 mm`."""
    return _sized(anchor.kind, (anchor.diameter, anchor.length), units, texts)


def brace_text(brace: BraceOut, units: Units, texts: Texts) -> str:
    """What a brace is, where it runs, and how it is fixed, in one line."""
    said = texts.brace_said.format(
        what=" ".join([texts.brace_kinds[brace.kind], *brace.pieces]),
        way=texts.sides[brace.rises],
        angle=figure(round(brace.angle, 1)),
        foot=format_figure(brace.foot[0], units),
        head=format_length(brace.head[0], units),
        length=brace.display,
    )
    if (strap := brace.strap) is not None:
        said += texts.brace_strap.format(
            size=sizes_text((brace.width, strap.thickness), units),
            face=texts.side_names[strap.face],
            wrap=format_length(strap.wrap, units),
        )
    if brace.at_ends:
        said += texts.brace_nails.format(
            ends=brace.at_ends, crossings=brace.at_crossings, crosses=" ".join(brace.crosses)
        )
    return said


def _sized(kind: str, size: Sequence[float], units: Units, texts: Texts) -> str:
    name = texts.goods_names.get(kind, kind)
    if not size:
        return name
    return f"{name}, {sizes_text(size, units)}"


def sizes_text(size: Sequence[float], units: Units) -> str:
    """Sides, the last with its unit: `3.1 × 90 mm`; what is small in mm to a tenth, as a nail is."""
    if units == "mm":
        sides = (figure(round(side, 1)) if side < SMALL else format_figure(side, units) for side in size)
        return f"{' × '.join(sides)} mm"
    *most, last = size
    return " × ".join([*(format_figure(side, units) for side in most), format_length(last, units)])


def cut_text(end: CutEnd, units: Units, texts: Texts) -> str:
    """How an end is cut: `6° bevel, long point left`."""
    if end.cut == "square":
        return texts.square
    if end.cut == "bevel":
        side = texts.sides[end.long_point] if end.long_point else ""
        return texts.bevel.format(angle=figure(end.angle or 0.0), side=side)
    angles = " / ".join(f"{figure(angle)}°" for angle in end.angles or ())
    said = texts.cuts[end.cut].format(angles=angles)
    if end.widths:
        edge = texts.from_edges[end.long_point not in LONG_POINTS_OF_UPRIGHTS]
        said += texts.faces_meet.format(place=small_length(end.widths[0], units), edge=edge)
    return said


def ends_text(ends: tuple[CutEnd, CutEnd], units: Units, texts: Texts) -> str:
    """Both ends of a piece in one line, and which way up it goes where that matters."""
    first, second = (cut_text(end, units, texts) for end in ends)
    if first == second:
        said = texts.both_ends.format(end=first)
    else:
        foot, head = texts.upright_ends if is_upright(ends) else texts.level_ends
        said = texts.two_ends.format(first_name=foot, first=first, second_name=head, second=second)
    down, up = (end.end == "factory" for end in ends)
    return said + (texts.factory_down if down else texts.factory_up if up else "")


def cuts_text(row: CuttingRow, units: Units, texts: Texts) -> str:
    """All that is sawn of a piece besides its length: both ends, and what is ripped off along it."""
    return ends_text(row.ends, units, texts) + _along_it(row, units, texts)


def _along_it(row: CuttingRow, units: Units, texts: Texts) -> str:
    cut_out = notches_text(row, units, texts) + housings_text(row, units, texts)
    return rip_text(row, units, texts) + cut_out + back_text(row, texts)


def notches_text(row: CuttingRow, units: Units, texts: Texts) -> str:
    """What is cut out of edges, alike notches together; empty of all else."""
    birdsmouths: dict[tuple[float, float, float], list[NotchOut]] = {}
    edges: dict[tuple[str, float], list[NotchOut]] = {}
    for each in row.notches or ():
        if each.kind == "birdsmouth":
            birdsmouths.setdefault((each.seat, each.heel, each.hap), []).append(each)
        else:
            edges.setdefault((each.edge or "", each.heel), []).append(each)
    said = [_birdsmouth_text(alike, units, texts) for alike in birdsmouths.values()]
    return "".join([*said, *(_edge_text(alike, units, texts) for alike in edges.values())])


def _birdsmouth_text(alike: Sequence[NotchOut], units: Units, texts: Texts) -> str:
    first = alike[0]
    return texts.birdsmouth.format(
        count=len(alike),
        places=", ".join(format_length(each.from_low_end, units) for each in alike),
        seat=format_length(first.seat, units),
        heel=format_length(first.heel, units),
        hap=format_length(first.hap, units),
    )


def _edge_text(alike: Sequence[NotchOut], units: Units, texts: Texts) -> str:
    edge, from_end = texts.notched_edges[alike[0].edge or ""]
    places = (
        texts.notched_from_to.format(
            start=format_figure(each.from_low_end, units),
            end=format_length(each.from_low_end + each.seat, units),
        )
        for each in alike
    )
    return texts.notched_along.format(
        edge=edge, deep=format_length(alike[0].heel, units), places=", ".join(places), from_end=from_end
    )


def housings_text(row: CuttingRow, units: Units, texts: Texts) -> str:
    """What is cut out of faces for what is let in; empty of all else."""
    names = texts.upright_ends if is_upright(row.ends) else texts.level_ends
    return "".join(
        texts.housed.format(
            face=texts.side_names[each.face],
            deep=format_length(each.deep, units),
            width=format_length(each.width, units),
            way=texts.sides[each.rises],
            angle=figure(round(each.angle, 1)),
            start=format_figure(each.from_, units),
            end=format_length(each.to, units),
            from_end=names[0],
        )
        for each in row.housings or ()
    )


def rip_text(row: CuttingRow, units: Units, texts: Texts) -> str:
    """What is sawn off a board along its length; empty of one that keeps its width."""
    said = texts.notched if row.notched else ""
    if row.taper:
        rips = texts.next_rip.join(_one_rip(rip, units, texts) for rip in row.taper)
        return said + texts.ripped_along.format(rips=rips)
    return said + (texts.width_ripped_to.format(width=format_length(row.rip, units)) if row.rip else "")


def back_text(row: CuttingRow, texts: Texts) -> str:
    """That lining is told from its back, where that matters; empty of all else."""
    return texts.told_from_back if row.face == "inside" else ""


def _one_rip(rip: Taper, units: Units, texts: Texts) -> str:
    return texts.each_rip.format(
        start_width=format_length(rip.from_width, units),
        start=format_length(rip.from_, units),
        end_width=format_length(rip.to_width, units),
        end=format_length(rip.to, units),
        angle=figure(round(rip.angle, 1)),
    )


def is_upright(ends: tuple[CutEnd, CutEnd]) -> bool:
    """Whether ends are an upright's: its long points are on the left or right, all else's on top or below."""
    return any(end.end is not None or end.long_point in LONG_POINTS_OF_UPRIGHTS for end in ends)


def short_cuts_text(row: CuttingRow, units: Units, texts: Texts) -> str:
    """All that is sawn of a piece, the cuts that are square left out unless both are."""
    return _ends_in_short(row.ends, units, texts) + _along_it(row, units, texts)


def _ends_in_short(ends: tuple[CutEnd, CutEnd], units: Units, texts: Texts) -> str:
    """The cuts that are not square, each with the end that it is on."""
    cut = [cut_text(end, units, texts) for end in ends]
    if all(end.cut == "square" for end in ends):
        return texts.square
    if cut[0] == cut[1]:
        return texts.both_ends.format(end=cut[0])
    names = texts.upright_ends if is_upright(ends) else texts.level_ends
    return "; ".join(
        f"{name} {said}" for name, said, end in zip(names, cut, ends, strict=True) if end.cut != "square"
    )
