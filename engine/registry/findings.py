"""What a check returned, taken in only if it can be told of a layout."""

from __future__ import annotations

from collections.abc import Collection
from typing import Final

from soleplate.engine.registry.answers import sound
from soleplate.engine.registry.blame import NonsenseError
from soleplate.engine.rules import Finding

MOST_TOLD: Final = 12
"""Names of parts or pieces that a message tells."""


def to_tell(found: object, parts: Collection[str], marks: Collection[str]) -> Finding:
    """A finding of a check; to be called where the plugin is blamed.

    `parts` are the names of all parts of the layout, `marks` those of all pieces.

    Raises:
        NonsenseError: it is no finding, or points to what is not there.
    """
    finding = sound(found, Finding)
    if finding.part is not None and finding.part not in parts:
        raise NonsenseError(
            f"finding {finding.code} names {finding.part!r}, which is not in the layout; {_known(parts)}"
        )
    strange = next((mark for mark in finding.pieces if mark not in marks), None)
    if strange is not None:
        raise NonsenseError(
            f"finding {finding.code} names piece {strange!r}, which is not in the layout; {_known(marks)}"
        )
    return finding


def _known(names: Collection[str]) -> str:
    """What is accepted: a few names, and how many there are."""
    told = ", ".join(list(names)[:MOST_TOLD])
    return f"accepted are {told}" + (f" and others, {len(names)} in all" if len(names) > MOST_TOLD else "")
