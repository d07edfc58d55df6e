"""Runs that cannot be jointed, told with their place and what would be accepted."""

from __future__ import annotations

import itertools
from collections.abc import Sequence

from soleplate.engine.covering.heading_joints.job import CourseRun, JointFault, JointRules
from soleplate.engine.covering.heading_joints.keeping import Kept, most_apart
from soleplate.engine.covering.heading_joints.task import PlacedRun
from soleplate.engine.covering.heading_joints.ways import NANO


def alone(run: PlacedRun, asked: CourseRun, longest: int, rules: JointRules) -> JointFault | None:
    """Why a run cannot be jointed even by itself, if so; `longest` is the longest board and a kerf, nm."""
    span = run.span
    if span.fewest[0] is not None:
        return None
    yields = longest / NANO - rules.kerf
    where = f"course {asked.course} of {asked.wall}"
    for left, right in itertools.pairwise(span.places):
        if right - left > yields:
            message = (
                f"{where} has no support for a joint between {left:.1f} and {right:.1f} mm, and the longest"
                f" board to be had is {yields:.1f} mm; accepted is a longer board, or a support between"
            )
            return JointFault("too-far", run.index, asked.wall, asked.course, left, right, message)
    message = (
        f"{where}, from {asked.left:.1f} to {asked.right:.1f} mm, cannot be made up of boards from"
        f" {rules.least_board:g} to {yields:.1f} mm with joints on supports; accepted are shorter or longer"
        " boards, or another support"
    )
    return JointFault("too-short", run.index, asked.wall, asked.course, asked.left, asked.right, message)


def together(wall: Sequence[PlacedRun], kept: Kept, apart: int) -> JointFault:
    """Why the courses of a wall cannot be jointed together."""
    run = wall[kept.stuck]
    left, right = run.span.places[0], run.span.places[-1]
    most = most_apart(wall, apart)
    found = "cannot be jointed" if kept.proven else "could not be jointed as far as was searched"
    message = (
        f"course {run.course} of {run.wall}, from {left:.1f} to {right:.1f} mm, {found} with joints on one"
        f" support {apart} courses apart; accepted are {most} courses apart, longer boards, or more supports"
    )
    return JointFault("rule", run.index, run.wall, run.course, left, right, message, courses_apart=most)
