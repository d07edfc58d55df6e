"""The cutting list, one table of its columns: what each says on the page, on the sheets and in a spreadsheet.

A new column is a row of `COLUMNS` with its words in the catalogue of texts.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from typing import Final, Literal

from soleplate.engine.building_file import Units, format_length
from soleplate.engine.layout import CuttingRow, Layout
from soleplate.viewer.markup import figure
from soleplate.viewer.words import ENGLISH, Texts, cuts_text, role_text, section_text, short_cuts_text

_ALIKE: Final = 0.0005
"""mm. Sides that differ by less are alike: lengths are put out at 0.001."""


@dataclass(frozen=True, slots=True)
class Setting:
    """One setting of the saw as it is told in a place: a row of the list, with the marks to tell of there."""

    row: CuttingRow
    marks: Sequence[str]
    units: Units
    texts: Texts
    template: str = ""
    """The names of its bevel templates."""
    clamped: bool = True
    """Whether how to gang it is told."""
    apart: bool = True
    """Whether short sides have a column of their own; else they stand under the lengths."""

    def length(self, mm: float) -> str:
        """A length in the building's units."""
        return format_length(mm, self.units)

    @property
    def panels(self) -> Mapping[str, Sequence[str]]:
        """The panels that its pieces are of, each with the marks of these."""
        found: dict[str, list[str]] = {}
        for mark, panel in zip(self.row.marks, self.row.panels or (), strict=False):
            if panel is not None and mark in self.marks:
                found.setdefault(panel, []).append(mark)
        return found

    @property
    def is_short(self) -> bool:
        """Whether one side is shorter than the other."""
        return self.row.short_length < self.row.length - _ALIKE


Cell = Callable[[Setting], str]
Head = Callable[[Texts], str]


@dataclass(frozen=True, slots=True)
class OnPage:
    """A column of the page's table; `small` is written beneath, under a name of its own."""

    place: int
    """Columns stand in the order of their places."""
    head: Head
    cell: Cell
    small: tuple[str, Cell] | None = None
    is_drawn: bool = False
    """Whether the ends are drawn beside the words."""
    is_labelled: bool = True
    """Whether a card, as the table is on a narrow screen, says the heading beside it."""


@dataclass(frozen=True, slots=True)
class OnSheet:
    """A column of a sheet's table: its width in mm, by its content, or what is left."""

    place: int
    head: Head
    cell: Cell
    small: Cell | None = None
    """Written beneath; the cell is emphasised then."""
    width: float | Literal["auto", "rest"] = "auto"
    roomy: float | None = None
    """The width, mm, where neither short sides nor templates take some."""
    face: Literal["figure", "word"] = "figure"
    right: bool = False
    only: Literal["apart", "templates"] | None = None
    """It is there only where short sides stand apart, or where pieces have templates."""


@dataclass(frozen=True, slots=True)
class InCsv:
    """A column of the spreadsheet's table; a length is a bare number of mm, as its heading says."""

    place: int
    head: str
    cell: Cell


@dataclass(frozen=True, slots=True)
class CutColumn:
    """What the list says of a setting, and how it is told where it is told."""

    name: str
    """As the page's script and style sheet know it."""
    page: OnPage | None = None
    sheet: OnSheet | None = None
    csv: tuple[InCsv, ...] = ()
    of_panels: bool = False
    """It is there only where a wall is built in panels."""


def _remarks(told: Setting) -> str:
    """What stands under a length on a sheet."""
    said, row = told.texts.sheets, told.row
    short = said.short_side.format(length=row.short_display) if told.is_short and not told.apart else ""
    trim = said.trim.format(length=told.length(row.trim_allowance)) if row.trim_allowance else ""
    return ", ".join(filter(None, (short, trim)))


def _trim(told: Setting) -> str:
    allowance = told.row.trim_allowance
    return told.texts.trim.format(length=told.length(allowance)) if allowance else ""


def _timber(told: Setting) -> str:
    row, texts = told.row, told.texts
    grade = texts.strip_of_sheet if row.of_sheet else texts.grades[row.grade]
    return texts.timber.format(material=row.material, grade=grade)


def _grade(told: Setting) -> str:
    return told.texts.strip_of_sheet if told.row.of_sheet else told.row.grade


def _short(told: Setting) -> str:
    return told.row.short_display if told.is_short else ""


def _gangs(told: Setting) -> str:
    return " + ".join(map(str, told.row.gangs))


def _ends(told: Setting) -> str:
    return cuts_text(told.row, told.units, told.texts)


def _short_ends(told: Setting) -> str:
    """The cuts on a sheet, which pieces are turned then, and how to gang them where that is told."""
    cuts = short_cuts_text(told.row, told.units, told.texts)
    turned = _turned(told)
    is_ganged = told.clamped and told.row.gangs not in ((), (1,))
    gangs = told.texts.sheets.gangs.format(gangs=_gangs(told)) if is_ganged else ""
    return "; ".join(filter(None, (cuts, turned, gangs)))


def _turned(told: Setting) -> str:
    """Which of the marks are turned, and how."""
    row, texts = told.row, told.texts
    return texts.turned[row.turn].format(marks=", ".join(row.turned or ())) if row.turn else ""


def _panels(told: Setting) -> str:
    """Each panel with the marks of its pieces."""
    return "; ".join(f"{panel}: {' '.join(marks)}" for panel, marks in told.panels.items())


def _sheet_marks(told: Setting) -> str:
    """The marks, those of a panel behind its name."""
    of_panels = {mark for marks in told.panels.values() for mark in marks}
    others = " ".join(mark for mark in told.marks if mark not in of_panels)
    return "; ".join(filter(None, (_panels(told), others)))


COLUMNS: Final = (
    CutColumn(
        "length",
        OnPage(0, lambda texts: texts.cut_to, lambda told: told.row.display, ("trim", _trim)),
        OnSheet(1, lambda texts: texts.sheets.cut_to, lambda told: told.row.display, _remarks),
        (
            InCsv(1, "cut to", lambda told: told.row.display),
            InCsv(7, "length mm", lambda told: figure(told.row.length)),
            InCsv(9, "trim allowance mm", lambda told: figure(told.row.trim_allowance)),
        ),
    ),
    CutColumn(
        "count",
        OnPage(1, lambda texts: texts.count, lambda told: f"{told.row.count}", is_labelled=False),
        OnSheet(0, lambda texts: texts.sheets.count, lambda told: f"{len(told.marks)}", right=True),
        (InCsv(0, "count", lambda told: f"{told.row.count}"),),
    ),
    # On a sheet the timber heads the rows of it.
    CutColumn(
        "section",
        OnPage(
            2,
            lambda texts: texts.section,
            lambda told: section_text(told.row.section, told.units),
            ("timber", _timber),
        ),
        None,
        (
            InCsv(3, "breadth mm", lambda told: figure(told.row.section[0])),
            InCsv(4, "depth mm", lambda told: figure(told.row.section[1])),
            InCsv(5, "material", lambda told: told.row.material),
            InCsv(6, "grade", _grade),
        ),
    ),
    CutColumn(
        "role",
        OnPage(3, lambda texts: texts.role, lambda told: role_text(told.row.role, told.texts)),
        OnSheet(
            3,
            lambda texts: texts.sheets.piece,
            lambda told: role_text(told.row.role, told.texts),
            width=21.0,
            roomy=38.0,
            face="word",
        ),
        (InCsv(2, "role", lambda told: told.row.role),),
    ),
    CutColumn(
        "ends",
        OnPage(4, lambda texts: texts.ends, _ends, is_drawn=True),
        OnSheet(4, lambda texts: texts.sheets.ends, _short_ends, width="rest", face="word"),
        (InCsv(10, "ends", _ends),),
    ),
    CutColumn(
        "short",
        OnPage(5, lambda texts: texts.short_side, _short),
        OnSheet(2, lambda texts: texts.sheets.short, _short, only="apart"),
        (InCsv(8, "short side mm", lambda told: figure(told.row.short_length)),),
    ),
    CutColumn(
        "gangs",
        OnPage(6, lambda texts: texts.gangs, _gangs),
        None,
        (InCsv(11, "clamp and cut", _gangs),),
    ),
    CutColumn(
        "template",
        None,
        OnSheet(5, lambda texts: texts.sheets.bevel_template, lambda told: told.template, only="templates"),
    ),
    CutColumn(
        "marks",
        OnPage(7, lambda texts: texts.marks, lambda told: ", ".join(told.marks), ("turned", _turned)),
        OnSheet(6, lambda texts: texts.sheets.marks, _sheet_marks, width=29.0, roomy=52.0),
        (
            InCsv(12, "marks", lambda told: " ".join(told.marks)),
            InCsv(13, "turned", lambda told: told.row.turn or ""),
            InCsv(14, "turned marks", lambda told: " ".join(told.row.turned or ())),
        ),
    ),
    # On a sheet they stand among the marks.
    CutColumn(
        "panels",
        OnPage(8, lambda texts: texts.panels, _panels),
        None,
        (InCsv(15, "panels", _panels),),
        of_panels=True,
    ),
)


def page_columns(layout: Layout) -> list[tuple[str, OnPage]]:
    """The columns of the page that a layout has, each with its name, in order."""
    found = ((each.name, each.page) for each in _columns(layout) if each.page)
    return sorted(found, key=lambda each: each[1].place)


def sheet_columns(*, apart: bool, templates: bool) -> list[OnSheet]:
    """The columns of a sheet in order, of those that are not always there the ones that are wanted."""
    there = {None: True, "apart": apart, "templates": templates}
    found = [each.sheet for each in COLUMNS if each.sheet and there[each.sheet.only]]
    return sorted(found, key=lambda each: each.place)


def csv_columns(layout: Layout) -> list[InCsv]:
    """The columns of the spreadsheet that a layout has, in order."""
    return sorted((column for each in _columns(layout) for column in each.csv), key=lambda each: each.place)


def _columns(layout: Layout) -> list[CutColumn]:
    in_panels = has_panels(layout)
    return [each for each in COLUMNS if in_panels or not each.of_panels]


def has_panels(layout: Layout) -> bool:
    """Whether a wall is built in panels, so that lists tell of them."""
    return any(wall.panels for wall in layout.walls)


def settings(layout: Layout, texts: Texts = ENGLISH) -> list[Setting]:
    """Every row of a layout's cutting list, to be told whole."""
    return [Setting(row, row.marks, layout.units, texts) for row in layout.cutting_list]


def cutting_rows(layout: Layout) -> dict[str, int]:
    """The row of the cutting list, counted from 0, in which each mark stands."""
    return {mark: index for index, row in enumerate(layout.cutting_list) for mark in row.marks}
