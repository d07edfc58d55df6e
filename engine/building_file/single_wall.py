"""One wall on its own: the request that other programs send when a building is more than they have."""

from __future__ import annotations

from typing import Annotated

from pydantic import Field

from soleplate.engine.building_file.building import Building, FrameSpec, WallBlock
from soleplate.engine.building_file.errors import pointer_to
from soleplate.engine.building_file.model import Name
from soleplate.engine.building_file.outline import Height, SingleWall, SingleWalls, WallLength
from soleplate.engine.building_file.roof import LevelRoof
from soleplate.engine.building_file.site import Measured, Site
from soleplate.engine.building_file.stock import Stock
from soleplate.engine.building_file.units import Units


class WallRequest(WallBlock):
    """One wall on its own. Give `height`, or `heights` over both ends."""

    name: Name
    """What it is called."""
    units: Units = "mm"
    """The unit of bare numbers, and of what is shown."""
    frame: FrameSpec
    """Its timber."""
    length: WallLength
    """End to end."""
    height: Height | None = None
    """From the underside of the sole plate to the top of the head plate."""
    heights: Annotated[tuple[Height, Height], Field(strict=False)] | None = None
    """The same over both ends, as [left, right], of a raked wall."""
    carries_roof: bool = False
    """Whether a roof or floor rests on it."""
    stock: Stock = Stock()
    """The timber that can be had."""
    site: Site = Site()
    """Where and by whom it is built."""
    measured: Measured | None = None
    """What the tape says."""

    def as_building(self, model: type[Building], block: type[WallBlock]) -> Building:
        """The building that has this wall alone, of the models that the installed rules give."""
        wall = SingleWall(
            name=self.name, length=self.length, heights=self.heights, carries_roof=self.carries_roof
        )
        said = self.model_fields_set & set(block.model_fields) - {"frame"}
        own = {name: getattr(self, name) for name in block.model_fields if name in said}
        return model.model_construct(
            format="soleplate.building/1",
            name=self.name,
            units=self.units,
            frame=self.frame,
            outline=SingleWalls(walls=(wall,)),
            roof=LevelRoof(form="level", height=self.height) if self.height is not None else None,
            walls={self.name: block.model_construct(**own)},
            stock=self.stock,
            site=self.site,
            measured={self.name: self.measured} if self.measured is not None else {},
        )


def pointer_in_request(fault: str, name: str) -> str:
    """Where in the request of the wall called `name` a fault of its building is (JSON pointers, RFC 6901)."""
    places = {
        pointer_to("walls", name): "",
        pointer_to("measured", name): "/measured",
        "/outline/walls/0": "",
        "/outline": "/length",
        "/roof": "",
    }
    for place, own in places.items():
        if fault == place or fault.startswith(f"{place}/"):
            return own + fault.removeprefix(place)
    return fault
