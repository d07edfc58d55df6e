"""What can be shown on an elevation, and what one is made of."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Final

import svg

from soleplate.engine.layout import Layout
from soleplate.engine.rules import Drawn
from soleplate.viewer.drawings.face import Side
from soleplate.viewer.words import ENGLISH, Texts

SHOWN: Final = ("frame", "openings", "marks", "dimensions")
"""What a drawing shows unless said otherwise; drawing layers of plugins come on top."""

BOARDED: Final[Mapping[str, Side]] = {"cladding": "outside", "lining": "inside"}
"""The layers of what lies on the frame, each with its face; seen from there it hides the frame."""

FIXINGS: Final = "fixings"
"""The layer of nails and screws, of whatever else is drawn."""

LAYERS: Final = (*SHOWN, *BOARDED, FIXINGS)
"""What may be switched on and off."""

WHOLE: Final = (*SHOWN, *BOARDED)
"""What another program is given unless it asks for less, or for the fixings."""

OF_FRAME: Final = "of-frame"
"""The class of what is told of timbers, which boards over them hide."""

FINDINGS: Final = "findings"
"""A layer that drawings within a page have besides: flags whose numbers the page's findings bear."""

BEHIND: Final = "behind"
"""Of boards on the near face those that others hide, battens too: what a page can show without the rest."""

OFF_AT_FIRST: Final = frozenset({*BOARDED, BEHIND, FIXINGS})
"""What a page shows once it is asked for, since it hides the frame or crowds it."""


@dataclass(frozen=True, slots=True)
class WallSheet:
    """What a drawing is made of, beyond the wall itself."""

    layout: Layout
    rows: Mapping[str, int]
    """Row of the cutting list by mark, counted from 0."""
    side: Side = "outside"
    layers: Collection[str] = LAYERS
    added: Mapping[str, Sequence[Drawn]] | None = None
    standalone: bool = True
    texts: Texts = ENGLISH


def layer_group(layer: str, elements: Iterable[svg.Element], fill: str | None = None) -> svg.G:
    """A layer's group; texts with a fill of their own stand on timber and let the pointer through to it."""
    return svg.G(
        class_=["layer", layer], fill=fill, pointer_events="none" if fill else None, elements=list(elements)
    )
