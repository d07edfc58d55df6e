"""What keeps a wall from racking, by its rules, looked at before it is used; housings for what is let in."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from soleplate.engine.framing.setting_out import WallTask
from soleplate.engine.framing.soundness import Envelope, meets, refuse_unsound
from soleplate.engine.registry import Asked, Registry
from soleplate.engine.rules import Brace, Braced, BracingRule, Finding, Wall
from soleplate.engine.shapes import TOUCH, Housing, Member, area, shared


@dataclass(frozen=True, slots=True)
class BracedBy:
    """What a rule braces a wall with."""

    rule: str
    braced: Braced


def brace(
    wall: Wall, envelope: Envelope, task: WallTask, asked: Asked, registry: Registry
) -> tuple[Wall, tuple[BracedBy, ...]]:
    """A wall with its braces among its members, and what each rule braced it with.

    Raises:
        UnbuildableError: the wall has no room for a brace.
        RuleError: a rule failed, left out what it may not, or set a brace where none can be.
    """
    done: list[BracedBy] = []
    for rule in task.rules.every("bracing", BracingRule):
        answer = asked.whole(rule, asked(rule, rule.brace_wall, wall), Braced)
        for wrong in _wrong(wall, answer):
            raise asked.fault(rule, wrong, "nonsense")
        members = tuple(member for member in wall.members if member not in answer.left_out)
        braces = tuple(
            replace(each, members=asked.mark(rule, [replace(m, housings=()) for m in each.members]))
            for each in answer.braces
        )
        for each in braces:
            members = (*(_housed(member, each) for member in members), *each.members)
        wall = replace(wall, members=members)
        refuse_unsound(members, envelope, registry, wall.name, changed_by=asked.maker(rule))
        done.append(BracedBy(rule.name, replace(answer, braces=braces)))
    return wall, tuple(done)


def found_in(wall: Wall, done: Sequence[BracedBy]) -> Iterator[Finding]:
    """What was found while a wall was braced."""
    yield from (found.on(wall.name) for each in done for found in each.braced.findings)


def _housed(member: Member, brace: Brace) -> Member:
    """A member with a housing for each timber that is let into it."""
    if not brace.let_in:
        return member
    housings = list(member.housings)
    for let_in in brace.members:
        deep = max(member.depth[0], let_in.depth[0]), min(member.depth[1], let_in.depth[1])
        outline = shared(member.outline, let_in.outline)
        if outline and deep[1] - deep[0] > TOUCH and meets(member, let_in):
            housings.append(Housing(outline, deep, let_in.grain, brace.width))
    return replace(member, housings=tuple(housings)) if len(housings) > len(member.housings) else member


def _wrong(wall: Wall, answer: Braced) -> Iterator[str]:
    """What is wrong with an answer, in the words of an error."""
    for member in answer.left_out:
        if member not in wall.members:
            yield f"left out a {member.role} that is not in the wall"
        elif not wall.roles[member.role].fills:
            yield f"left out a {member.role}; accepted is to leave out what only fills, such as noggins"
    for brace in answer.braces:
        if (brace.strap is None) == (not brace.members):
            yield "returned a brace that is not either of timber or a strap"
        elif not brace.width > 0.0 or not brace.length > 0.0 or area(brace.outline) < 1.0:
            yield f"returned a brace {brace.length} mm long and {brace.width} mm broad"
        elif any(not (-TOUCH <= x <= wall.length + TOUCH and z >= -TOUCH) for x, z in brace.outline):
            yield "returned a brace that leaves the wall"
