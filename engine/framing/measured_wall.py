"""A wall with what the tape says of it in place of what was drawn."""

from __future__ import annotations

from dataclasses import replace

from soleplate.engine.building_file import (
    LONGEST_WALL,
    LOWEST_WALL,
    SHORTEST_WALL,
    Measured,
    Mm,
    Reach,
    UnbuildableError,
    at_least,
    pointer_to,
)
from soleplate.engine.rules import Wall
from soleplate.engine.shapes import Section, TopLine


def as_measured(wall: Wall, measured: Measured | None) -> Wall:
    """The wall at its measured length and its studs' measured breadth, mm.

    Raises:
        UnbuildableError: no wall can be so long, or its low end would be too low.
    """
    if measured is None:
        return wall
    section = Section(measured.breadth or wall.section.breadth, wall.section.depth)
    length = wall.length
    if measured.length is not None:
        length = measured.length
    elif measured.clear_length is not None:
        length = measured.clear_length + 2 * section.breadth
    least = max(SHORTEST_WALL, 3 * section.breadth)
    if not least <= length <= LONGEST_WALL:
        raise UnbuildableError.at(
            pointer_to("measured", wall.name),
            "the wall would be {length} long; accepted is {room}",
            length=Mm(length),
            room=Reach(least, LONGEST_WALL),
        )
    top = stretched(wall.top, wall.length, length)
    if top.lowest(0.0, length) < LOWEST_WALL:
        raise UnbuildableError.at(
            pointer_to("measured", wall.name),
            "at {length} it would be {lowest} high at its lowest; accepted is at least {least}",
            length=Mm(length),
            lowest=Mm(top.lowest(0.0, length), ".0f"),
            least=at_least(LOWEST_WALL, ".0f"),
        )
    return replace(wall, length=length, section=section, top=top)


def stretched(line: TopLine, drawn: float, length: float) -> TopLine:
    """The top of a wall drawn `drawn` mm long at another `length`, mm; pitches and low ends stay.

    One slope starts from its low end, two slopes meet where they then do, and more are stretched alike.
    """
    (_, left), *inner, (_, right) = line.points
    if not inner:
        rise = (right - left) / drawn * length
        ends = (left, left + rise) if rise >= 0 else (right - rise, right)
        return TopLine(((0.0, ends[0]), (length, ends[1])))
    if len(inner) == 1:
        ((ridge, height),) = inner
        up, down = (height - left) / ridge, (right - height) / (drawn - ridge)
        meeting = (right - left - down * length) / (up - down)
        if 0.0 < meeting < length:
            return TopLine(((0.0, left), (meeting, left + up * meeting), (length, right)))
    return TopLine(tuple((x / drawn * length, z) for x, z in line.points))
