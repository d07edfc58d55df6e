"""Each opening that has a rule for it is finished, and what that returns is looked at."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from soleplate.engine.building_file import ANY, Opening, Room, UnbuildableError, WallBlock
from soleplate.engine.covering import Covered
from soleplate.engine.finishing.clashes import InPlace, in_place, overlap_among, overlap_with
from soleplate.engine.framing import Frame, Part
from soleplate.engine.registry import Asked, Registry
from soleplate.engine.rules import (
    FaceBeside,
    Facing,
    FinishedOpening,
    FinishRule,
    Hole,
    OpeningToFinish,
    picked,
)
from soleplate.engine.shapes import TOUCH, Solid, overlap_in_space, rectangle


@dataclass(frozen=True, slots=True)
class Finish:
    """An opening with the rule that finishes it and what that returned."""

    hole: Hole
    rule: FinishRule
    done: FinishedOpening


def finish_openings(
    frames: Sequence[Frame], laid: Sequence[Part], covered: Covered, registry: Registry, room: Room = ANY
) -> Mapping[str, tuple[Finish, ...]]:
    """The finished openings of each wall, in the order of the file; nothing of a wall without any.

    Args:
        frames: the walls.
        laid: floors and slopes.
        covered: what lies on all of them.
        registry: brings the rules.
        room: how many pieces there may be.

    Raises:
        UnbuildableError: an opening cannot be finished so, or a piece of it would stand in something else.
        TooManyPiecesError: there are more pieces than `room` for them.
        RuleError: a rule failed, or returned what cannot be.
    """
    wanted = [(frame, index, rule) for frame in frames for index, rule in _rules(frame)]
    if not wanted:
        return {}
    there = list(in_place([*(frame.part for frame in frames), *laid], covered))
    floors = [each for each in there if each.part in {part.name for part in laid if part.kind == "floor"}]
    finished: dict[str, tuple[Finish, ...]] = {}
    for frame, index, rule in wanted:
        asked, pointer = frame.task.asked(registry), _pointer(frame, index)
        done = _finished(frame, index, rule, asked, covered, floors)
        room = room.after(len(done.members))
        made = [InPlace.of(frame.part, member) for member in done.members]
        hole = frame.wall.holes[index]
        if pair := overlap_among(made, frame.wall.roles):
            said = f"a {pair[1].role} of {hole.name} overlaps a {pair[0].role} of it"
            raise asked.fault(rule, said, "overlap")
        if pair := overlap_with(made, there):
            raise UnbuildableError.at(
                pointer,
                f"a {pair[0].role} of {hole.name} would stand in a {pair[1].role} of {pair[1].part};"
                " accepted is an opening further from it, narrower pieces, or the finish as-framed",
            )
        there += made
        finish = Finish(hole, rule, done)
        finished[frame.wall.name] = (*finished.get(frame.wall.name, ()), finish)
    return finished


def _openings(frame: Frame) -> tuple[Opening, ...]:
    return frame.task.building.walls.get(frame.wall.name, WallBlock()).openings


def _rules(frame: Frame) -> Iterator[tuple[int, FinishRule]]:
    """The rule of each opening that has one: its own, or that of the wall."""
    usual = frame.task.rules.every("openings_finish", FinishRule)
    for index, opening in enumerate(_openings(frame)):
        for rule in picked(FinishRule, opening) or usual:
            yield index, rule


def _pointer(frame: Frame, index: int) -> str:
    """The JSON pointer of what an opening says of its finish, or of itself where the wall says it."""
    pointer = frame.task.pointer(index)
    return f"{pointer}/finish" if _is_own(frame, index) else pointer


def _is_own(frame: Frame, index: int) -> bool:
    """Whether an opening asks for its finish itself."""
    return bool(picked(FinishRule, _openings(frame)[index]))


def _finished(
    frame: Frame, index: int, rule: FinishRule, asked: Asked, covered: Covered, floors: Sequence[InPlace]
) -> FinishedOpening:
    hole = frame.wall.holes[index]
    opening = OpeningToFinish(
        hole=hole,
        wall=frame.wall,
        outside=_face(frame, "outside", covered),
        inside=_face(frame, "inside", covered),
        foot=_foot(frame, hole, floors),
        indoors=frame.task.plan.is_partition,
        own=_is_own(frame, index),
    )
    done = asked(rule, rule.finish_opening, opening, pointer=_pointer(frame, index))
    done = asked.whole(rule, done, FinishedOpening)
    clear = done.clear
    if not (
        hole.left - TOUCH <= clear.left < clear.right <= hole.right + TOUCH
        and hole.bottom - TOUCH <= clear.bottom < clear.top <= hole.top + TOUCH
    ):
        raise asked.fault(rule, f"leaves {clear} clear; accepted is a rectangle within {hole.name}")
    outside, inside = (asked.members(rule, members) for members in (done.outside, done.inside))
    leaves = tuple(replace(leaf, members=asked.members(rule, leaf.members)) for leaf in done.leaves)
    return replace(done, outside=outside, inside=inside, leaves=leaves)


def _face(frame: Frame, facing: Facing, covered: Covered) -> FaceBeside:
    """A face as it is beside openings, covered or bare."""
    wall, top = frame.wall, frame.plates.top or frame.wall.top
    cladding = covered.claddings.get((wall.name, facing))
    if cladding is None or cladding.rule.lays_nothing:
        return FaceBeside(0.0, 0.0, 0.0, wall.length, top)
    rule, surface = cladding.rule, cladding.surface
    return FaceBeside(rule.build_out, rule.clearance, surface.left, surface.right, surface.top)


def _foot(frame: Frame, hole: Hole, floors: Sequence[InPlace]) -> float:
    """What pieces in a hole stand on: its underside, or the top of what a floor has in it, mm."""
    outline = rectangle(hole.left, hole.right, hole.bottom, hole.top)
    gap = Solid(outline, frame.wall.through_wall, frame.part.views[0])
    tops = [each.solid.extent[1][2] for each in floors if overlap_in_space(each.solid, gap)]
    return max(hole.bottom, *tops) if tops else hole.bottom
