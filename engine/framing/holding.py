"""What holds a wall's sole plates down, by its rule, looked at before it is used."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from soleplate.engine.framing.setting_out import WallTask
from soleplate.engine.registry import Asked
from soleplate.engine.rules import (
    Anchor,
    Finding,
    FloorRule,
    HeldDown,
    HoldingDownRule,
    SoleLength,
    Wall,
    picked,
)
from soleplate.engine.shapes import TOUCH, Member


@dataclass(frozen=True, slots=True)
class HeldSole:
    """A length of a sole plate with what holds it down."""

    sole: SoleLength
    down: HeldDown


def held_soles(wall: Wall, members: Sequence[Member], task: WallTask, asked: Asked) -> tuple[HeldSole, ...]:
    """Each length of the sole plate with what its rule holds it down by, from the left; none without a rule.

    Raises:
        UnbuildableError: the rule cannot serve what the wall stands on.
        RuleError: it failed, or set an anchor where none can be.
    """
    rule = task.rules.maybe("holding_down", HoldingDownRule)
    if rule is None:
        return ()
    held: list[HeldSole] = []
    for sole in _soles(wall, members, on_floor=bool(picked(FloorRule, task.building))):
        down = asked.whole(rule, asked(rule, rule.hold_down, sole), HeldDown)
        for wrong in _misplaced(sole, down.anchors):
            raise asked.fault(rule, wrong, "nonsense")
        held.append(HeldSole(sole, down))
    return tuple(held)


def found_under(wall: Wall, held: Sequence[HeldSole]) -> Iterator[Finding]:
    """What was found while sole plates were held down, each of the wall."""
    yield from (found.on(wall.name) for each in held for found in each.down.findings)


def _soles(wall: Wall, members: Sequence[Member], *, on_floor: bool) -> Iterator[SoleLength]:
    lying = sorted((m for m in members if m.role == "sole plate"), key=lambda member: member.left)
    standing = [
        m for m in members if wall.roles[m.role].stands and abs(m.bottom - wall.sole_thickness) < TOUCH
    ]
    for sole in lying:
        feet = sorted(
            (m.left, m.right) for m in standing if m.left < sole.right - TOUCH and m.right > sole.left + TOUCH
        )
        yield SoleLength(wall.name, sole.left, sole.right, sole.section, tuple(feet), on_floor)


def _misplaced(sole: SoleLength, anchors: Sequence[Anchor]) -> Iterator[str]:
    """What is wrong with the places of anchors, in the words of an error."""
    reach = sole.left
    for anchor in anchors:
        half = anchor.diameter / 2
        if not (half > 0.0 and anchor.length > 0.0):
            yield f"set a {anchor.kind.name} of {anchor.diameter} by {anchor.length} mm"
        elif not reach - TOUCH <= anchor.at - half or anchor.at + half > sole.right + TOUCH:
            yield (
                f"set a {anchor.kind.name} at {anchor.at:.1f} mm, out of the sole plate from"
                f" {sole.left:.1f} to {sole.right:.1f} mm, or where another anchor is; accepted are places in"
                " it, left to right"
            )
        elif any(
            left < anchor.at + half - TOUCH and anchor.at - half < right - TOUCH for left, right in sole.taken
        ):
            yield f"set a {anchor.kind.name} at {anchor.at:.1f} mm, under what stands there"
        reach = anchor.at + half
