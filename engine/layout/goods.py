"""What a building takes that is not sawn from lengths of timber, as it comes out."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from soleplate.engine.layout.result import Record


@dataclass(frozen=True, slots=True, kw_only=True)
class AnchorOut(Record):
    """What holds a sole plate down at one place, in the middle of the plate."""

    kind: str
    """What it is called."""
    at: float
    """From the wall's left end, mm."""
    display: str
    """The same as a person reads it."""
    plate: str
    """The mark of the sole plate."""
    diameter: float
    """Of it, mm."""
    length: float
    """Of it, mm."""


@dataclass(frozen=True, slots=True, kw_only=True)
class GoodsRow(Record):
    """So much of one sort of goods."""

    kind: str
    """What it is called."""
    size: tuple[float, ...]
    """What tells it from other sorts of its kind, mm: diameter and length, width, thickness; else nothing."""
    unit: Literal["piece", "m", "m2"]
    """By what it is counted."""
    quantity: float
    """Net."""
    to_buy: float
    """With laps, offcuts and what is dropped."""
    display: str
    """What to buy as a person reads it."""
    box: int | None = None
    """How many are in a box, where the building file says so."""
    boxes: int | None = None
    """How many boxes that takes."""
    parts: tuple[str, ...]
    """The walls, floors and slopes that it is for."""
    basis: str
    """Of what is bought on top: a published source, or common practice."""
