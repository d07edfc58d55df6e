"""What is found while buying and sawing are planned: one row for each kind."""

from __future__ import annotations

from typing import Final

from soleplate.engine.layout import PRACTICE
from soleplate.engine.rules import FindingKind

STOCK_TOO_LITTLE: Final = FindingKind("stock-too-little", "stop", PRACTICE, "there is no saw plan: {said}")

NOT_PLANNED: Final = FindingKind(
    "not-planned",
    "note",
    PRACTICE,
    "no stock is listed for {size} {material}: its pieces are not in the saw plan",
)

NOT_PRICED: Final = FindingKind(
    "not-priced",
    "note",
    PRACTICE,
    "no price is listed for {size} {material} at {lengths}: what is bought of it so is not in the cost",
)

TOO_MANY: Final = FindingKind(
    "not-planned",
    "note",
    PRACTICE,
    "{number} pieces are too many for one saw plan; plan parts of the building by themselves",
)

UNUSED_STOCK: Final = FindingKind(
    "unused-stock", "note", PRACTICE, "no piece is of {called}: that stock is not used"
)

LONGER_THAN_STOCK: Final = FindingKind(
    "longer-than-stock",
    "stop",
    PRACTICE,
    "{mark}, a {role} to be cut to {length}, is longer than any length listed yields that is fit for it:"
    " {longest}",
)

NOTHING_TO_SPARE: Final = FindingKind(
    "nothing-to-spare",
    "note",
    PRACTICE,
    "as little as {left} to spare, where {margin} is wanted, on {number} of {size} {material}, {sold} long:"
    " measure what was delivered before the first cut",
)

NOT_CARRIED: Final = FindingKind(
    "not-carried",
    "stop",
    PRACTICE,
    "no length on sale of {size} {material} is as short as what can be brought home, {longest}: its pieces"
    " are not in the saw plan",
)

CARRIED: Final = FindingKind(
    "carried-home",
    "note",
    PRACTICE,
    "to buy nothing over {longest} {how} than all lengths on sale would: {bought} in place of {free}",
)

KINDS: Final = (
    STOCK_TOO_LITTLE,
    NOT_PLANNED,
    NOT_PRICED,
    TOO_MANY,
    UNUSED_STOCK,
    LONGER_THAN_STOCK,
    NOTHING_TO_SPARE,
    NOT_CARRIED,
    CARRIED,
)
