"""What a check returned, taken in only if it can be told of a layout."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from typing import Final

from soleplate.engine.registry.answers import all_sound
from soleplate.engine.registry.blame import NonsenseError
from soleplate.engine.rules import Finding

MOST_TOLD: Final = 12
"""Names of parts or pieces that a message tells."""


def to_tell(found: Sequence[object], parts: Collection[str], marks: Collection[str]) -> tuple[Finding, ...]:
    """The findings of a check; to be called where the plugin is blamed.

    `parts` are the names of all parts of the layout, `marks` those of all pieces.

    Raises:
        NonsenseError: one is no finding, or points to what is not there.
    """
    findings = all_sound(found, Finding)
    for finding in findings:
        _refuse_strange(finding, parts, marks)
    return findings


def _refuse_strange(finding: Finding, parts: Collection[str], marks: Collection[str]) -> None:
    if finding.part is not None and finding.part not in parts:
        raise NonsenseError(
            f"finding {finding.code} names {finding.part!r}, which is not in the layout; {_known(parts)}"
        )
    strange = next((mark for mark in finding.pieces if mark not in marks), None)
    if strange is not None:
        raise NonsenseError(
            f"finding {finding.code} names piece {strange!r}, which is not in the layout; {_known(marks)}"
        )


def _known(names: Collection[str]) -> str:
    """What is accepted: a few names, and how many there are."""
    told = ", ".join(list(names)[:MOST_TOLD])
    return f"accepted are {told}" + (f" and others, {len(names)} in all" if len(names) > MOST_TOLD else "")
