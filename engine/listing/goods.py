"""What a building takes that is not sawn from lengths of timber, counted by kind and size."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Mapping
from typing import Final

from soleplate.engine.building_file import MM2_PER_M2, MM_PER_M, Stock, Units, format_length
from soleplate.engine.layout import PRACTICE, FloorOut, GoodsRow, SlopeOut, WallOut
from soleplate.engine.listing.walls import BuiltWall
from soleplate.engine.rules import Goods, GoodsKind
from soleplate.engine.shapes import rounded

PAD: Final = GoodsKind("pad", "piece", 0.0, PRACTICE)
INSULATION: Final = GoodsKind("insulation", "m2", 0.05, PRACTICE)
BREATHER: Final = GoodsKind("breather membrane", "m2", 0.15, PRACTICE)
"""Laps of 100 to 150 mm on rolls of 1 to 1.5 m, and corners."""
VAPOUR: Final = GoodsKind("vapour control layer", "m2", 0.15, PRACTICE)
COVERING_SHEET: Final = GoodsKind("covering sheet", "piece", 0.0, PRACTICE)
COVERING_ROLL: Final = GoodsKind("covering roll", "m", 0.0, PRACTICE)
INSECT_MESH: Final = GoodsKind("insect mesh", "m", 0.05, PRACTICE)

LARGEST_UNMESHED: Final = 4.0
"""mm. Larger gaps for air are covered by mesh (common practice, no source)."""

MESH_HELD: Final = 25.0
"""mm of mesh that is held on either side of a gap (common practice, no source)."""

PER_UNIT: Final[Mapping[str, float]] = {"piece": 1.0, "m": MM_PER_M, "m2": MM2_PER_M2}
"""How many of what is counted, pieces, mm or mm2, make one of the unit."""

DIAMETER_AND_LENGTH: Final = 2
"""Sizes that fixings have."""

Wanted = tuple[str, Goods]
"""Goods, and the part that they are for."""


def of_wall(built: BuiltWall, wall: WallOut, *, joined: bool) -> Iterator[Wanted]:
    """What braces a wall, holds it down, keeps damp from it, finishes its openings, fills it, lies on it.

    Without what joins its pieces, where that is counted already.
    """
    yield from ((wall.name, goods) for goods in _of_braces(built) if not (joined and goods.joins))
    for held in built.frame.held:
        for anchor in held.down.anchors:
            yield wall.name, Goods(anchor.kind, 1.0, (anchor.diameter, anchor.length))
        for goods in held.down.goods:
            yield wall.name, goods
    for finish in built.finishes:
        yield from ((wall.name, goods) for goods in finish.done.goods)
    if wall.insulation is not None and wall.insulation_m2 is not None:
        yield wall.name, Goods(INSULATION, wall.insulation_m2 * MM2_PER_M2, (wall.insulation,))
    if wall.vapour_m2 is not None:
        yield wall.name, Goods(VAPOUR, wall.vapour_m2 * MM2_PER_M2)
    if wall.cladding is not None and wall.faces is None:
        yield wall.name, Goods(BREATHER, wall.cladding.membrane_m2 * MM2_PER_M2)


def _of_braces(built: BuiltWall) -> Iterator[Goods]:
    """Straps, their wraps round both plates counted, and what else its braces take."""
    for done in built.frame.braced:
        for brace in done.braced.braces:
            if (strap := brace.strap) is not None:
                yield Goods(strap.kind, brace.length + 2 * strap.wrap, (brace.width, strap.thickness))
        yield from done.braced.goods


def of_floor(floor: FloorOut) -> Iterator[Wanted]:
    """Its pads, and its insulation."""
    if floor.pads and floor.pad_size is not None:
        yield floor.name, Goods(PAD, float(len(floor.pads)), (floor.pad_size, floor.pad_size))
    if floor.insulation is not None and floor.insulation_m2 is not None:
        yield floor.name, Goods(INSULATION, floor.insulation_m2 * MM2_PER_M2, (floor.insulation,))


def of_slope(slope: SlopeOut) -> Iterator[Wanted]:
    """What covers it, fills it, lies under that, and keeps insects out of its eaves."""
    closing = slope.closing
    if closing is not None and closing.gap > LARGEST_UNMESHED and closing.mesh_m:
        yield slope.name, Goods(INSECT_MESH, closing.mesh_m * MM_PER_M, (closing.gap + 2 * MESH_HELD,))
    if slope.insulation is not None and slope.insulation_m2 is not None:
        yield slope.name, Goods(INSULATION, slope.insulation_m2 * MM2_PER_M2, (slope.insulation,))
    if slope.vapour_m2 is not None:
        yield slope.name, Goods(VAPOUR, slope.vapour_m2 * MM2_PER_M2)
    covering = slope.covering
    if covering is None:
        return
    if covering.sheets is not None:
        size = (covering.width, covering.piece_length)
        yield slope.name, Goods(COVERING_SHEET, float(covering.sheets), size)
    if covering.rolls is not None:
        yield slope.name, Goods(COVERING_ROLL, covering.rolls * covering.piece_length, (covering.width,))


def goods_list(wanted: Iterable[Wanted], units: Units, stock: Stock) -> tuple[GoodsRow, ...]:
    """One row for each sort, by kind and size; of pieces whole ones are bought, in boxes where it says so."""
    together: dict[tuple[str, tuple[float, ...], GoodsKind], dict[str, float]] = {}
    for part, goods in wanted:
        size = tuple(rounded(side) for side in goods.size)
        parts = together.setdefault((goods.kind.name, size, goods.kind), {})
        parts[part] = parts.get(part, 0.0) + goods.quantity
    rows: list[GoodsRow] = []
    for (_, size, kind), parts in sorted(together.items(), key=lambda item: (item[0][0], item[0][1])):
        net = math.fsum(parts.values()) / PER_UNIT[kind.unit]
        bought = _bought(net, kind)
        is_sized = kind.unit == "piece" and len(size) == DIAMETER_AND_LENGTH
        box = stock.box_of(*size) if is_sized else None
        rows.append(
            GoodsRow(
                kind=kind.name,
                size=size,
                unit=kind.unit,
                quantity=rounded(net),
                to_buy=bought,
                display=_told(bought, kind, units),
                box=box,
                boxes=math.ceil(bought / box) if box else None,
                parts=tuple(parts),
                basis=kind.basis,
            )
        )
    return tuple(rows)


def _bought(net: float, kind: GoodsKind) -> float:
    """With what is to be had on top; of pieces a whole number, of others a tenth of the unit, upwards."""
    parts_of = 1.0 if kind.unit == "piece" else 10.0
    return math.ceil(net * (1.0 + kind.spare) * parts_of - 1e-6) / parts_of


def _told(quantity: float, kind: GoodsKind, units: Units) -> str:
    if kind.unit == "piece":
        return f"{quantity:.0f}"
    if kind.unit == "m":
        return f"{quantity:.1f} m" if units == "mm" else format_length(quantity * 1000.0, units)
    return f"{quantity:.1f} m²"
