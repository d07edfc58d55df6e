"""What was found, as it comes out."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Final, Literal, get_args

from soleplate.engine.layout.result import Record

Level = Literal["stop", "warn", "note"]
"""`stop`: do not build it so; `warn`: think again; `note`: good to know."""

PRACTICE: Final = "common practice, no source"
"""The basis of a finding that no published source stands behind."""

ENGLISH: Final[Mapping[str, str]] = {}
"""Sentences of findings in this language, by ours: they are told as they are."""


@dataclass(frozen=True, slots=True, kw_only=True)
class FindingOut(Record):
    """Something to look at. Advisory, never an approval."""

    level: Level
    """`stop`: do not build it so; `warn`: think again; `note`: good to know."""
    code: str
    """Stable, for programs."""
    message: str
    """A sentence for the builder."""
    part: str | None = None
    """The wall, floor or slope that it is about; none where it is the building."""
    wall: str | None = None
    """The same, where that is a wall."""
    pieces: tuple[str, ...] = ()
    """Marks."""
    value: float | None = None
    """What was found."""
    limit: float | None = None
    """What the value is held against."""
    basis: str
    """The published source, or common practice."""


def gravest_first(findings: Iterable[FindingOut]) -> tuple[FindingOut, ...]:
    """Findings in the order of their levels, `stop` first; those of one level as they came."""
    levels = get_args(Level)
    return tuple(sorted(findings, key=lambda finding: levels.index(finding.level)))
