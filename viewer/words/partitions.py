"""What is said of a partition where something else is said of an outer wall, by the same names.

Both its faces are indoors, so each is told by the wall that it looks at: `{outer}` and `{inner}`.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from string import Formatter
from typing import Any


@dataclass(frozen=True)
class PartitionTexts:
    """In place of those of `Texts`."""

    seen_outside: str = "{wall}: seen from the side of wall {outer}"
    seen_inside: str = "{wall}: seen from the side of wall {inner}"
    side_names: Mapping[str, str] = field(
        default_factory=lambda: {"outside": "the side of wall {outer}", "inside": "the side of wall {inner}"}
    )
    tape_inside: str = (
        "Tape on the sole plate, from the wall's left end seen from the side of wall {outer}, here on the"
        " right"
    )
    boarded: Mapping[str, str] = field(
        default_factory=lambda: {
            "outside": "Lining towards wall {outer}, in the order in which it goes up, seen from there",
            "inside": "Lining towards wall {inner}, in the order in which it goes up, seen from there",
        }
    )
    left_edge_from: Mapping[str, str] = field(
        default_factory=lambda: {
            "outside": "Left edge, from the wall's left end seen from the side of wall {outer}",
            "inside": "Left edge, from the wall's left end seen from the side of wall {inner}",
        }
    )
    boards: str = "Boards, left to right seen from the side of wall {outer}"
    boards_inside: str = "Boards, left to right seen from the side of wall {inner}"
    sits_at: Mapping[str, str] = field(
        default_factory=lambda: {
            "outside": "{x} from the left, seen from the side of wall {outer}, {z} up",
            "inside": "{x} from the left, seen from the side of wall {inner}, {z} up",
        }
    )


@dataclass(frozen=True)
class PartitionSheetTexts:
    """In place of those of `SheetTexts`."""

    seen: str = "Seen from the side of wall {outer}. {length} long, {pieces} pieces, {weight}."
    bench_sub: str = (
        "From the left end, seen from the side of wall {outer}. A factory end, where a stud has one, goes"
        " down."
    )
    crown: str = (
        "Sight along each stud and pencil an arrow to its crown, the edge that bows out: in the wall all"
        " arrows point to the side of wall {outer}."
    )
    crown_to_sheets: str = crown
    datum: str = (
        "The face towards wall {outer} is the datum: all pieces lie flush there, and what differs in depth"
        " shows on the other."
    )
    cladding: str = "Lining"
    seen_outside: str = "Seen from the side of wall {outer}."
    seen_inside: str = "Seen from the side of wall {inner}: right on the elevation is left here."
    courses_of: str = (
        "Courses of the lining of {wall}, seen from the side of wall {outer}, from the underside of the sole"
        " plate"
    )
    lining_courses_of: str = (
        "Courses of the lining of {wall}, seen from the side of wall {inner}, from the underside of the sole"
        " plate"
    )
    places_of: str = (
        "Edges of the lining of {wall}, from the frame's left end, seen from the side of wall {outer}, and"
        " underside"
    )
    lining_places_of: str = (
        "Edges of the lining of {wall}, from the frame's left end, seen from the side of wall {inner}, and"
        " underside"
    )


def with_faces(texts: object, outer: str, inner: str) -> dict[str, Any]:
    """The texts of such a set, by name, with the names of the walls put in."""
    return {name: _put_in(said, {"outer": outer, "inner": inner}) for name, said in vars(texts).items()}


def _put_in(said: str | Mapping[str, str], walls: Mapping[str, str]) -> str | dict[str, str]:
    if isinstance(said, str):
        return _filled(said, walls)
    return {name: _filled(each, walls) for name, each in said.items()}


def _filled(said: str, walls: Mapping[str, str]) -> str:
    is_filled_later = any(name not in {None, *walls} for _, name, _, _ in Formatter().parse(said))
    for place, wall in walls.items():
        # What is filled in later must not take a brace of a wall's name for a place.
        name = wall.replace("{", "{{").replace("}", "}}") if is_filled_later else wall
        said = said.replace(f"{{{place}}}", name)
    return said
