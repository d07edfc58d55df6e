"""Goods: what a building takes that is not sawn from lengths of timber, counted for the buying list."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal


@dataclass(frozen=True, slots=True)
class GoodsKind:
    """One kind of goods: what the trade calls it, by what it is counted, and what to buy on top.

    The unit is pieces, metres or square metres. `spare` is the share to buy besides the net quantity, for
    laps, offcuts and what is dropped; `basis` is the published source of that, or common practice.
    """

    name: str
    unit: Literal["piece", "m", "m2"]
    spare: float
    basis: str


@dataclass(frozen=True, slots=True)
class Goods:
    """So much of a kind: pieces, mm or mm2, net. `size` tells one sort of a kind from another, mm.

    What `joins` pieces to each other is counted with the fixings of their joints, where those are asked for.
    """

    kind: GoodsKind
    quantity: float
    size: tuple[float, ...] = ()
    joins: bool = False
