"""The layout (`soleplate.layout/1`): what comes out. Lengths are mm at 0.001, angles degrees at 0.001.

A `display` member gives the length beside it as a person reads it, in the building file's units.
"""

from __future__ import annotations

from typing import Annotated, Any, Literal

from pydantic import Field

from soleplate.engine.building_file import Units
from soleplate.engine.layout.findings import FindingOut
from soleplate.engine.layout.fixings import FixingsRow, JointFixingOut, TieOut
from soleplate.engine.layout.floors import FloorOut
from soleplate.engine.layout.goods import GoodsRow
from soleplate.engine.layout.lists import BoardsOut, BuyingRow, CuttingRow, RodCourse
from soleplate.engine.layout.order_of_work import OrderOfWork
from soleplate.engine.layout.pieces import Piece
from soleplate.engine.layout.result import Result, is_empty
from soleplate.engine.layout.slopes import SlopeOut
from soleplate.engine.layout.walls import WallOut
from soleplate.engine.sawing import FactoryEnds, SawPlan
from soleplate.engine.shapes import ROLES, Role

PartOut = WallOut | FloorOut | SlopeOut
"""All that is framed; `kind` tells a floor from a slope, and a wall has none."""


class Layout(Result):
    """A building laid out."""

    format: Literal["soleplate.layout/1"] = "soleplate.layout/1"
    name: str
    """The building's."""
    units: Units
    """Of the displayed lengths; all numbers are mm."""
    building: dict[str, Any]
    """The building file as it was read, bare numbers in its own unit."""
    walls: tuple[WallOut, ...]
    """In the order of the plan."""
    floors: Annotated[tuple[FloorOut, ...], Field(exclude_if=is_empty)] = ()
    """Where the building file has a floor; left out where it has none."""
    roofs: Annotated[tuple[SlopeOut, ...], Field(exclude_if=is_empty)] = ()
    """The slopes, where the building file has a roof frame; left out where it has none."""
    storey_rod: tuple[RodCourse, ...] = ()
    """The courses of all walls that are clad with level boards, upwards."""
    lining_rod: tuple[RodCourse, ...] = ()
    """The same of all that is lined with level boards, partitions included."""
    boards: tuple[BoardsOut, ...] = ()
    """The boards and battens that cladding and lining are cut from."""
    cutting_list: tuple[CuttingRow, ...]
    """What to cut, one row for each setting of the saw."""
    buying_list: tuple[BuyingRow, ...]
    """What timber it takes, by section and material."""
    goods: Annotated[tuple[GoodsRow, ...], Field(exclude_if=is_empty)] = ()
    """What it takes that is not sawn from lengths: anchors, membrane, insulation, coverings; by kind and
    size. Left out where it takes none."""
    fixings: Annotated[tuple[JointFixingOut, ...], Field(exclude_if=is_empty)] = ()
    """What fixes pieces to each other, in the order of the pieces that are gone through; left out where the
    building file does not ask for it by `fixings`."""
    ties: Annotated[tuple[TieOut, ...], Field(exclude_if=is_empty)] = ()
    """What ties rafters to studs and floors to pads against uplift; left out where there is nothing."""
    fixings_list: Annotated[tuple[FixingsRow, ...], Field(exclude_if=is_empty)] = ()
    """How many of each sort that is, with the nails of straps."""
    saw_plan: SawPlan | None = None
    """How to saw it all, where the building file says what timber can be had."""
    factory_ends: FactoryEnds | None = None
    """Which pieces keep a factory end by the saw plan, and how many cut ends are to be brushed."""
    order_of_work: OrderOfWork | None = None
    """In which order to put it up, where that was asked for."""
    findings: tuple[FindingOut, ...]
    """What to look at again, the gravest first."""
    cautions: tuple[str, ...]
    """What holds for every building."""
    roles: tuple[Role, ...] | None = None
    """The roles that plugins bring, where its pieces have some."""
    weight_kg: float
    """Of all pieces, kg."""

    @property
    def parts(self) -> tuple[PartOut, ...]:
        """All that is framed, each with its views and pieces; for whoever draws or lists the whole."""
        return (*self.walls, *self.floors, *self.roofs)

    @property
    def pieces(self) -> tuple[Piece, ...]:
        """Those of all parts, in their order."""
        return tuple(piece for part in self.parts for piece in part.pieces)

    @property
    def standing(self) -> tuple[Piece, ...]:
        """The pieces of walls that stand on end; those of a floor or roof lie."""
        return tuple(p for wall in self.walls for p in wall.pieces if self.role_of(p).stands)

    def role_of(self, one: Piece | BoardsOut) -> Role:
        """What a piece, or the boards of one kind, are."""
        return ROLES.get(one.role) or next(role for role in self.roles or () if role.name == one.role)
