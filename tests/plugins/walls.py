"""Walls for tests of single rules, made without a building."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise
from typing import Any, Literal

from soleplate.engine.building_file import WallEnd
from soleplate.engine.rules import EndJoin, Hole, Run, Wall
from soleplate.engine.shapes import Member, Section, TopLine, overlap, upright

FREE = (WallEnd("free"), WallEnd("free"))
NO_JOIN = EndJoin(runs_through=True, lap=0.0, neighbour_depth=0.0)


def line(length: float, *heights: float) -> TopLine:
    """Heights at even distances along a wall; one height is a level line."""
    heights = heights if len(heights) > 1 else heights * 2
    step = length / (len(heights) - 1)
    return TopLine(tuple((index * step, height) for index, height in enumerate(heights)))


def wall(
    length: float = 4500.0,
    *heights: float,
    section: tuple[float, float] = (45.0, 70.0),
    ends: tuple[WallEnd, WallEnd] = FREE,
    **more: Any,
) -> Wall:
    top = line(length, *(heights or (2400.0,)))
    return Wall("wall", length, section[1], Section(*section), top, ends, **more)


def plated(length: float = 4500.0, *undersides: float, **more: Any) -> Wall:
    """A wall whose plates' underside has these heights; its top line is 45 mm above."""
    undersides = undersides or (2355.0,)
    bare = wall(length, *(height + 45.0 for height in undersides), **more)
    return replace(bare, underside=line(length, *undersides))


def studded(plain: Wall, *lefts: float, members: tuple[Member, ...] = ()) -> Wall:
    """The wall with full studs at these left faces, and other members."""
    studs = (upright("stud", plain.section, left, plain.sole_thickness, plain.underside) for left in lefts)
    return replace(plain, members=(*(stud for stud in studs if stud is not None), *members))


def whole_run(plain: Wall, stud_lines: tuple[float, ...] = ()) -> Run:
    """From end stud to end stud."""
    return Run(plain.breadth, plain.length - plain.breadth, "whole", plain.breadth, plain.length, stud_lines)


def hole(
    left: float,
    right: float,
    bottom: float = 0.0,
    top: float = 1900.0,
    kind: Literal["door", "window", "gap"] = "window",
) -> Hole:
    return Hole("hole", kind, left, right, bottom, top)


def of_role(members: Any, role: str) -> list[Member]:
    """The members with a role, left to right, then upwards, then inwards."""
    chosen = [member for member in members if member.role == role]
    return sorted(chosen, key=lambda member: (member.left, member.bottom, member.depth))


def box(member: Member) -> tuple[float, float, float, float]:
    """Left, right, bottom and top, mm at 0.001."""
    return (
        round(member.left, 3),
        round(member.right, 3),
        round(member.bottom, 3),
        round(member.top, 3),
    )


def bays(run: Run, faces: Any) -> list[float]:
    """The clear bays of a run with studs at these left faces."""
    edges = [run.left, *(edge for face in faces for edge in (face, face + run.breadth)), run.right]
    return [right - left for left, right in zip(edges[::2], edges[1::2], strict=True)]


def assert_clear(members: Any) -> None:
    """No two members share a place."""
    members = list(members)
    for index, one in enumerate(members):
        for other in members[index + 1 :]:
            through = min(one.depth[1], other.depth[1]) - max(one.depth[0], other.depth[0])
            assert through <= 0.01 or not overlap(one.outline, other.outline), (one, other)


def assert_ordered(faces: Any, breadth: float) -> None:
    """Left to right, none on another."""
    assert all(after - before >= breadth - 0.01 for before, after in pairwise(faces))
