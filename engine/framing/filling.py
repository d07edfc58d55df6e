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
from soleplate.engine.shapes import TOUCH, Member, upright


@dataclass(frozen=True, slots=True)
class FilledRun:
    """A run from sole plate to top plate with the studs that stand in it (left faces), mm."""

    left: float
    right: float
    studs: tuple[float, ...]


class Filled(NamedTuple):
    """Studs or cripples, the runs that studs stand in, and what was found."""

    members: list[Member]
    runs: tuple[FilledRun, ...]
    findings: tuple[Finding, ...]


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
        return Filled([], (), ())
    lines = tuple(line for framing in framings for line in framing.stud_lines)
    taken = sorted(
        [(m.left, m.right) for m in standing if m.is_upright] + [(f.left, f.right) for f in framings]
    )
    maker = asked.maker(rule)
    studs: list[Member] = []
    runs: list[FilledRun] = []
    findings: list[Finding] = []
    reach = taken[0][1]
    for left, right in taken[1:]:
        if left - reach > TOUCH:
            run = Run(reach, left, "whole", wall.breadth, wall.length, lines)
            beside_opening = (
                any(abs(framing.right - run.left) < TOUCH for framing in framings),
                any(abs(framing.left - run.right) < TOUCH for framing in framings),
            )
            places, merged = places_in(run, wall.name, beside_opening, rule, asked, task.called)
            findings += merged
            runs.append(FilledRun(run.left, run.right, tuple(places)))
            made = (
                upright("stud", wall.section, place, wall.sole_thickness, wall.underside, made_by=maker)
                for place in places
            )
            studs += [stud for stud in made if stud is not None]
        reach = max(reach, right)
    return Filled(studs, tuple(runs), tuple(findings))


def places_in(
    run: Run,
    part: str,
    beside_opening: tuple[bool, bool],
    rule: StudRule,
    asked: Asked,
    called: Mapping[str, str] = MappingProxyType({}),
) -> tuple[list[float], list[Finding]]:
    """The left faces of a run's studs: what the rule says, less what overlaps or cannot be nailed.

    With them, what was found of those that cannot be nailed; `called` tells pieces of what is no wall.
    """
    breadth = run.breadth
    said = asked(rule, lambda run: [float(place) for place in drawn_out(rule.place_studs(run))], run)
    kept: list[float] = []
    findings: list[Finding] = []
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
            continue
        if kept and place < kept[-1] + breadth - TOUCH:
            raise asked.fault(
                rule, f"placed studs at {kept[-1]:.1f} and {place:.1f} mm, which overlap", "overlap"
            )
        if any(beside and gap < NAILING_ROOM for beside, gap in zip(beside_opening, gaps, strict=True)):
            findings.append(_merged(run, part, place, min(gaps), called))
            continue
        kept.append(place)
    return kept, findings


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
        return Filled([], (), ())
    lines = tuple(line for framing in framings for line in framing.stud_lines)
    maker = asked.maker(rule)
    made: list[Member] = []
    findings: list[Finding] = []
    for gap in gaps(wall, framings):
        height = gap.line.lowest(gap.left, gap.right) - gap.bottom
        if gap.between is not None and height < LEAST_CRIPPLE - TOUCH:
            findings += [each for each in _packed(wall, *gap.between, height) if each not in findings]
            continue
        if gap.right - gap.left < wall.breadth:
            continue
        run = Run(gap.left, gap.right, gap.place, wall.breadth, wall.length, lines)
        lefts, merged = places_in(run, wall.name, (True, True), rule, asked, task.called)
        findings += merged
        for left in lefts:
            height = gap.line.lowest(left, left + wall.breadth) - gap.bottom
            if height < LEAST_CRIPPLE - TOUCH:
                findings.append(_too_short(wall, left, height, task))
                continue
            cripple = upright("cripple", wall.section, left, gap.bottom, gap.line, made_by=maker)
            if cripple is not None:
                made.append(cripple)
    return Filled(made, (), tuple(findings))


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
