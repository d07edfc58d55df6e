"""Places of the fixings of one joint: by the first way that has room."""

from __future__ import annotations

from soleplate.engine.fixing.joints import FoundJoint
from soleplate.engine.fixing.skewed import skewed
from soleplate.engine.fixing.straight import driven_straight
from soleplate.engine.fixing.surroundings import (
    Placement,
    Surroundings,
)
from soleplate.engine.rules import JointFixing


def placed(joint: FoundJoint, fixing: JointFixing, near: Surroundings) -> Placement | None:
    """The first way without a fault, else that with the least; taken in by `near`."""
    best: Placement | None = None
    for way in fixing.ways:
        found = skewed(joint, way, near) if way.way == "skew" else driven_straight(joint, way, near)
        if best is None or (_lacking(found), len(found.faults)) < (_lacking(best), len(best.faults)):
            best = found
        if not found.faults:
            break
    if best is not None:
        for each in best.driven:
            near.driven.add(each.line, best.way.fastener.diameter)
            if best.way.way != "skew":
                near.rows.add(joint.through, each.line)
                near.rows.add(joint.into, each.line)
            if each.before is not None:
                near.order.settle(joint.into, each.before)
    return best


def _lacking(placement: Placement) -> float:
    return sum(fault.needs - fault.has for fault in placement.faults if fault.what == "places")
