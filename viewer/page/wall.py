"""A wall's section of the page: its elevation, marks, spacers, openings, weight, and what to look at."""

from __future__ import annotations

from collections.abc import Sequence

from soleplate.engine.building_file import format_length
from soleplate.engine.layout import Drift, FindingOut, Layout, PlateLength, Spacer, WallOut
from soleplate.viewer.drawings import LaidFloor, LaidSlope, WallSheet, draw_tape, draw_wall
from soleplate.viewer.markup import Child, Markup, element, joined, table
from soleplate.viewer.page.areas import areas, bracing, held_down
from soleplate.viewer.page.boarding import boarding_tables
from soleplate.viewer.page.floor import floor_tables
from soleplate.viewer.page.slope import slope_tables
from soleplate.viewer.words import (
    Texts,
    clear_text,
    finding_id,
    plate_text,
    size_text,
    small_length,
    wall_id,
    weight_text,
)


def wall_section(wall: WallOut, layout: Layout, sheet: WallSheet, *, beside: str | None = None) -> Markup:
    """All that concerns one wall, drawn as the sheet says; `beside` is a file with its other side."""
    name, texts = wall_id(wall.name), sheet.texts
    facts = texts.wall_facts.format(
        length=wall.display, pieces=len(wall.pieces), weight=weight_text(wall.weight_kg)
    )
    drawing = joined(Markup(draw_wall(wall, sheet)), Markup(draw_tape(wall, sheet)))
    found = [finding for finding in layout.findings if finding.part == wall.name]
    return element(
        "section",
        element(
            "header",
            element("h2", wall.name, id=f"{name}-name"),
            element("p", facts, class_="facts"),
            _other_side(beside, sheet),
            class_="wall-head",
        ),
        element("div", drawing, class_="board", tabindex="0", role="group", aria_label=wall.name),
        element("p", texts.keys, class_="keys live-only", hidden=True),
        wall_findings(wall.name, found, texts),
        _changes(wall, texts),
        _panels(wall, layout, texts),
        _marks(wall, texts),
        _spacers(wall, layout, texts),
        _openings(wall, layout, texts),
        bracing(wall, layout.units, texts),
        held_down(wall, layout.units, texts),
        floor_tables(wall, layout.units, texts),
        areas(wall, layout.units, texts),
        slope_tables(wall, layout, texts),
        *boarding_tables(wall, layout.units, texts),
        id=name,
        class_="wall",
        data_name=wall.name,
        **_drawn_along(wall),
        data_side=sheet.side,
        aria_labelledby=f"{name}-name",
        tabindex="-1",
    )


def _drawn_along(wall: WallOut) -> dict[str, str]:
    """Where the building file holds a part's openings, and which member of one is its place along it.

    A wall's are where the walls are, and an opening of it says its place by `at`.
    """
    if isinstance(wall, LaidSlope):
        return {"data_openings": "roof/frame/openings"}
    if isinstance(wall, LaidFloor):
        along = "at" if wall.floor.runs == "front-back" else "from_front"
        return {"data_openings": f"{wall.name}/openings", "data_along": along}
    return {}


def _other_side(beside: str | None, sheet: WallSheet) -> Markup:
    if beside is None:
        return Markup("")
    other = "inside" if sheet.side == "outside" else "outside"
    said = sheet.texts.seen_from_side.format(side=sheet.texts.side_names[other])
    return element("p", element("a", said, href=beside))


def wall_findings(wall: str, findings: Sequence[FindingOut], texts: Texts) -> Markup:
    """A wall's findings, numbered as the flags on its drawing are; empty where there are none."""
    if not findings:
        return Markup("")
    items = [
        _finding(finding, texts, id=finding_id(wall, number)) for number, finding in enumerate(findings, 1)
    ]
    return joined(element("h3", texts.wall_findings), element("ol", *items, class_="findings numbered"))


def finding_list(findings: Sequence[FindingOut], texts: Texts) -> Markup:
    """Findings with their walls and their level in words; empty where there are none."""
    if not findings:
        return Markup("")
    return element("ul", *(_finding(finding, texts) for finding in findings), class_="findings")


def _finding(finding: FindingOut, texts: Texts, *, id: str | None = None) -> Markup:  # noqa: A002 - HTML's name
    """One finding; without an id of its own it tells of which wall it is."""
    place = (
        element(
            "a",
            finding.part,
            href=f"#{wall_id(finding.part)}",
            class_="place",
            data_wall=wall_id(finding.part),
        )
        if id is None and finding.part is not None
        else Markup("")
    )
    marks = element("span", ", ".join(finding.pieces), class_="marks") if finding.pieces else Markup("")
    return element(
        "li",
        element("strong", texts.levels[finding.level], class_="level"),
        " ", place, " ", finding.message, " ", marks, " ",
        element("small", texts.basis.format(basis=finding.basis)),
        class_=finding.level,
        id=id,
        tabindex="-1" if id else None,
    )  # fmt: skip


def _changes(wall: WallOut, texts: Texts) -> Markup:
    if not wall.changes:
        return Markup("")
    return joined(
        element("h3", texts.changes),
        element("ul", *(element("li", change.display) for change in wall.changes), class_="changes"),
    )


def _panels(wall: WallOut, layout: Layout, texts: Texts) -> Markup:
    if not wall.panels:
        return Markup("")
    head = (texts.panel_head, texts.panel_from, texts.panel_length, texts.panel_weight)
    rows: list[tuple[Child, ...]] = [
        (
            f"{panel.number}",
            format_length(panel.start, layout.units),
            panel.display,
            weight_text(panel.weight_kg),
        )
        for panel in wall.panels
    ]
    return joined(element("h3", texts.panels), table(texts.panels, head, rows, class_="panels", named=False))


def _plate_words(length: PlateLength, texts: Texts) -> str:
    """What is said over the marks of a plate, or of one length of it."""
    if length.panel is not None:
        return texts.panel_marks
    return texts.plate_marks if length.alone else texts.length_marks


def _marks(wall: WallOut, texts: Texts) -> Markup:
    tables = [
        table(
            _plate_words(length, texts).format(
                plate=plate_text(length, texts),
                mark=length.mark,
                start=length.display,
                panel=length.panel,
            ),
            (texts.mark_at, texts.piece),
            [(mark.display, mark.mark) for mark in length.marks],
            class_="marks",
        )
        for length in wall.plate_lengths
        if length.marks
    ]
    return joined(element("h3", texts.running_marks), element("div", *tables, class_="plates"))


def _spacers(wall: WallOut, layout: Layout, texts: Texts) -> Markup:
    if not wall.spacers:
        return Markup("")
    grades = sorted({grade for spacer in wall.spacers for grade in spacer.worst})
    head = (texts.run, texts.bays, texts.exact_bay, texts.spacer, texts.closing_bay)
    rows: list[tuple[Child, ...]] = [
        (
            texts.run_of.format(
                left=format_length(spacer.from_, layout.units), right=format_length(spacer.to, layout.units)
            ),
            f"{spacer.bays}",
            small_length(spacer.clear, layout.units),
            element("strong", spacer.display),
            element("strong", spacer.closing_bay_display),
            *(_drift(spacer, grade, layout, texts) for grade in grades),
        )
        for spacer in wall.spacers
    ]
    names = tuple(texts.off_size.format(grade=grade) for grade in grades)
    return joined(
        element("h3", texts.spacers), table(texts.spacers, head + names, rows, class_="spacers", named=False)
    )


def _drift(spacer: Spacer, grade: str, layout: Layout, texts: Texts) -> str:
    nothing = Drift(short=0.0, long=0.0)
    worst, likely = spacer.worst.get(grade, nothing), spacer.likely.get(grade, nothing)
    return texts.drift.format(
        short=small_length(worst.short, layout.units),
        long=small_length(worst.long, layout.units),
        likely_short=small_length(likely.short, layout.units),
        likely_long=small_length(likely.long, layout.units),
    )


def _openings(wall: WallOut, layout: Layout, texts: Texts) -> Markup:
    if not wall.openings:
        return Markup("")
    units = layout.units
    lined = any(opening.finish for opening in wall.openings)
    rows: list[tuple[Child, ...]] = [
        (
            opening.name,
            texts.opening_kinds[opening.kind],
            size_text(opening.right - opening.left, opening.top - opening.bottom, units),
            *([clear_text(opening, units)] if lined else []),
            format_length(opening.left, units),
            format_length(opening.bottom, units),
            opening.framing,
            ", ".join(opening.pieces),
        )
        for opening in wall.openings
    ]
    head = (
        texts.opening, texts.kind, texts.clear_size, *([texts.left_clear] if lined else []), texts.left_edge,
        texts.sill, texts.framing, texts.pieces,
    )  # fmt: skip
    return joined(
        element("h3", texts.openings), table(texts.openings, head, rows, class_="openings", named=False)
    )
