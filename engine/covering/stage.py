"""The stage between framing and numbering: every wall that has a cladding rule gets its boards."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from functools import partial

from soleplate.engine.building_file import Building
from soleplate.engine.covering.boards import Board, Length, boards_of, lengths_of, supports_of
from soleplate.engine.covering.checking import faulty
from soleplate.engine.covering.corner_boards import corner_strips, within_corner_boards
from soleplate.engine.covering.faces import Claddings, face_of
from soleplate.engine.covering.fixings import (
    clear_of_edges,
    fixed,
    fixed_along,
    fixed_ends,
    fixed_sheet,
    fixed_to_raking,
)
from soleplate.engine.covering.jointing import heading_joints
from soleplate.engine.covering.sheet_cutting import sheets_bought
from soleplate.engine.framing import Asked, Frame
from soleplate.engine.layout import PRACTICE, BoardsOut, Finding
from soleplate.engine.registry import Registry
from soleplate.engine.rules import Clad, CladdingRule, Course, Face, Facing, Remark, Strip, Support
from soleplate.engine.shapes import TOUCH


@dataclass(frozen=True, slots=True)
class Cladding:
    """What lies on one face of a wall: its rule, the face, the courses it shares, its boards in order.

    `too_long` are boards that can neither be had nor jointed, each with the longest that can be had, mm.
    """

    rule: CladdingRule
    face: Face
    courses: tuple[Course, ...]
    boards: tuple[Board, ...]
    too_long: tuple[tuple[Board, float], ...] = ()
    findings: tuple[Finding, ...] = ()


@dataclass(slots=True)
class _Work:
    """The cladding or lining of a wall in the making."""

    rule: CladdingRule
    face: Face
    courses: tuple[Course, ...]
    clad: Clad
    asked: Asked
    battens: list[Board] = field(default_factory=list)
    boards: list[Board] = field(default_factory=list)
    too_long: list[tuple[Board, float]] = field(default_factory=list)
    findings: list[Finding] = field(default_factory=list)


@dataclass(frozen=True, slots=True)
class CladWalls:
    """The cladding and lining of each wall that has any, by its name and the side, and what is bought."""

    by_face: Mapping[tuple[str, Facing], Cladding]
    boards: tuple[BoardsOut, ...]


def clad_walls(frames: Sequence[Frame], building: Building, registry: Registry) -> CladWalls:
    """The cladding and the lining of all walls.

    Courses are chosen for all walls together whose rules agree in what decides them on one side, heading
    joints for all boards of one kind on both.

    Raises:
        UnbuildableError: a wall cannot be clad so.
        RuleError: a rule failed, or returned what cannot be.
    """
    works = _asked_all(frames, registry)
    _tell_of_other_courses(works)
    bought = (*_cut(works, building, battens=True), *_cut(works, building, battens=False))
    bought += sheets_bought((board for work in works for board in work.boards), building.stock.kerf)
    by_face = {
        work.face.key: Cladding(
            work.rule,
            work.face,
            work.courses,
            (*work.battens, *work.boards),
            tuple(work.too_long),
            tuple(work.findings),
        )
        for work in works
    }
    return CladWalls(by_face, bought)


def _asked_all(frames: Sequence[Frame], registry: Registry) -> list[_Work]:
    """The strips of every face that has a rule, as the rules lay them: outsides first, then insides."""
    sides: tuple[Facing, ...] = ("outside", "inside")
    chosen = {
        (frame.wall.name, side): (frame, rule)
        for side in sides
        for frame in frames
        for rule in (frame.task.rules.maybe("cladding" if side == "outside" else "lining", CladdingRule),)
        if rule is not None
    }
    claddings: Claddings = {key: rule for key, (_, rule) in chosen.items()}
    groups: dict[tuple[bool, str], list[tuple[CladdingRule, Face, Asked]]] = {}
    for (_, side), (frame, rule) in chosen.items():
        face = face_of(frame.wall, frame.plates.top or frame.wall.top, claddings, side)
        indoors = side == "inside" or frame.task.plan.is_partition
        groups.setdefault((indoors, rule.courses_by), []).append((rule, face, Asked(frame.task, registry)))
    works: dict[tuple[str, Facing], _Work] = {}
    for members in groups.values():
        faces = [within_corner_boards(face, rule, claddings) for rule, face, _ in members]
        courses = _courses(members[0][0], faces, members[0][2])
        for (rule, whole, asked), face in zip(members, faces, strict=True):
            clad = asked(rule, partial(rule.lay, face, courses))
            if not isinstance(clad, Clad):
                raise asked.fault(rule, f"returned {type(clad).__name__}, not Clad")
            message = faulty(clad, face, rule)
            if message:
                raise asked.fault(rule, message)
            bottom = min((strip.whole.bottom for strip in clad.strips), default=0.0)
            corners = corner_strips(whole, rule, claddings, bottom)
            clad = replace(clad, strips=(*clad.strips, *corners))
            work = _Work(rule, whole, courses, clad, asked)
            work.findings += [_remark(whole, remark) for remark in clad.reported]
            works[whole.key] = work
    return [works[key] for key in chosen]


def _tell_of_other_courses(works: Sequence[_Work]) -> None:
    """Tell at each corner where level courses of two walls do not meet."""
    level = {work.face.key: work for work in works if work.courses}
    for (name, facing), work in level.items():
        for end in work.face.ends:
            side: Facing = "inside" if end.kind == "tee" else facing
            other = level.get((end.neighbour or "", side))
            if end.kind in ("butts", "tee") and other is not None and other.courses != work.courses:
                what = "cladding" if facing == "outside" and end.kind != "tee" else "lining"
                work.findings.append(
                    Finding(
                        level="note",
                        code="courses-apart",
                        message=f"the courses of its {what} do not line up with those of"
                        f" {other.face.wall.name} round the corner, since theirs are set out otherwise",
                        wall=name,
                        basis=PRACTICE,
                    )
                )


def _courses(rule: CladdingRule, faces: Sequence[Face], asked: Asked) -> tuple[Course, ...]:
    courses = asked(rule, lambda: tuple(rule.choose_courses(faces)))
    for course in courses:
        if not isinstance(course, Course):
            raise asked.fault(rule, f"returned {type(course).__name__} where a Course belongs")
    return courses


def _remark(face: Face, remark: Remark) -> Finding:
    code, message, value = remark
    where = "" if face.facing == "outside" else "in its lining, "
    return Finding(
        level="warn",
        code=code,
        message=f"{where}{message}",
        wall=face.wall.name,
        value=value,
        basis=PRACTICE,
    )


def _cut(works: Sequence[_Work], building: Building, *, battens: bool) -> tuple[BoardsOut, ...]:
    """Cut, joint and fix the battens, or the boards, of all walls; and what they are cut from."""
    lengths: list[Length] = []
    owners: list[_Work] = []
    for work in works:
        if battens:
            # What lies on battens of the frame crosses them; so they come first.
            first = [strip for strip in work.clad.battens if not strip.on_battens]
            made = lengths_of(work.face, first, _Behind(work, ()))
            others = [strip for strip in work.clad.battens if strip.on_battens]
            made += lengths_of(work.face, others, _Behind(work, made))
        else:
            made = lengths_of(work.face, work.clad.strips, _Behind(work, work.battens))
        lengths += made
        owners += [work] * len(made)
    jointed = heading_joints(lengths, [work.rule for work in owners], building)
    for work, length, joints, longest in zip(owners, lengths, jointed.joints, jointed.longest, strict=True):
        boards = [_fixed(board, length, work) for board in boards_of(length, joints)]
        (work.battens if battens else work.boards).extend(boards)
        if length.strip.role != "sheet":
            work.too_long += [(board, longest) for board in boards if board.length > longest + TOUCH]
    for work in works:
        work.findings += [finding for face, finding in jointed.findings if face.key == work.face.key]
    return jointed.bought


class _Behind:
    """Tells what a strip of one wall crosses: studs, or the battens that are laid already."""

    def __init__(self, work: _Work, battens: Sequence[Length | Board]) -> None:
        self._studs = work.face.studs
        self._battens = {upright: supports_of(battens, upright=upright) for upright in (False, True)}

    def __call__(self, strip: Strip) -> tuple[Support, ...]:
        if strip.on_battens:
            return self._battens[strip.upright]
        return () if strip.upright and strip.role != "sheet" else self._studs


def _fixed(board: Board, length: Length, work: _Work) -> Board:
    """A board with its fixings; the battens that it may lie on have theirs."""
    rule, strip = work.rule, board.strip
    top = length.face.top.raised(-rule.over_plate)
    if strip.role == "sheet":
        return fixed_sheet(board, length.supports, length.face.timbers, top)
    if strip.lies_along or (strip.upright and not strip.on_battens):
        return clear_of_edges(fixed_along(board, top, rule.end_distance))
    raking = [batten.member for batten in work.battens if batten.strip.raking] if strip.on_battens else []
    found = fixed(board, length.supports, top, rule.end_distance)
    if strip.upright:
        found = fixed_to_raking(found, raking)
    else:
        behind = raking if strip.on_battens else length.face.timbers
        found = fixed_ends(found, [member.outline for member in behind], rule.end_distance)
    return clear_of_edges(found)
