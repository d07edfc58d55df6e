"""What keeps a wall from racking, as it comes out."""

from __future__ import annotations

import math
from collections.abc import Sequence

from soleplate.engine.building_file import Units, format_length
from soleplate.engine.framing import BracedBy
from soleplate.engine.layout import BraceOut, StrapOut
from soleplate.engine.listing.running_marks import Numbered
from soleplate.engine.rules import Brace, Strap
from soleplate.engine.shapes import rounded


def braces_out(done: Sequence[BracedBy], members: Numbered, units: Units) -> tuple[BraceOut, ...]:
    """A wall's braces in the order of their rules, each with the marks of what it is of and crosses."""
    return tuple(
        _brace_out(brace, each.rule, members, units) for each in done for brace in each.braced.braces
    )


def _brace_out(brace: Brace, rule: str, members: Numbered, units: Units) -> BraceOut:
    (x0, z0), (x1, z1) = brace.foot, brace.head
    crossed = brace.crossed([member for member, _ in members]) if brace.kind != "cut in" else []
    marks = sorted(
        (member.left, piece.mark) for member, piece in members if any(member is each for each in crossed)
    )
    return BraceOut(
        kind=brace.kind,
        rule=rule,
        rises="right" if x1 > x0 else "left",
        angle=rounded(math.degrees(math.atan2(z1 - z0, abs(x1 - x0)))),
        foot=(rounded(x0), rounded(z0)),
        head=(rounded(x1), rounded(z1)),
        width=rounded(brace.width),
        length=rounded(brace.length),
        display=format_length(brace.length, units),
        pieces=tuple(piece.mark for member, piece in members if member in brace.members),
        crosses=tuple(mark for _, mark in marks),
        at_ends=brace.at_ends,
        at_crossings=brace.at_crossings,
        strap=None if brace.strap is None else _strap_out(brace, brace.strap),
    )


def _strap_out(brace: Brace, strap: Strap) -> StrapOut:
    return StrapOut(
        kind=strap.kind.name,
        face=strap.face,
        thickness=rounded(strap.thickness),
        wrap=rounded(strap.wrap),
        outline=tuple((rounded(x), rounded(z)) for x, z in brace.outline),
    )
