"""What a check returned, taken in only if it can be told of a layout."""

from __future__ import annotations

from collections.abc import Collection

from soleplate.engine.registry.answers import sound
from soleplate.engine.registry.blame import NonsenseError
from soleplate.engine.rules import Finding


def to_tell(found: object, parts: Collection[str], marks: Collection[str]) -> Finding:
    """A finding of a check; to be called where the plugin is blamed.

    `parts` are the names of all parts of the layout, `marks` those of all pieces.

    Raises:
        NonsenseError: it is no finding, or points to what is not there.
    """
    finding = sound(found, Finding)
    if finding.part is not None and finding.part not in parts:
        raise NonsenseError(f"finding {finding.code} names {finding.part!r}, which is not in the layout")
    strange = next((mark for mark in finding.pieces if mark not in marks), None)
    if strange is not None:
        raise NonsenseError(f"finding {finding.code} names piece {strange!r}, which is not in the layout")
    return finding
