"""A roof framed by its rule, where the building file picks one."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from soleplate.engine.building_file import Building, pointer_within
from soleplate.engine.framing import Frame, Part
from soleplate.engine.registry import Asked, Registry
from soleplate.engine.rules import Finding, RoofFrame, RoofRule, RoofShape, Rule, picked


@dataclass(frozen=True, slots=True)
class FramedRoof:
    """A framed roof: its slopes as parts, and what was found."""

    parts: tuple[Part, ...]
    findings: tuple[Finding, ...]


def frame_roof(building: Building, frames: Sequence[Frame], registry: Registry) -> FramedRoof | None:
    """Frame the roof over framed walls; `None` where the building file picks no rule for it.

    Raises:
        UnbuildableError: it cannot be framed so.
        RuleError: the rule failed, or returned what cannot be.
    """
    roof = building.roof
    rule = next(iter(picked(RoofRule, roof)), None)
    if rule is None:
        return None
    asked = Asked("roof", "roof", lambda rule: _pointer_to(building, rule), registry)
    shape = _shape(building, frames)
    frame = asked.whole(rule, asked(rule, rule.lay_roof, shape, ()), RoofFrame)
    return FramedRoof((), frame.findings)


def _pointer_to(building: Building, rule: Rule) -> str:
    return pointer_within(building, rule) or "/roof/frame"


def _shape(building: Building, frames: Sequence[Frame]) -> RoofShape:
    raise NotImplementedError  # no rule that ships asks for it yet
