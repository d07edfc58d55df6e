"""Choosing the heading joints of all courses together."""

from __future__ import annotations

from collections.abc import Sequence

from soleplate.engine.heading_joints.job import BoardLength, CourseRun, JointPlan, JointRules


def plan_joints(
    runs: Sequence[CourseRun], stock: Sequence[BoardLength], rules: JointRules | None = None
) -> JointPlan:
    """The joints of all runs, the lengths to buy for them, and a bound on what any choice must buy.

    Args:
        runs: stretches of courses, in any order.
        stock: lengths on sale, as many of each as wanted; at least one.
        rules: what joints and cuts keep to; `JointRules()` unless given.

    Raises:
        ValueError: a figure out of its range, no stock, or prices for some lengths only.

    """
    raise NotImplementedError
