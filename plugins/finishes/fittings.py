"""What a leaf hangs on and is shut by, counted for the buying list."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Final

from soleplate.engine.rules import PRACTICE, DoorLeaf, Goods, GoodsKind

HINGES: Final = (150.0, 200.0, 250.0, 300.0, 350.0, 400.0, 450.0, 500.0, 600.0)
"""mm. As T hinges are sold, by the length of their straps (common practice, no source)."""
STRAP: Final = 0.5
"""Share of a leaf's width that a strap reaches over at the least (common practice, no source)."""

HINGE: Final = GoodsKind("T hinge", "piece", 0.0, PRACTICE)
LATCH: Final = GoodsKind("latch", "piece", 0.0, PRACTICE)
BOLT: Final = GoodsKind("bolt", "piece", 0.0, PRACTICE)
"""For the leaf that stands, at its head and foot."""


def fittings(leaves: Sequence[DoorLeaf]) -> Iterator[Goods]:
    """A hinge on every ledge, a latch, and two bolts for the one of two leaves that stands."""
    for leaf in leaves:
        width = leaf.span.right - leaf.span.left
        size = next((each for each in HINGES if each >= STRAP * width), HINGES[-1])
        count = sum(member.role == "leaf ledge" for member in leaf.members)
        yield Goods(HINGE, float(count), (size,))
    yield Goods(LATCH, 1.0)
    if len(leaves) > 1:
        yield Goods(BOLT, 2.0)
