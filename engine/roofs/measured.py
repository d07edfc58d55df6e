"""A roof with the runs that the tape says in place of those that were drawn."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import Final

from soleplate.engine.building_file import Building, Mm, Reach, UnbuildableError, pointer_to
from soleplate.engine.framing import slope_name
from soleplate.engine.rules import RoofShape, SlopeShape

OFF_AT_MOST: Final = 0.1
"""Of the run as drawn: a slope that is further off is another one, or a slip of the tape (common practice, no
source)."""


def as_measured(shape: RoofShape, building: Building) -> RoofShape:
    """The roof at the measured runs of its slopes, at the pitch that was drawn.

    Raises:
        UnbuildableError: a run is too far off what was drawn.
    """
    slopes = tuple(_measured(slope, shape, building) for slope in shape.slopes)
    width = slopes[0].run if shape.form == "mono-pitch" else shape.width
    return replace(shape, slopes=slopes, width=width)


def _measured(slope: SlopeShape, shape: RoofShape, building: Building) -> SlopeShape:
    name = slope_name(slope.wall)
    measured = building.measured.get(name)
    if measured is None or measured.run is None:
        return slope
    left = measured.run
    right = left if measured.run_right is None else measured.run_right
    least, most = slope.run * (1 - OFF_AT_MOST), slope.run * (1 + OFF_AT_MOST)
    for member, run in (("run", left), ("run_right", right)):
        if not least <= run <= most:
            raise UnbuildableError.at(
                pointer_to("measured", name, member),
                "a run of {run}, where {drawn} is drawn; accepted is {room}, or a building drawn anew",
                run=Mm(run),
                drawn=Mm(slope.run, ".1f"),
                room=Reach(least, most, ".0f"),
            )
    run = (left + right) / 2
    more = run - slope.run
    rise = more * math.tan(math.radians(shape.pitch))
    near, *far = slope.plates
    plates = (near, *(replace(plate, at=plate.at + more, top=plate.top + rise) for plate in far))
    return replace(slope, run=run, plates=plates, widens=right - left)
