"""What is to be looked at in a floor."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from soleplate.engine.rules import Building, Finding, FindingKind, FloorOut, Layout

KINDS: Final[tuple[FindingKind, ...]] = ()


def floor_findings(floor: FloorOut, layout: Layout, building: Building) -> Iterator[Finding]:
    """All that is found in one floor."""
    yield from ()
