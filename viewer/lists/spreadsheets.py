"""Lists as CSV (RFC 4180) for a spreadsheet, in which no text can become a formula."""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Iterable, Iterator
from typing import Final

from soleplate.engine.building_file import format_length
from soleplate.engine.layout import BuyingRow, CourseOut, FloorOut, Layout, SlopeOut, WallOut
from soleplate.engine.sawing import FactoryEnds, SawPlan
from soleplate.viewer.lists.cutting import csv_columns, has_panels, settings
from soleplate.viewer.lists.set_ups import SetUp, set_ups
from soleplate.viewer.markup import carriable, figure
from soleplate.viewer.words import ENGLISH, money_text

FORMULA_STARTS: Final = ("=", "+", "-", "@", "\t", "\r", "\n")
"""A spreadsheet takes a cell that starts so for a formula (OWASP, CSV injection)."""

_FIGURE: Final = re.compile(
    r"-[0-9]+(\.[0-9]+)?( mm)?|-[0-9]+ ft|-([0-9]+ ft )?([0-9]+ )?([0-9]+/)?[0-9]+ in"
)
"""Below nought: a number, or a length as it is told."""


def cutting_list_csv(layout: Layout) -> bytes:
    """The cutting list, one row for each setting of the saw; lengths are over the long points."""
    columns = csv_columns(layout)
    rows = ([column.cell(told) for column in columns] for told in settings(layout))
    return _csv([column.head for column in columns], rows)


BUYING_HEAD: Final = (
    "what", "count", "length", "breadth mm", "depth mm", "material", "grade", "length mm", "on hand", "price",
    "spare", "pieces", "weight kg", "boxes",
)  # fmt: skip


def buying_list_csv(layout: Layout) -> bytes:
    """What to buy and what is on hand, where it was planned, and for each section the run of timber.

    The length of a `run` is that of all its pieces end to end, without saw cuts and offcuts. `spare` are the
    lengths to order on top, since some come bent. Prices are left out where nothing costs anything. What is
    not timber comes last: by its kind, what to buy of it, and its size.
    """
    priced = layout.saw_plan is not None and layout.saw_plan.cost > 0
    timber = (cells for row in layout.buying_list for cells in _bought(row, layout, priced))
    return _csv(BUYING_HEAD, (*timber, *_goods(layout)))


def _goods(layout: Layout) -> Iterator[tuple[str, ...]]:
    """What is not timber: its kind, how many or how much of it, and its size."""
    rest = ("",) * 8
    for row in layout.goods:
        counted = (row.display, "") if row.unit == "piece" else ("", row.display)
        sides = [figure(side) for side in row.size[:2]]
        boxes = "" if row.boxes is None else f"{row.boxes}"
        yield (row.kind, *counted, *sides, *[""] * (2 - len(sides)), *rest, boxes)


FIXINGS_HEAD: Final = ("what", "diameter mm", "length mm", "shank", "as placed", "to buy", "boxes")


def fixings_csv(layout: Layout) -> bytes:
    """All fixings of joints by kind and size: as they are placed, and what to buy."""
    return _csv(
        FIXINGS_HEAD,
        (
            (
                row.kind, figure(row.diameter), figure(row.length), row.shank, f"{row.count}",
                f"{row.with_waste}", "" if row.boxes is None else f"{row.boxes}",
            )
            for row in layout.fixings_list
        ),
    )  # fmt: skip


def _bought(row: BuyingRow, layout: Layout, priced: bool) -> Iterator[tuple[str, ...]]:
    section = figure(row.section[0]), figure(row.section[1]), row.material
    for line in row.lengths:
        yield (
            "lengths",
            f"{line.count}",
            format_length(line.stock_length, layout.units),
            *section,
            line.grade,
            figure(line.stock_length),
            "yes" if line.on_hand else "no",
            money_text(line.cost) if priced and (line.on_hand or line.cost) else "",
            "",
            "",
            "",
            "",
        )
    spare = f"{row.spare.spare}" if row.spare else ""
    yield (
        "run", "", row.display, *section, ENGLISH.strip_of_sheet if row.of_sheet else "",
        figure(row.total_length), "", "", spare, f"{row.pieces}",
        figure(row.weight_kg), "",
    )  # fmt: skip


MARKS_HEAD: Final = (
    "wall", "plate", "length", "length starts at mm", "mark", "at", "at mm", "piece length mm",
)  # fmt: skip


def running_marks_csv(layout: Layout) -> bytes:
    """Every running mark: from the left end, seen from outside, of its length of plate to the near face.

    A length starts so far from the plate's own left end: not at 0 where a door or a joint divides the plate.
    Those of rafters are from the building's corner at the left of the plate under them. Where a wall is built
    in panels, the panel of each length is told.
    """
    in_panels = has_panels(layout)
    head = (*MARKS_HEAD, "panel") if in_panels else MARKS_HEAD
    return _csv(head, (row if in_panels else row[:-1] for row in _marks(layout)))


def _marks(layout: Layout) -> Iterator[tuple[str, ...]]:
    for wall in layout.parts:
        lengths = {piece.mark: figure(piece.length) for piece in wall.pieces}
        for plate in wall.plate_lengths:
            for mark in plate.marks:
                called = plate.plate if plate.over is None else f"{plate.plate} over {plate.over}"
                yield (
                    wall.name, called, plate.mark or "", figure(plate.start), mark.mark, mark.display,
                    figure(mark.at), lengths.get(mark.mark, ""),
                    "" if plate.panel is None else f"{plate.panel}",
                )  # fmt: skip


COURSES_HEAD: Final = (
    "what", "wall", "face", "course", "at", "at mm", "upper edge mm", "ripped to mm", "opening", "edge",
    "boards",
)  # fmt: skip


def courses_csv(layout: Layout) -> bytes:
    """Every course of every wall, from the lowest, by its lower edge, and the notches for openings in it.

    Heights are from the underside of the sole plate, as on the storey rod. Those of decks come last: they are
    up the drawing of their floor or slope.
    """
    on_walls = (cells for wall in layout.walls for cells in _courses(wall, layout))
    decks: tuple[FloorOut | SlopeOut, ...] = (*layout.floors, *layout.roofs)
    return _csv(
        COURSES_HEAD,
        (*on_walls, *(_course(deck.name, "deck", each) for deck in decks for each in deck.courses)),
    )


def _course(part: str, face: str, course: CourseOut) -> tuple[str, ...]:
    rip = "" if course.rip is None else figure(course.rip)
    return (
        "course", part, face, f"{course.number}", course.display, figure(course.bottom), figure(course.top),
        rip, "", "", " ".join(course.boards),
    )  # fmt: skip


def _courses(wall: WallOut, layout: Layout) -> Iterator[tuple[str, ...]]:
    for face, courses in (("outside", wall.courses), ("inside", wall.lining_courses)):
        yield from (_course(wall.name, face, course) for course in courses)
    for face, rod in (("outside", layout.storey_rod), ("inside", layout.lining_rod)):
        for on_rod in rod:
            for cut_out in on_rod.cut_outs:
                if cut_out.wall == wall.name:
                    at = format_length(cut_out.at, layout.units), figure(cut_out.at)
                    yield (
                        "notch", wall.name, face, f"{on_rod.number}", *at, "", "", cut_out.opening,
                        cut_out.edge, "",
                    )  # fmt: skip


SAW_HEAD: Final = (
    "set-up", "length", "breadth mm", "depth mm", "material", "stock length mm", "on hand", "grade", "price",
    "cut", "mark", "length mm", "from mm", "to mm", "factory end", "offcut mm",
)  # fmt: skip


def saw_plan_csv(plan: SawPlan, ends: FactoryEnds | None = None) -> bytes:
    """The saw plan, one row for each cut in the order of sawing; places as they lie at the saw.

    A set-up's number is that of the drawing, and its lengths are numbered within it. With `ends` the pieces
    lie so that they keep their factory ends. Prices are left out where nothing costs anything.
    """
    return _csv(SAW_HEAD, (row for bar in set_ups(plan, ends) for row in _sawn(bar, priced=plan.cost > 0)))


def _sawn(bar: SetUp, *, priced: bool) -> Iterator[tuple[str, ...]]:
    like = bar.like
    section = [figure(side) for side in like.section] if like.section else ["", ""]
    stock = (
        *section,
        like.material or "",
        figure(like.stock_length),
        "yes" if like.on_hand else "no",
        like.grade,
        money_text(like.price) if priced and (like.on_hand or like.price) else "",
    )
    for length, pieces in enumerate(bar.sawn, 1):
        for cut, piece in enumerate(pieces, 1):
            yield (
                f"{bar.number}",
                f"{length}",
                *stock,
                f"{cut}",
                piece.mark,
                figure(piece.length),
                figure(piece.start),
                figure(piece.end),
                piece.kept or "",
                figure(like.offcut),
            )


def _csv(head: Iterable[str], rows: Iterable[Iterable[str]]) -> bytes:
    """With a byte order mark, by which spreadsheets tell UTF-8."""
    text = io.StringIO(newline="")
    writer = csv.writer(text)
    writer.writerow(head)
    writer.writerows([_cell(cell) for cell in row] for row in rows)
    return text.getvalue().encode("utf-8-sig")


def _cell(text: str) -> str:
    """An apostrophe makes it a text again; a figure below nought is no formula, with its unit or not."""
    is_formula = text.startswith(FORMULA_STARTS) and not _FIGURE.fullmatch(text)
    return f"'{carriable(text)}" if is_formula else carriable(text)
