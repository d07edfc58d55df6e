"""How panes of plastic and glass move with heat, and how they are cut for it.

Lengths are mm, temperatures degrees Celsius. All is proportional, as the sources take it.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final, Literal, NamedTuple

Sheet = Literal["polycarbonate", "acrylic", "glass"]


class Expansion(NamedTuple):
    """How much a material grows for each kelvin, as a share of its length, and where it is published."""

    value: float
    source: str


EXPANSION: Final[dict[Sheet, Expansion]] = {
    "polycarbonate": Expansion(65e-6, "EPSE, 0.065 mm a metre and kelvin"),
    "acrylic": Expansion(
        4.4e-5 * 1.8, "makers' data, 4.0 to 4.4e-5 a degree Fahrenheit; the greater is taken"
    ),
    "glass": Expansion(9e-6, "makers' data for acrylic, which moves about 8 times as much"),
}
"""Change of length for each kelvin, as a share of the length."""

DARK: Final = 1.4
"""A dark sheet in the sun moves so many times as much as a clear one (makers' data for acrylic)."""


def length_change(length: float, swing: float, rate: float) -> float:
    """How much longer a sheet gets, mm: length times rate times kelvins.

    Args:
        length: of the sheet, mm.
        swing: kelvins; negative where it cools.
        rate: for each kelvin, as a share; see `EXPANSION`.
    """
    return length * rate * swing


def sheet_movement(length: float, material: Sheet, swing: float, *, dark: bool = False) -> float:
    """How much longer a sheet gets over a swing of temperature, mm.

    Args:
        length: of the sheet, mm.
        material: of `EXPANSION`.
        swing: kelvins, at least 0.
        dark: whether it is of a dark colour.
    """
    return length_change(length, swing, EXPANSION[material].value * (DARK if dark else 1.0))


@dataclass(frozen=True, slots=True)
class PaneFit:
    """How a row of panes is to be cut and fitted on studs that they meet on; mm.

    `movement` is that of one pane from coldest to hottest. `joint` is left between panes, so `width` is what
    they are cut to. `hole` is the least diameter of holes for screws. `cover` is what of a pane still lies on
    the stud at its coldest.
    """

    movement: float
    joint: float
    width: float
    hole: float | None
    cover: float


def fit_panes(
    centres: float,
    breadth: float,
    material: Sheet,
    swing: float,
    *,
    dark: bool = False,
    shank: float | None = None,
) -> PaneFit:
    """Fit panes that meet on the centre lines of studs, whatever the temperature on that day.

    A pane held in its middle moves by half its movement at each edge, so a joint takes up the movement of one
    pane: fitted on the coldest day the joint just closes on the hottest. Fitted on the hottest day, each
    edge draws back by half the movement, and that is taken off the cover. A hole is larger than the shank by
    the whole movement, as makers advise for a sheet held at its far end.

    Args:
        centres: of the studs that panes meet on, mm.
        breadth: of those studs, mm.
        material: of the panes.
        swing: from the coldest to the hottest, kelvins, at least 0.
        dark: whether they are of a dark colour.
        shank: of the screws through them, mm, if there are any.

    """
    # The pane is narrower than the centres by the joint, which is its own movement.
    share = sheet_movement(1.0, material, swing, dark=dark)
    width = centres / (1.0 + share)
    movement = centres - width
    return PaneFit(
        movement=movement,
        joint=movement,
        width=width,
        hole=None if shank is None else shank + movement,
        cover=(breadth - movement) / 2 - movement / 2,
    )
