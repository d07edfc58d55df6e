"""Heading joints of all lengths of boards together."""

from __future__ import annotations

from collections.abc import Sequence

from soleplate.engine.building import Building
from soleplate.engine.cladding.boards import Length
from soleplate.engine.cladding.rule import CladdingRule


def longest_of(rule: CladdingRule, length: Length, building: Building) -> float:
    """The longest board that can be had for a strip, mm."""
    if rule.lengths and length.strip.role == "board":
        return max(rule.lengths)
    return building.stock.longest_of(length.strip.section)


def heading_joints(
    lengths: Sequence[Length], rules: Sequence[CladdingRule], building: Building
) -> list[tuple[float, ...]]:
    """Where each length is jointed, mm along it; `rules` are the lengths' own."""
    taken: dict[tuple[str, float], list[int]] = {}
    found: list[tuple[float, ...]] = []
    for length, rule in zip(lengths, rules, strict=True):
        longest = longest_of(rule, length, building)
        start, end = length.ends
        joints: list[float] = []
        while length.strip.jointed and end - start > longest:
            name, course = length.face.wall.name, length.strip.course
            free = [
                place
                for place in length.places()
                if start < place <= start + longest
                and all(abs(course - other) >= rule.joints_apart for other in taken.get((name, place), []))
            ]
            if not free:
                break
            start = free[-1]
            joints.append(start)
            taken.setdefault((name, start), []).append(course)
        found.append(tuple(joints))
    return found
