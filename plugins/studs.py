"""Rules that space studs. End studs, kings and trimmers are not theirs: these fill the spaces between."""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterable, Mapping, Sequence
from typing import Annotated, Any, ClassVar, Final, Literal, Self

from pydantic import Field, model_validator

from soleplate.engine.rules import (
    TOUCH,
    AnyLength,
    CannotFrame,
    Distance,
    Items,
    Limits,
    Mm,
    Reach,
    Run,
    StudRule,
    at_least,
    hookimpl,
    unbuildable,
)

USUAL_SPACING: Final = 600.0
"""mm. The widest spacing that linings and sheets are made for (NHBC Standards 6.3.9 Table 3)."""

MOST_STUDS: Final = 500
"""In one run: more is a slip of the unit, not a wall."""

SAME_BAY: Final = 1e-6
"""mm. A bay over the largest by less than this is none too wide."""

Spacing = Annotated[AnyLength, Limits(50.0, 3_000.0)]


def _equal(run: Run, largest: float) -> list[float]:
    """Left faces of the fewest studs that leave equal bays of at most `largest` mm.

    With n studs of breadth b in a clear length C, a bay is (C - n b) / (n + 1).
    """
    breadth = run.breadth
    if run.clear <= 0:
        return []
    wanted = math.ceil((run.clear - largest - SAME_BAY) / (largest + breadth))
    count = min(max(wanted, 0), math.floor(run.clear / breadth))
    _refuse_crowd(count)
    bay = (run.clear - count * breadth) / (count + 1)
    return [run.left + bay + k * (bay + breadth) for k in range(count)]


def _on_lines(run: Run, datum: float, pitch: float) -> list[float]:
    """Left faces of studs centred at `datum` + k `pitch` that lie at least partly in the run."""
    half = run.breadth / 2
    return [line - half for line in _lines(run, datum, pitch, half)]


def _lines(run: Run, datum: float, pitch: float, reach: float) -> list[float]:
    """The lines `datum` + k `pitch` that are nearer to the run than `reach` mm, or in it."""
    first = math.floor((run.left - reach + TOUCH - datum) / pitch) + 1
    last = math.ceil((run.right + reach - TOUCH - datum) / pitch) - 1
    _refuse_crowd(last - first + 1)
    return [datum + k * pitch for k in range(first, last + 1)]


def _partly_in(run: Run, faces: Iterable[float]) -> list[float]:
    """The studs, by their left faces, that lie at least partly in the run."""
    breadth = run.breadth
    return [face for face in faces if face < run.right - TOUCH and face + breadth > run.left + TOUCH]


def _refuse_crowd(count: int) -> None:
    if count > MOST_STUDS:
        raise CannotFrame(f"{count} studs in one run; accepted are up to {MOST_STUDS}: space them wider")


class EqualBays(StudRule):
    """Studs that leave equal bays. Give one of `number`, `largest_bay` and `largest_centres`.

    Each space between timbers is equalised on its own: beside an opening, above and below it.
    """

    stands_in: ClassVar[bool] = True
    examples: ClassVar[Sequence[Mapping[str, Any]]] = (
        {"rule": "equal-bays", "largest_bay": 600},
        {"rule": "equal-bays", "largest_centres": "600 mm"},
        {"rule": "equal-bays", "number": 4},
    )

    rule: Literal["equal-bays"] = "equal-bays"
    number: Annotated[int, Field(ge=0, le=200)] | None = None
    """Studs between the end studs of the wall without openings; beside openings no bay is wider."""
    largest_bay: Spacing | None = None
    """The widest clear bay; 600 mm where none of the three is given."""
    largest_centres: Spacing | None = None
    """The widest spacing from centre to centre."""

    @model_validator(mode="after")
    def _check(self) -> Self:
        given = [self.number, self.largest_bay, self.largest_centres]
        if sum(value is not None for value in given) > 1:
            raise unbuildable("accepted is one of number, largest_bay and largest_centres")
        return self

    def place_studs(self, run: Run) -> Sequence[float]:
        """Return left faces, mm; see `StudRule`.

        Raises:
            CannotFrame: there is no room for that number, or the centres leave no bay.
        """
        return _equal(run, self._largest(run))

    def _largest(self, run: Run) -> float:
        """The widest bay, mm."""
        breadth = run.breadth
        if self.number is not None:
            clear = run.length - 2 * breadth
            bay = (clear - self.number * breadth) / (self.number + 1)
            if bay <= 0:
                most = max(math.ceil(clear / breadth) - 1, 0)
                raise CannotFrame(
                    "no room for {number} studs of {breadth} in {clear} clear; accepted are up to {most}",
                    number=self.number,
                    breadth=Mm(breadth),
                    clear=Mm(clear),
                    most=most,
                )
            return bay
        if self.largest_centres is not None:
            if self.largest_centres <= breadth:
                raise CannotFrame(
                    "centres of {largest_centres} leave no bay between studs of {breadth}; accepted is over"
                    " {least}",
                    largest_centres=Mm(self.largest_centres),
                    breadth=Mm(breadth),
                    least=at_least(breadth),
                )
            return self.largest_centres - breadth
        return self.largest_bay if self.largest_bay is not None else USUAL_SPACING


class FixedCentres(StudRule):
    """Studs centred on a grid, so that the edges of sheets fall on them.

    The grid carries on through openings, above and below them too (NAVEDTRA 14044 p 1-23), and the first
    stud's near face is half a breadth less than the centres from the wall's end: 15 1/4 in for 16 in
    centres and studs of 1 1/2 in.
    """

    examples: ClassVar[Sequence[Mapping[str, Any]]] = (
        {"rule": "fixed-centres", "centres": 600},
        {"rule": "fixed-centres", "centres": "16 in", "from": "right"},
        {"rule": "fixed-centres", "centres": 400, "from": "middle", "doubled_at": 1200},
    )

    rule: Literal["fixed-centres"] = "fixed-centres"
    centres: Spacing = USUAL_SPACING
    """From centre to centre."""
    from_: Annotated[Literal["left", "right", "middle"], Field(alias="from")] = "left"
    """Where the grid starts: an outer end of the wall, or its middle."""
    doubled_at: Annotated[AnyLength, Limits(300.0, 4_000.0)] | None = None
    """Width of the sheets: where two of them meet, two studs meet too, one for each edge."""

    def place_studs(self, run: Run) -> Sequence[float]:
        """Return left faces, mm; see `StudRule`.

        Raises:
            CannotFrame: the studs would overlap each other.
        """
        breadth = run.breadth
        if self.centres < breadth:
            raise CannotFrame(
                "centres of {centres} are closer than the studs are broad; accepted is at least {breadth}",
                centres=Mm(self.centres),
                breadth=at_least(breadth),
            )
        datum = {"left": 0.0, "right": run.length, "middle": run.length / 2}[self.from_]
        singles = _on_lines(run, datum, self.centres)
        if self.doubled_at is None:
            return singles
        if self.doubled_at < 2 * breadth:
            raise CannotFrame(
                "doubled studs every {doubled_at} overlap; accepted is at least {least}",
                doubled_at=Mm(self.doubled_at),
                least=at_least(2 * breadth),
            )
        joints = _lines(run, datum, self.doubled_at, breadth)
        doubles = [face for joint in joints for face in (joint - breadth, joint)]
        # A single stud gives way to a pair on the same line, or one so near that they would overlap.
        clear = [
            face
            for face in singles
            if not any(joint - 2 * breadth + TOUCH < face < joint + breadth - TOUCH for joint in joints)
        ]
        return sorted(_partly_in(run, clear + doubles))


class AtMarks(StudRule):
    """Studs at marks of your own, measured from the wall's left end seen from outside."""

    examples: ClassVar[Sequence[Mapping[str, Any]]] = (
        {"rule": "at", "marks": [555, 1155]},
        {"rule": "at", "marks": ["16 in", "32 in"], "of": "centre"},
    )

    rule: Literal["at"] = "at"
    marks: Annotated[tuple[Distance, ...], Items(1, 200)]
    """Along the wall from its left end."""
    of: Literal["face", "centre"] = "face"
    """What the marks give: each stud's left face, or its centre line."""

    def place_studs(self, run: Run) -> Sequence[float]:
        """Return left faces, mm; see `StudRule`.

        Raises:
            CannotFrame: two marks are so near that their studs overlap, or one is outside the wall.
        """
        breadth = run.breadth
        back = breadth / 2 if self.of == "centre" else 0.0
        marks = sorted(self.marks)
        for one, other in itertools.pairwise(marks):
            if other - one < breadth - TOUCH:
                raise CannotFrame(
                    "the studs at {one} and {other} overlap; accepted are marks at least {breadth} apart",
                    one=Mm(one, bare=True),
                    other=Mm(other),
                    breadth=at_least(breadth),
                )
        least, most = back, run.length - breadth + back
        for mark in marks:
            if not least - TOUCH <= mark <= most + TOUCH:
                raise CannotFrame(
                    "the stud at {mark} is not within the wall; accepted is {room}",
                    mark=Mm(mark),
                    room=Reach(least, most),
                )
        return _partly_in(run, (mark - back for mark in marks))


class OnPanes(StudRule):
    """Studs that carry the spacing of a row of panes on along the wall, so that glazing and studs line up.

    Of several rows the one nearest to the space counts. A wall without panes gets equal bays.
    """

    examples: ClassVar[Sequence[Mapping[str, Any]]] = (
        {"rule": "on-panes"},
        {"rule": "on-panes", "largest_bay": 500},
    )

    rule: Literal["on-panes"] = "on-panes"
    largest_bay: Spacing = USUAL_SPACING
    """The widest clear bay in a wall without panes."""

    def place_studs(self, run: Run) -> Sequence[float]:
        """Return left faces, mm; see `StudRule`."""
        left = [line for line in sorted(run.stud_lines) if line <= run.left]
        right = [line for line in sorted(run.stud_lines) if line >= run.right]
        grids = []
        if len(left) > 1:
            grids.append((run.left - left[-1], left[-1], left[-1] - left[-2]))
        if len(right) > 1:
            grids.append((right[0] - run.right, right[0], right[1] - right[0]))
        if not grids:
            return _equal(run, self.largest_bay)
        _, datum, pitch = min(grids)
        return _on_lines(run, datum, pitch)


@hookimpl
def register_rules() -> list[type[StudRule]]:
    """Offer the rules of this module."""
    return [EqualBays, FixedCentres, AtMarks, OnPanes]
