"""Whether what a check returned can be told of a layout."""

from __future__ import annotations

from collections.abc import Collection
from typing import Final

from soleplate.engine.registry.answers import flaw
from soleplate.engine.rules import Finding

MOST_TOLD: Final = 12
"""Names of parts or pieces that a message tells."""


def not_to_tell(found: object, parts: Collection[str], marks: Collection[str]) -> str | None:
    """What is wrong with something that a check returned, in words; `None` where it can be told.

    `parts` are the names of all parts of the layout, `marks` those of all pieces.
    """
    if not isinstance(found, Finding):
        return f"returned {type(found).__name__}, not Finding"
    if said := flaw(found, Finding):
        return f"returned {said}"
    if found.part is not None and found.part not in parts:
        return f"finding {found.code} names {found.part!r}, which is not in the layout; {_known(parts)}"
    strange = next((mark for mark in found.pieces if mark not in marks), None)
    if strange is not None:
        return f"finding {found.code} names piece {strange!r}, which is not in the layout; {_known(marks)}"
    return None


def _known(names: Collection[str]) -> str:
    """What is accepted: a few names, and how many there are."""
    told = ", ".join(list(names)[:MOST_TOLD])
    return f"accepted are {told}" + (f" and others, {len(names)} in all" if len(names) > MOST_TOLD else "")
