"""What is found while joints are fixed."""

from __future__ import annotations

from typing import Final

from soleplate.engine.fixing.distances import EC5
from soleplate.engine.layout import PRACTICE
from soleplate.engine.rules import FindingKind

FIXINGS_LACK: Final = FindingKind(
    "fixings-lack",
    "warn",
    EC5,
    "{count} of {where} cannot be fixed as asked for ({what}: {has} for {needs}): other nails, screws or"
    " metal connectors are wanted there",
)

JOINTS_UNFIXED: Final = FindingKind(
    "joints-unfixed",
    "note",
    PRACTICE,
    "no installed rule fixes {count} of {where}, such as {through} to {into}",
)

END_NAILS: Final = FindingKind(
    "end-nails",
    "note",
    "TRADA, Nailed connections, academic resource",
    "nails in end grain locate; they hold no uplift: straps or sheathing do",
)

NAILS_SHORT: Final = FindingKind(
    "nails-short",
    "note",
    "NAVEDTRA 14119",
    "nails {length} long hold {thick}, {ratio} times its thickness: a rule of thumb wants three times, which"
    " nailing schedules of codes fall short of too",
)

NO_UPLIFT: Final = FindingKind(
    "no-uplift",
    "warn",
    PRACTICE,
    "nothing in the layout ties {what} down against uplift by wind: strap {how}, and hold the sole plates"
    " down; skewed nails alone do not",
)

KINDS: Final = (FIXINGS_LACK, JOINTS_UNFIXED, END_NAILS, NAILS_SHORT, NO_UPLIFT)
