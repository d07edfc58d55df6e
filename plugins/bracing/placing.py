"""Where braces go: from the corners of a wall up and inwards, clear of openings, or where a file says."""

from __future__ import annotations

import math
from abc import ABC, abstractmethod
from collections.abc import Iterator, Sequence
from typing import Annotated, ClassVar, Final, Literal, Self

from pydantic import Field, model_validator

from soleplate.engine.rules import (
    PRACTICE,
    TOUCH,
    AnyLength,
    Brace,
    BracingRule,
    CannotFrame,
    Finding,
    FindingKind,
    Limits,
    Mm,
    Outline,
    Reach,
    Wall,
    at_least,
    bounds,
    overlap,
    rectangle,
    said,
    unbuildable,
)
from soleplate.plugins.bracing.diagonals import Rises

BEST: Final = 45.0
"""Degrees from level: a brace works best near it (common practice, no source)."""

COARSE: Final = 5.0
"""Degrees between the angles that are tried off the studs."""

ENDS: Final[tuple[Rises, Rises]] = ("right", "left")
"""Which way braces rise from the left and from the right end."""

END_OF: Final = {"right": "left", "left": "right"}
"""The end of the wall from which a brace rises, by which way it does."""

BRACE_LEFT_OUT: Final = FindingKind(
    "brace-left-out",
    "warn",
    PRACTICE,
    "no brace rises from {end}: nothing on from there is clear of openings and of other braces for the {run}"
    " that it takes at its steepest; brace it with sheets",
)


class Diagonals(BracingRule, ABC):
    """Base of the rules that set diagonals.

    Each rises from a corner of the wall inwards, or from the first place past it that is clear of openings,
    as near to 45 degrees as that leaves it. From both ends they mirror each other where they can.
    """

    least: ClassVar[float]
    """Degrees from level."""
    most: ClassVar[float]

    angle: float | None
    ends: Literal["left", "right", "both"] = "both"
    """The ends of the wall from which they rise, seen from outside; of both where there is room."""
    from_: Annotated[Annotated[AnyLength, Limits(0.0, 100_000.0)] | None, Field(alias="from")] = None
    """Where one alone has its foot, along the wall from its left end; with `to`."""
    to: Annotated[AnyLength, Limits(0.0, 100_000.0)] | None = None
    """Where that one has its head."""

    @model_validator(mode="after")
    def _check(self) -> Self:
        if (self.from_ is None) != (self.to is None):
            raise unbuildable("accepted is from and to together, or neither")
        if self.from_ is not None and self.angle is not None:
            raise unbuildable("from and to give the angle; accepted is either of them, or the angle")
        return self

    @abstractmethod
    def _corners(self, wall: Wall, rises: Rises) -> Sequence[float]:
        """Where a foot may be, from the end on, mm along the wall."""

    def _off_studs(self, wall: Wall, rises: Rises) -> Sequence[float]:
        """Where else a foot may be, in the same order, where none of those serves: nowhere."""
        del wall, rises
        return ()

    @abstractmethod
    def _laid(self, wall: Wall, foot: float, angle: float, rises: Rises) -> tuple[Brace, ...]:
        """What is set from a foot at an angle; nothing where it does not reach the top plate."""

    @abstractmethod
    def _angle_between(self, wall: Wall, foot: float, head: float) -> float | None:
        """The angle from a foot to a head, degrees from level; `None` where they are over each other."""

    @abstractmethod
    def _in_the_way(self, wall: Wall) -> Sequence[tuple[str, Outline]]:
        """What a brace may not meet besides openings: what it is, and its outline."""

    def _placed(self, wall: Wall) -> tuple[list[Brace], list[Finding]]:
        """The braces of a wall.

        Raises:
            CannotFrame: there is no room, or none where the file says.
        """
        if self.from_ is not None and self.to is not None:
            return list(self._asked_for(wall, self.from_, self.to)), []
        wanted = [rises for rises in ENDS if self.ends in ("both", END_OF[rises])]
        blocked = [*_openings(wall), *self._in_the_way(wall)]
        if mirrored := self._mirrored(wall, wanted, blocked):
            return mirrored, []
        placed: list[Brace] = []
        without: list[str] = []
        for rises in wanted:
            group = self._first(wall, rises, [*blocked, *_outlines(placed)])
            placed += group
            if not group:
                without.append(END_OF[rises])
        # What holds for every wall alike leaves out where there is no room; what is asked for is refused.
        if not placed and (self.ends != "both" or self.angle is not None):
            raise self._no_room(wall)
        return placed, list(self._told(wall, without))

    def _told(self, wall: Wall, without: Sequence[str]) -> Iterator[Finding]:
        """What is to be said where there is no room from some ends."""
        if without:
            end = said("either end") if len(without) > 1 else said("the {end} end", end=without[0])
            run = Mm(self._least_run(wall), ".0f")
            yield BRACE_LEFT_OUT.of(value=float(len(without)), end=end, run=run)

    def _angles(self) -> Sequence[float]:
        if self.angle is not None:
            return (self.angle,)
        steps = (self.least + step for step in range(math.floor(self.most - self.least) + 1))
        return sorted(steps, key=lambda angle: (abs(angle - BEST), -angle))

    def _mirrored(
        self, wall: Wall, wanted: Sequence[Rises], blocked: Sequence[tuple[str, Outline]]
    ) -> list[Brace]:
        """Braces from the corners of both ends at one angle; none where they have no room so."""
        corners = [(next(iter(self._corners(wall, rises)), None), rises) for rises in wanted]
        for angle in self._angles():
            placed: list[Brace] = []
            for corner, rises in corners:
                group = () if corner is None else self._laid(wall, corner, angle, rises)
                if not group or _meeting(group, [*blocked, *_outlines(placed)]):
                    break
                placed += group
            else:
                return placed
        return []

    def _first(self, wall: Wall, rises: Rises, blocked: Sequence[tuple[str, Outline]]) -> tuple[Brace, ...]:
        coarse = self._angles()
        # Off the studs, which takes many tries, few angles serve.
        fine = [angle for angle in coarse if (angle - self.least) % COARSE == 0.0 or self.angle is not None]
        for feet, angles in ((self._corners(wall, rises), coarse), (self._off_studs(wall, rises), fine)):
            for foot in feet:
                for angle in angles:
                    group = self._laid(wall, foot, angle, rises)
                    if group and not _meeting(group, blocked):
                        return group
        return ()

    def _least_run(self, wall: Wall) -> float:
        steepest = self.most if self.angle is None else self.angle
        return wall.top.lowest(0.0, wall.length) / math.tan(math.radians(steepest))

    def _no_room(self, wall: Wall) -> CannotFrame:
        run = at_least(self._least_run(wall), ".0f")
        if self.angle is None:
            return CannotFrame(
                "no stretch from the {end} end on is clear of openings for the {run} or so that a brace takes"
                " at {most:g} degrees, its steepest; accepted is the other end, a longer wall, or null in"
                " this one, which is then braced by sheets",
                end=self.ends,
                run=run,
                most=self.most,
            ).at("ends")
        return CannotFrame(
            "no bay gives a brace at {angle:g} degrees, which takes {run} or so clear of openings; accepted"
            " is another angle from {least:g} to {most:g}, none, so that one is found, or null in this wall",
            angle=self.angle,
            run=run,
            least=self.least,
            most=self.most,
        ).at("angle")

    def _asked_for(self, wall: Wall, foot: float, head: float) -> tuple[Brace, ...]:
        """What the file asks for between two places.

        Raises:
            CannotFrame: it leaves the wall, is too flat or too steep, or runs through something.
        """
        for name, place in (("from", foot), ("to", head)):
            if place > wall.length + TOUCH:
                raise CannotFrame(
                    "{place} is out of the wall; accepted is {whole}",
                    place=Mm(place, ".0f"),
                    whole=Reach(0.0, wall.length, ".0f"),
                ).at(name)
        is_right = head > foot or (head == foot and foot <= wall.length / 2)
        rises: Rises = "right" if is_right else "left"
        angle = self._angle_between(wall, foot, head)
        if angle is None or not self.least - 1e-6 <= angle <= self.most + 1e-6:
            raise self._wrong_angle(wall, foot, angle, rises)
        group = self._laid(wall, foot, angle, rises)
        if not group:
            raise CannotFrame(
                "between these places it would leave the wall, or one of a pair be flatter than {least:g} or"
                " steeper than {most:g} degrees; accepted are places further from the ends",
                least=self.least,
                most=self.most,
            ).at("to")
        blocked = [*_openings(wall), *self._in_the_way(wall)]
        if met := _meeting(group, blocked):
            what, outline = met
            left, right, _, _ = bounds(outline)
            raise CannotFrame(
                "it would run through {what} at {place}; accepted is a place clear of it",
                what=what,
                place=Reach(left, right, ".0f"),
            ).at("from")
        return group

    def _wrong_angle(self, wall: Wall, foot: float, angle: float | None, rises: Rises) -> CannotFrame:
        low, high = (wall.top.at(foot) / math.tan(math.radians(limit)) for limit in (self.most, self.least))
        way = 1.0 if rises == "right" else -1.0
        near, far = sorted((foot + way * low, foot + way * high))
        return CannotFrame(
            "from there to here it would rise at {angle:.0f} degrees; accepted is {least:g} to {most:g}, so"
            " about {places}",
            angle=90.0 if angle is None else min(angle, 90.0),
            least=self.least,
            most=self.most,
            places=Reach(max(near, 0.0), min(far, wall.length), ".0f"),
        ).at("to")


def _openings(wall: Wall) -> list[tuple[str, Outline]]:
    return [(hole.name, rectangle(hole.left, hole.right, hole.bottom, hole.top)) for hole in wall.holes]


def _outlines(braces: Sequence[Brace]) -> Iterator[tuple[str, Outline]]:
    return (("a brace", brace.outline) for brace in braces)


def _meeting(group: Sequence[Brace], blocked: Sequence[tuple[str, Outline]]) -> tuple[str, Outline] | None:
    """The first of what is in the way that any of a group meets."""
    for brace in group:
        for what, outline in blocked:
            if overlap(brace.outline, outline):
                return what, outline
    return None
