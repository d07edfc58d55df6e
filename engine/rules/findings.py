"""Findings: what a builder should look at again, as kinds with a sentence, and the figures of each case."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from dataclasses import dataclass, replace

from soleplate.engine.building_file import Figure, Said, Units
from soleplate.engine.layout import FindingOut, Level


@dataclass(frozen=True, slots=True, kw_only=True)
class Finding:
    """Something to look at. Advisory, never an approval.

    `message` is a sentence; with `figures` it has named places for them, and without any it is shown as it is
    written. `part` names the wall, floor or slope that it is about, `pieces` are marks. `value` is what was
    found, `limit` what it is held against, `basis` the published source, or common practice.
    """

    level: Level
    code: str
    message: str
    basis: str
    part: str | None = None
    pieces: tuple[str, ...] = ()
    value: float | None = None
    limit: float | None = None
    figures: tuple[tuple[str, Figure], ...] = ()
    before: str = ""

    def __post_init__(self) -> None:
        """Refuse a sentence that its figures do not fit, where whoever made it can be named.

        Raises:
            ValueError: it cannot be told.
        """
        if not self.figures:
            return
        try:
            Said(self.message, self.figures).told("mm")
        except (LookupError, ValueError, TypeError, AttributeError) as error:
            raise ValueError(f"the figures of finding {self.code!r} do not fit its sentence") from error

    def after(self, before: str) -> Finding:
        """The same with something before its sentence, told as it is."""
        return replace(self, before=before + self.before)

    def on(self, part: str) -> Finding:
        """The same of a part."""
        return replace(self, part=part)

    def told(self, units: Units, walls: Collection[str], sentences: Mapping[str, str]) -> FindingOut:
        """In words, as it comes out; `walls` are the names of all walls.

        `sentences` are another language's, by ours.
        """
        said = Said(self.message, self.figures, self.before).translated(sentences)
        return FindingOut(
            level=self.level,
            code=self.code,
            message=said.told(units),
            part=self.part,
            wall=self.part if self.part in walls else None,
            pieces=self.pieces,
            value=self.value,
            limit=self.limit,
            basis=self.basis,
        )


@dataclass(frozen=True, slots=True)
class FindingKind:
    """One kind of finding: its code, which is stable, its level as a rule, its basis and its sentence.

    The sentence has a place for each figure, such as `{apart}`.
    """

    code: str
    level: Level
    basis: str
    sentence: str

    def of(
        self,
        *,
        part: str | None = None,
        pieces: tuple[str, ...] = (),
        value: float | None = None,
        limit: float | None = None,
        level: Level | None = None,
        basis: str | None = None,
        **figures: Figure,
    ) -> Finding:
        """One case of it, with a `level` or `basis` of its own if given; for the rest see `Finding`."""
        return Finding(
            level=level or self.level,
            code=self.code,
            message=self.sentence,
            basis=basis or self.basis,
            part=part,
            pieces=pieces,
            value=value,
            limit=limit,
            figures=tuple(figures.items()),
        )
