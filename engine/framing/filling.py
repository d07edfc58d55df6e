"""Studs and cripples: the clear runs between the timbers that stand already, filled by the stud rule."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from types import MappingProxyType
from typing import NamedTuple

from soleplate.engine.building_file import Mm, Reach
from soleplate.engine.framing.findings import CRIPPLE_LEFT_OUT, MERGED_STUD, PACKED_BETWEEN
from soleplate.engine.framing.gaps import gaps
from soleplate.engine.framing.tasks import FramingTask
from soleplate.engine.registry import Asked, drawn_out
from soleplate.engine.rules import (
    LEAST_CRIPPLE,
    LEAST_GAP,
    NAILING_ROOM,
    Finding,
    FramedOpening,
    Run,
    StudRule,
    Wall,
)
from soleplate.engine.shapes import TOUCH, Member, TopLine, upright


@dataclass(frozen=True, slots=True)
class FilledRun:
    """A run from sole plate to top plate with the studs that stand in it (left faces), mm."""

    left: float
    right: float
    studs: tuple[float, ...]


@dataclass(frozen=True, slots=True)
class MissedStud:
    """A stud that was left out of a run, since timber stands in its way; lengths are mm.

    `place` is its left face, `studs` those of the run's others, `bottom` and `top` what it would stand on
    and reach. `finding` says so where it has room, but none to be nailed.
    """

    run: Run
    place: float
    studs: tuple[float, ...]
    bottom: float
    top: TopLine
    finding: Finding | None

    @property
    def centre(self) -> float:
        """Its centre line, mm."""
        return self.place + self.run.breadth / 2


class Filled(NamedTuple):
    """Studs or cripples, the runs that studs stand in, those left out, and what was found of others."""

    members: list[Member]
    runs: tuple[FilledRun, ...]
    missed: tuple[MissedStud, ...] = ()
    findings: tuple[Finding, ...] = ()


class InRun(NamedTuple):
    """The left faces of a run's studs, and of those left out, each with what is to be said of it."""

    kept: tuple[float, ...]
    missed: tuple[tuple[float, Finding | None], ...]

    @property
    def findings(self) -> tuple[Finding, ...]:
        """What is to be said."""
        return tuple(finding for _, finding in self.missed if finding is not None)

    def missed_studs(self, run: Run, bottom: float, top: TopLine) -> Iterator[MissedStud]:
        """Those left out, as they would have stood."""
        for place, finding in self.missed:
            yield MissedStud(run, place, self.kept, bottom, top, finding)


def fill_runs(
    wall: Wall,
    standing: Sequence[Member],
    framings: Sequence[FramedOpening],
    task: FramingTask,
    asked: Asked,
) -> Filled:
    """Studs in the clear runs between the timbers that stand already."""
    rule = task.rules.maybe("studs", StudRule)
    if rule is None:
        return Filled([], ())
    lines = tuple(line for framing in framings for line in framing.stud_lines)
    taken = sorted(
        [(m.left, m.right) for m in standing if m.is_upright] + [(f.left, f.right) for f in framings]
    )
    maker = asked.maker(rule)
    studs: list[Member] = []
    runs: list[FilledRun] = []
    missed: list[MissedStud] = []
    reach = taken[0][1]
    for left, right in taken[1:]:
        if left - reach > TOUCH:
            run = Run(reach, left, "whole", wall.breadth, wall.length, lines)
            beside_opening = (
                any(abs(framing.right - run.left) < TOUCH for framing in framings),
                any(abs(framing.left - run.right) < TOUCH for framing in framings),
            )
            places = places_in(run, wall.name, beside_opening, rule, asked, task.called)
            missed += places.missed_studs(run, wall.sole_thickness, wall.underside)
            runs.append(FilledRun(run.left, run.right, places.kept))
            made = (
                upright("stud", wall.section, place, wall.sole_thickness, wall.underside, made_by=maker)
                for place in places.kept
            )
            studs += [stud for stud in made if stud is not None]
        reach = max(reach, right)
    return Filled(studs, tuple(runs), tuple(missed))


def places_in(
    run: Run,
    part: str,
    beside_opening: tuple[bool, bool],
    rule: StudRule,
    asked: Asked,
    called: Mapping[str, str] = MappingProxyType({}),
) -> InRun:
    """The left faces of a run's studs: what the rule says, less what overlaps or cannot be nailed.

    `called` tells pieces of what is no wall.
    """
    breadth = run.breadth
    said = asked(rule, lambda run: [float(place) for place in drawn_out(rule.place_studs(run))], run)
    kept: list[float] = []
    missed: list[tuple[float, Finding | None]] = []
    for place in said:
        if not -1e9 < place < 1e9:
            raise asked.fault(rule, "placed a stud at something that is not a number")
        if place + breadth < run.left - TOUCH or place > run.right + TOUCH:
            raise asked.fault(
                rule,
                f"placed a stud at {place:.1f} mm, outside the run from {run.left:.1f} to {run.right:.1f} mm",
                "outside the wall",
            )
        gaps = (place - run.left, run.right - place - breadth)
        if min(gaps) < -TOUCH:
            missed.append((place, None))
            continue
        if kept and place < kept[-1] + breadth - TOUCH:
            raise asked.fault(
                rule, f"placed studs at {kept[-1]:.1f} and {place:.1f} mm, which overlap", "overlap"
            )
        if any(beside and gap < NAILING_ROOM for beside, gap in zip(beside_opening, gaps, strict=True)):
            missed.append((place, _merged(run, part, place, min(gaps), called)))
            continue
        kept.append(place)
    return InRun(tuple(kept), tuple(missed))


def _merged(run: Run, part: str, place: float, gap: float, called: Mapping[str, str]) -> Finding:
    usual = "stud" if run.place == "whole" else "cripple"
    return MERGED_STUD.of(
        part=part,
        value=round(gap, 3),
        limit=NAILING_ROOM,
        what=called.get(usual, usual),
        upright=called.get("stud", "stud"),
        place=Mm(place, ".0f"),
        gap=Mm(gap, ".0f"),
    )


def cripples_of(
    wall: Wall,
    framings: Sequence[FramedOpening],
    task: FramingTask,
    asked: Asked,
) -> Filled:
    """Cripples over and under the openings; those that there is no room for are reported."""
    rule = task.rules.maybe("studs", StudRule)
    if rule is None:
        return Filled([], ())
    lines = tuple(line for framing in framings for line in framing.stud_lines)
    maker = asked.maker(rule)
    made: list[Member] = []
    missed: list[MissedStud] = []
    findings: list[Finding] = []
    for gap in gaps(wall, framings):
        height = gap.line.lowest(gap.left, gap.right) - gap.bottom
        if gap.between is not None and height < LEAST_CRIPPLE - TOUCH:
            findings += [each for each in _packed(wall, *gap.between, height) if each not in findings]
            continue
        if gap.right - gap.left < wall.breadth:
            continue
        run = Run(gap.left, gap.right, gap.place, wall.breadth, wall.length, lines)
        places_of = places_in(run, wall.name, (True, True), rule, asked, task.called)
        missed += places_of.missed_studs(run, gap.bottom, gap.line)
        for left in places_of.kept:
            height = gap.line.lowest(left, left + wall.breadth) - gap.bottom
            if height < LEAST_CRIPPLE - TOUCH:
                findings.append(_too_short(wall, left, height, task))
                continue
            cripple = upright("cripple", wall.section, left, gap.bottom, gap.line, made_by=maker)
            if cripple is not None:
                made.append(cripple)
    return Filled(made, (), tuple(missed), tuple(findings))


def _packed(wall: Wall, bed: Member, lid: Member, height: float) -> Iterator[Finding]:
    """That what lies between two openings one above the other is to be packed."""
    if height > LEAST_GAP:
        yield PACKED_BETWEEN.of(
            part=wall.name,
            value=round(height, 3),
            limit=LEAST_CRIPPLE,
            room=Mm(height, ".1f"),
            bed=bed.role,
            lid=lid.role,
            place=Reach(max(bed.left, lid.left), min(bed.right, lid.right), ".0f"),
        )


def _too_short(wall: Wall, left: float, height: float, task: FramingTask) -> Finding:
    return CRIPPLE_LEFT_OUT.of(
        part=wall.name,
        value=round(height, 3),
        limit=LEAST_CRIPPLE,
        what=task.called.get("cripple", "cripple"),
        left=Mm(left, ".0f"),
        height=Mm(max(height, 0.0), ".0f"),
        least=Mm(LEAST_CRIPPLE),
    )
