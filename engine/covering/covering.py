"""Covering surfaces: rules lay strips, which are cut, jointed and fixed for all surfaces together."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from soleplate.engine.building_file import ANY, Room, Stock
from soleplate.engine.covering.boards import Board, Length, boards_of, lengths_of, supports_of
from soleplate.engine.covering.checking import faulty
from soleplate.engine.covering.corner_boards import corner_strips, within_corner_boards
from soleplate.engine.covering.findings import COURSES_APART
from soleplate.engine.covering.fixings import fixed_board
from soleplate.engine.covering.jointing import heading_joints
from soleplate.engine.covering.sheet_cutting import sheets_bought
from soleplate.engine.covering.sure import sure
from soleplate.engine.layout import BoardsOut
from soleplate.engine.registry import Asked
from soleplate.engine.rules import Clad, CladdingRule, Course, Facing, Finding, Strip, Support, Surface
from soleplate.engine.shapes import TOUCH

SurfaceKey = tuple[str, Facing]
"""A part's name and the side."""


@dataclass(frozen=True, slots=True)
class ToCover:
    """A surface and the rule that covers it; `asked` asks it. Courses are shared within its `group` alone."""

    rule: CladdingRule
    surface: Surface
    asked: Asked
    group: str


@dataclass(frozen=True, slots=True)
class Cladding:
    """What lies on one surface: its rule, the courses that it shares, its battens and boards in order.

    `too_long` are boards that can neither be had nor jointed, each with the longest that can be had, mm.
    """

    rule: CladdingRule
    surface: Surface
    courses: tuple[Course, ...]
    boards: tuple[Board, ...]
    too_long: tuple[tuple[Board, float], ...] = ()
    findings: tuple[Finding, ...] = ()


@dataclass(frozen=True, slots=True)
class Covered:
    """What lies on each surface, and what all of it is cut from."""

    claddings: Mapping[SurfaceKey, Cladding]
    bought: tuple[BoardsOut, ...]


@dataclass(frozen=True, slots=True)
class _Laid:
    """What a rule laid on a surface, corner boards among its strips."""

    task: ToCover
    courses: tuple[Course, ...]
    clad: Clad

    @property
    def surface(self) -> Surface:
        return self.task.surface


@dataclass(frozen=True, slots=True)
class _Cut:
    """The boards cut from the strips of each surface, those too long, what is found, and what is bought."""

    boards: Mapping[SurfaceKey, tuple[Board, ...]]
    too_long: Mapping[SurfaceKey, tuple[tuple[Board, float], ...]]
    findings: Mapping[SurfaceKey, tuple[Finding, ...]]
    bought: tuple[BoardsOut, ...]


def cover(tasks: Sequence[ToCover], stock: Stock, room: Room = ANY) -> Covered:
    """Cover all surfaces.

    Courses are chosen for all surfaces together whose rules agree in what decides them, each group of
    surfaces apart, and heading joints for all boards of one kind.

    Raises:
        UnbuildableError: a surface cannot be covered so.
        TooManyPiecesError: there are more battens and boards than `room` for them.
        RuleError: a rule failed, or returned what cannot be.
    """
    laid = _laid(tasks, room)
    apart = _courses_apart(laid)
    # What lies on battens of the frame crosses them; so the battens are cut first.
    battens = _cut(laid, {}, stock, room, battens=True)
    room = room.after(sum(map(len, battens.boards.values())))
    boards = _cut(laid, battens.boards, stock, room, battens=False)
    sheets = sheets_bought((board for each in laid for board in boards.boards[each.surface.key]), stock.kerf)
    claddings = {
        key: Cladding(
            each.task.rule,
            each.surface,
            each.courses,
            (*battens.boards[key], *boards.boards[key]),
            (*battens.too_long[key], *boards.too_long[key]),
            (
                *(found.on(each.surface.part).after(each.surface.where) for found in each.clad.findings),
                *apart.get(key, ()),
                *battens.findings[key],
                *boards.findings[key],
            ),
        )
        for each in laid
        for key in (each.surface.key,)
    }
    return Covered(claddings, (*battens.bought, *boards.bought, *sheets))


def _laid(tasks: Sequence[ToCover], room: Room) -> list[_Laid]:
    """The strips of every surface, as the rules lay them, in the order of the tasks."""
    rules = {task.surface.key: task.rule for task in tasks}
    groups: dict[tuple[str, str], list[ToCover]] = {}
    for task in tasks:
        groups.setdefault((task.group, task.rule.courses_by), []).append(task)
    laid: dict[SurfaceKey, _Laid] = {}
    for members in groups.values():
        between = [within_corner_boards(task.surface, task.rule, rules) for task in members]
        courses = _courses(members[0], between)
        for task, surface in zip(members, between, strict=True):
            clad = _clad(task, surface, courses)
            room = room.after(sure(surface, (*clad.battens, *clad.strips)))
            bottom = min((strip.whole.bottom for strip in clad.strips), default=0.0)
            corners = corner_strips(task.surface, task.rule, rules, bottom)
            laid[task.surface.key] = _Laid(task, courses, replace(clad, strips=(*clad.strips, *corners)))
    return [laid[task.surface.key] for task in tasks]


def _courses(first: ToCover, surfaces: Sequence[Surface]) -> tuple[Course, ...]:
    courses = first.asked.several(first.rule, first.rule.choose_courses, tuple(surfaces))
    return tuple(first.asked.whole(first.rule, course, Course) for course in courses)


def _clad(task: ToCover, surface: Surface, courses: tuple[Course, ...]) -> Clad:
    clad = task.asked(task.rule, task.rule.lay, surface, courses)
    clad = task.asked.whole(task.rule, clad, Clad)
    task.asked.known_roles(task.rule, (strip.role for strip in (*clad.battens, *clad.strips)))
    if message := faulty(clad, surface, task.rule):
        raise task.asked.fault(task.rule, message)
    return clad


def _courses_apart(laid: Iterable[_Laid]) -> dict[SurfaceKey, list[Finding]]:
    """At each corner where level courses of two walls do not meet, that they do not."""
    level = {each.surface.key: each for each in laid if each.courses}
    found: dict[SurfaceKey, list[Finding]] = {}
    for (name, facing), each in level.items():
        for end in each.surface.ends:
            side: Facing = "inside" if end.kind == "tee" else facing
            other = level.get((end.neighbour or "", side))
            if end.kind in ("butts", "tee") and other is not None and other.courses != each.courses:
                what = "cladding" if facing == "outside" and end.kind != "tee" else "lining"
                found.setdefault((name, facing), []).append(
                    COURSES_APART.of(part=name, what=what, other=other.surface.part)
                )
    return found


def _cut(
    laid: Sequence[_Laid],
    on: Mapping[SurfaceKey, Sequence[Board]],
    stock: Stock,
    room: Room,
    *,
    battens: bool,
) -> _Cut:
    """Cut, joint and fix the battens, or the boards that lie `on` them, of all surfaces."""
    made = [
        (each, length) for each in laid for length in _lengths(each, on.get(each.surface.key, ()), battens)
    ]
    sheets = sum(length.role.sheet for _, length in made)
    lengths, rules = [length for _, length in made], [each.task.rule for each, _ in made]
    jointed = heading_joints(lengths, rules, stock, room.after(sheets))
    room.after(sum(len(joints) + 1 for joints in jointed.joints))
    boards: dict[SurfaceKey, list[Board]] = {each.surface.key: [] for each in laid}
    too_long: dict[SurfaceKey, list[tuple[Board, float]]] = {key: [] for key in boards}
    for (each, length), joints, longest in zip(made, jointed.joints, jointed.longest, strict=True):
        key = each.surface.key
        for board in boards_of(length, joints):
            fixed = fixed_board(board, length, each.task.rule, boards[key] if battens else on[key])
            boards[key].append(fixed)
            if not length.role.sheet and fixed.length > longest + TOUCH:
                too_long[key].append((fixed, longest))
    return _Cut(
        {key: tuple(those) for key, those in boards.items()},
        {key: tuple(those) for key, those in too_long.items()},
        {key: tuple(f for surface, f in jointed.findings if surface.key == key) for key in boards},
        jointed.bought,
    )


def _lengths(laid: _Laid, on: Sequence[Board], battens: bool) -> Iterator[Length]:
    """The lengths of one surface, each with what it crosses behind it."""
    surface, clad = laid.surface, laid.clad
    if not battens:
        yield from lengths_of(surface, clad.strips, _Behind(surface, on))
        return
    first = [strip for strip in clad.battens if not strip.on_battens]
    made = lengths_of(surface, first, _Behind(surface, ()))
    yield from made
    others = [strip for strip in clad.battens if strip.on_battens]
    yield from lengths_of(surface, others, _Behind(surface, made))


class _Behind:
    """Tells what a strip of one surface crosses: its uprights, or the battens that are laid already."""

    def __init__(self, surface: Surface, battens: Sequence[Length | Board]) -> None:
        self._roles = surface.roles
        self._supports = surface.supports
        self._battens = {upright: supports_of(battens, upright=upright) for upright in (False, True)}

    def __call__(self, strip: Strip) -> tuple[Support, ...]:
        if strip.on_battens:
            return self._battens[strip.upright]
        return () if strip.upright and not self._roles[strip.role].sheet else self._supports
