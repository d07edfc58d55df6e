"""The cover: the plan as large as its sheet lets it be, the cautions, what to look at first, and the sheets.

Beside the plan, where it leaves room, stands a picture of the whole.

What would leave the plan a smaller scale is told on a sheet of its own right after it.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from typing import Final, get_args

from soleplate.engine.building_file import format_length
from soleplate.engine.layout import FindingOut, Layout, Level
from soleplate.viewer.lists import costs_all
from soleplate.viewer.paper import GAP, Page, PaperName, scale_text
from soleplate.viewer.sheets.assembly import plan_diagonal
from soleplate.viewer.sheets.blocks import (
    Block,
    SheetOf,
    blocks_height,
    contents,
    drawing,
    facts,
    head,
    listed,
    words,
)
from soleplate.viewer.sheets.lists import notices
from soleplate.viewer.sheets.picture import Picture
from soleplate.viewer.sheets.plan import cover_plan
from soleplate.viewer.sheets.whole import whole_picture
from soleplate.viewer.words import Texts, money_text, weight_text

LEAST_PLAN: Final = 0.2
"""Share of the cover that the plan has at the least."""

ONE_LINE: Final = 40
"""Characters of a name that a heading may have to cut short; the cover then tells it in full besides."""


def with_cover(sheets: Sequence[SheetOf], layout: Layout, paper: PaperName, texts: Texts) -> list[SheetOf]:
    """The sheets after their cover, and after one of what to look at first where the cover has no room."""
    said = texts.sheets
    found = _found(layout)
    told = notices(found, texts, with_wall=True)
    whole = _Cover(layout, sheets, paper, texts)
    plan, scale = whole.plan([head(said.look), *told] if told else [])
    if told:
        look = SheetOf("look", said.look, texts.findings_note, said.findings, said.no_scale, told)
        parted = _Cover(layout, [look, *sheets], paper, texts)
        # The gravest stands on the cover in any case, where it is more than a note.
        least = 0 if found[0].level == "note" else 1
        larger, larger_scale = parted.plan(_look(told[:least], found[least:], texts))
        if larger_scale < scale:
            kept = least
            while parted.has_room(larger, _look(told[: kept + 1], found[kept + 1 :], texts)):
                kept += 1
            rest = SheetOf(look.id, look.title, look.sub, look.document_type, look.scale, told[kept:])
            cover = parted.sheet(larger, larger_scale, _look(told[:kept], found[kept:], texts))
            return [cover, rest, *sheets]
    return [whole.sheet(plan, scale, [head(said.look), *told] if told else []), *sheets]


class _Cover:
    """A cover before it is known what to look at first stands on it."""

    def __init__(self, layout: Layout, sheets: Sequence[SheetOf], paper: PaperName, texts: Texts) -> None:
        self._layout = layout
        self._texts = texts
        self._width, self._height = Page(paper, landscape=False).room
        said = texts.sheets
        named = [words(layout.name)] if len(layout.name) > ONE_LINE else []
        self._before: list[Block] = [*named, facts(_figures(layout, texts))]
        self._after: list[Block] = [
            head(texts.cautions),
            listed(layout.cautions),
            head(said.contents),
            contents(_listed(sheets), (said.title, said.sheet, said.scale)),
        ]

    def plan(self, look: Sequence[Block]) -> tuple[Picture, int]:
        """The plan at the largest scale with which all has room, and the scale."""
        room = max(self._room(look), LEAST_PLAN * self._height)
        return cover_plan(self._layout, (self._width, room), self._texts)

    def has_room(self, plan: Picture, look: Sequence[Block]) -> bool:
        """Whether all has room with the plan."""
        return plan.height <= self._room(look)

    def sheet(self, plan: Picture, scale: int, look: Sequence[Block]) -> SheetOf:
        """The cover itself."""
        said = self._texts.sheets
        beside = whole_picture(self._layout, (self._width - plan.width - GAP, plan.height), self._texts)
        blocks = [drawing(plan, beside), *self._before, *look, *self._after]
        return SheetOf("cover", self._layout.name, said.cover_lead, said.cover, scale_text(scale), blocks)

    def _room(self, look: Sequence[Block]) -> float:
        return self._height - blocks_height([*self._before, *look, *self._after], self._width) - GAP


def _look(told: Sequence[Block], rest: Sequence[FindingOut], texts: Texts) -> list[Block]:
    """What is told on the cover, and how much of each level on the next sheet."""
    counts = Counter(finding.level for finding in rest)
    more = ", ".join(
        texts.sheets.look_count.format(count=counts[level], level=texts.levels[level])
        for level in get_args(Level)
        if counts[level]
    )
    return [
        head(texts.sheets.look),
        *told,
        *([words(texts.sheets.look_more.format(counts=more))] if more else []),
    ]


def _found(layout: Layout) -> list[FindingOut]:
    """What stops the work in any wall, and what is found of the whole building, the gravest first."""
    grave = get_args(Level)
    found = [finding for finding in layout.findings if finding.part is None or finding.level == "stop"]
    return sorted(found, key=lambda finding: grave.index(finding.level))


def _figures(layout: Layout, texts: Texts) -> list[tuple[str, str]]:
    said = texts.sheets
    figures = [
        (said.walls, f"{len(layout.walls)}"),
        (said.pieces, f"{len(layout.pieces)}"),
        (said.timber, weight_text(layout.weight_kg)),
    ]
    if layout.saw_plan is not None:
        figures.append((said.lengths, f"{layout.saw_plan.bought}"))
        if layout.saw_plan.cost > 0:
            cost = said.cost if costs_all(layout.saw_plan) else said.cost_of_priced
            figures.append((cost, money_text(layout.saw_plan.cost)))
    if (diagonal := plan_diagonal(layout)) is not None:
        figures.append((said.outer_diagonals, format_length(diagonal, layout.units)))
    return figures


def _listed(sheets: Sequence[SheetOf]) -> list[tuple[str, list[str], str]]:
    """By what sheets are about: which they are, and the scale of the first."""
    rows: dict[str, tuple[str, list[str], str]] = {}
    for sheet in sheets:
        name = sheet.of or sheet.title
        rows.setdefault(name, (name, [], sheet.scale))[1].append(sheet.id)
    return list(rows.values())
