"""The catalogue of findings: every kind, the engine's own and those of the installed plugins."""

from __future__ import annotations

from soleplate.engine.buying import KINDS as BUYING
from soleplate.engine.covering import KINDS as COVERING
from soleplate.engine.fixing import KINDS as FIXING
from soleplate.engine.floors import KINDS as FLOORS
from soleplate.engine.framing import KINDS as FRAMING
from soleplate.engine.listing import KINDS as LISTING
from soleplate.engine.raising import KINDS as RAISING
from soleplate.engine.registry import Registry
from soleplate.engine.roofs import KINDS as ROOFS
from soleplate.engine.rules import FindingKind, shared_kinds

ENGINE = "engine"


def finding_kinds(registry: Registry) -> tuple[tuple[str, FindingKind], ...]:
    """(who tells it, kind) by code; a code may have several sentences, for cases of one thing."""
    own = (*FRAMING, *COVERING, *FLOORS, *ROOFS, *LISTING, *FIXING, *BUYING, *RAISING, *shared_kinds.KINDS)
    every = [*((ENGINE, kind) for kind in own), *registry.finding_kinds]
    return tuple(sorted(every, key=lambda pair: (pair[1].code, pair[1].level, pair[1].sentence)))
