"""The families of rules; `register_<family>` is the hook that offers a family's rules."""

from __future__ import annotations

from typing import Final

from soleplate.engine.cladding.rule import CladdingRule
from soleplate.engine.rules import (
    Adjustment,
    CornerRule,
    NogginRule,
    OpeningRule,
    Rule,
    StudRule,
    TopPlateRule,
)

FAMILIES: Final[tuple[type[Rule], ...]] = (
    StudRule,
    OpeningRule,
    TopPlateRule,
    NogginRule,
    CornerRule,
    CladdingRule,
    Adjustment,
)
"""The base class of each family."""
