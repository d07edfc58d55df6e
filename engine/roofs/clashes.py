"""Whether pieces of a roof stand in each other."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from soleplate.engine.building_file import UnbuildableError
from soleplate.engine.registry import Asked
from soleplate.engine.roofs.slope import SlopeFrame
from soleplate.engine.shapes import Solid, overlapping


def without_clashes(slopes: Sequence[SlopeFrame], asked: Asked) -> list[SlopeFrame]:
    """The slopes less noggins that stand in other pieces of the roof.

    Raises:
        UnbuildableError: a window's timbers do.
        RuleError: other pieces do.
    """
    views = [{view.name: view for view in each.slope.views} for each in slopes]
    every = [(number, m) for number, each in enumerate(slopes) for m in each.members]
    solids = [Solid(m.outline, m.depth, views[number][m.view]) for number, m in every]
    out: set[int] = set()
    for pair in sorted(overlapping(solids)):
        noggin = next((i for i in pair if every[i][1].role == "noggin"), None)
        if noggin is not None:
            out.add(id(every[noggin][1]))
            continue
        for i in pair:
            number, member = every[i]
            for index, (_, _, timbers) in enumerate(slopes[number].openings):
                if any(member is timber for timber in timbers):
                    (other,) = set(pair) - {i}
                    raise UnbuildableError.at(
                        slopes[number].task.pointer(index),
                        "its {role} would stand in a {other}; accepted is another place or size",
                        role=member.role,
                        other=every[other][1].role,
                    )
        one, two = (every[i][1] for i in pair)
        raise asked.fault(
            slopes[every[pair[0]][0]].rule,
            f"a {two.role} at {two.left:.1f} mm overlaps a {one.role} at {one.left:.1f} mm",
            "overlap",
        )
    if not out:
        return list(slopes)
    return [replace(each, members=tuple(m for m in each.members if id(m) not in out)) for each in slopes]
