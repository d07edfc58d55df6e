"""The start's answers told in another unit: nothing is lost when lengths are asked for otherwise."""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import Final

from soleplate.engine.building_file import Units, format_figure, parse_length, plain_figure
from soleplate.viewer.page import ASK_IN, QUESTIONS, Question, units_of

LENGTHS: Final = frozenset({"length", "width", "low_height", "centres"})
"""The questions that ask for a length."""


def turned(answers: Mapping[str, str]) -> dict[str, str]:
    """The answers in the unit that `ASK_IN` asks for.

    Lengths are converted, and a section becomes the nearest that is usual there. What was left as is usual is
    left so, and what is no length stays as it was typed.
    """
    before, after = units_of(answers), units_of({"units": answers.get(ASK_IN, "")})
    told = {name: said for name, said in answers.items() if name != ASK_IN} | {"units": after}
    if before == after:
        return told
    for old, new in zip(QUESTIONS[before], QUESTIONS[after], strict=True):
        if (said := answers.get(old.name)) is not None:
            told[old.name] = _turned(said.strip(), before, after, old, new)
    return told


def _turned(said: str, before: Units, after: Units, old: Question, new: Question) -> str:
    if said == old.usual:
        return new.usual
    if old.name == "section":
        return _nearest(said, before, after, new)
    length = _read(said, before) if old.name in LENGTHS else None
    if length is None:
        return said
    return plain_figure(length) if after == "mm" else format_figure(length, "in")


def _read(said: str, units: Units) -> float | None:
    """A length in mm, a bare number in `units`; none where it is no length."""
    for text in (said, f"{said} {units}"):
        try:
            return parse_length(text)
        except ValueError:
            continue
    return None


def _nearest(said: str, before: Units, after: Units, asked: Question) -> str:
    wanted = _sizes(said, before)
    if wanted is None:
        return asked.usual

    def off(choice: str) -> float:
        sizes = _sizes(choice, after) or ()
        return sum((is_ - was) ** 2 for is_, was in zip(sizes, wanted, strict=True))

    return min(asked.choices, key=off)


def _sizes(section: str, units: Units) -> tuple[float, float] | None:
    """Breadth and depth, mm."""
    read = [_read(part.strip(), units) for part in re.split(r"[x×]", section)]
    sizes = [size for size in read if size is not None]
    return (sizes[0], sizes[1]) if len(sizes) == len(read) == 2 else None
