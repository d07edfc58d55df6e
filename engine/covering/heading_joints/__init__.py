"""Heading joints: where the boards of all courses meet end to end, so that least timber is bought.

All courses given are planned together, so that what is left of one board begins another course, on another
wall if need be. `plan_joints` is a pure function of its arguments.
"""

from __future__ import annotations

from soleplate.engine.covering.heading_joints.job import (
    BoardLength,
    CourseRun,
    JointPlan,
    JointRules,
)
from soleplate.engine.covering.heading_joints.plan import EFFORT, fewest_boards, plan_joints
