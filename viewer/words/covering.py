"""What is said of what covers a slope: sheets or strips in the order in which they are laid."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field


@dataclass(frozen=True)
class CoveringTexts:
    """A language's texts; the English ones are the defaults. Names in braces are filled in."""

    title: str = "Covering plan"
    of_slope: str = "Covering of {slope}"
    seen: str = "{slope}: its covering seen square to the slope from above, the eaves below"
    sub: str = "Seen square to the slope from above, its eaves below. Numbers are the order of laying."
    alt: str = "Covering of {slope} at {scale}: {count} in order, {length} long"
    start: str = "start"
    cut_to: str = "cut to {width}"
    count: Mapping[str, str] = field(
        default_factory=lambda: {
            "sheet": "{count} sheets {width} wide and {length} long, side by side, over {area} m².",
            "roll": "{count} strips {width} wide and {length} long, from the eaves up, over {area} m².",
        }
    )
    order: Mapping[str, str] = field(
        default_factory=lambda: {
            "sheet": (
                "Begin at the {corner} corner of the eaves, seen from outside, and lay each sheet {lap} over"
                " the one before it. The first is square to the eaves when both diagonals of the whole are"
                " {diagonal}."
            ),
            "roll": "Begin along the eaves, and lay each strip {lap} over the one below it.",
        }
    )
    cut: str = "Number {number} is cut to {width}."
    overhang: str = "It reaches {overhang} past the lower edge of what it lies on."
    flush: str = "Its lower edge is flush with that of what it lies on."
    reach: str = (
        "Its lower edge is {eaves} down the slope from over the outer face of the wall under the eaves, its"
        " sides {sides} past the walls."
    )
    weather: str = (
        "Laps lie open away from the weather: where rain mostly drives from the {corner}, begin at the other"
        " corner."
    )
    battens: str = (
        "Battens in {count} rows: the middle of the lowest {first} up from the covering's lower edge, the"
        " others {gauge} from centre to centre."
    )
    windows: str = "It is cut out for {windows} once it lies there, and flashed as the window's maker says."
