"""The joint sheets: one joint of each kind at 1:5 with its nails, and the list of all fixings."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Final

import svg

from soleplate.engine.layout import FixingsRow, JointFixingOut, Layout
from soleplate.viewer.drawings import (
    JOINT_WINDOW,
    PlacedPiece,
    draw_joint,
    drawn_as,
    lettering,
    placed_pieces,
    tone_patterns,
    views_of,
)
from soleplate.viewer.lists import fixing_size
from soleplate.viewer.paper import FIGURES, Page, PaperName, scale_text
from soleplate.viewer.sheets.blocks import Block, Cell, Column, SheetOf, breakable, table, tick, words
from soleplate.viewer.sheets.picture import Picture, picture
from soleplate.viewer.words import Texts, role_text, small_length

SCALE: Final = 5
COLUMNS: Final = 2
BETWEEN: Final = 5.0
"""Between columns, mm."""

ROW: Final = 69.0
"""Height of a row of joints, mm."""

APART: Final = 10.0
"""Between the two views of a joint, mm in the world."""

UNDER: Final = 1.6
"""Under a view, in text sizes: from which side it is seen."""


@dataclass(frozen=True, slots=True)
class JointKind:
    """All joints alike, by one of them that stands for the others."""

    like: JointFixingOut
    through: str
    into: str
    count: int


def joint_sheets(layout: Layout, paper: PaperName, texts: Texts) -> list[SheetOf]:
    """The sheets of joints of a layout that tells its fixings, and the list of what fixes them."""
    if not layout.fixings:
        return []
    said = texts.raising
    pieces = placed_pieces(layout)
    cells = [_cell(kind, layout, pieces, texts) for kind in joint_kinds(layout, pieces)]
    room = Page(paper, landscape=False).room[1]
    on_one = COLUMNS * max(1, int(room // ROW))
    sheets = [
        SheetOf(
            f"joints-{number}", said.joints, said.joints_sub, said.joints, scale_text(SCALE),
            [words(said.uplift), _grid(cells[start : start + on_one])],
        )
        for number, start in enumerate(range(0, len(cells), on_one), 1)
    ]  # fmt: skip
    return [*sheets, _list(layout, texts)]


def joint_kinds(layout: Layout, pieces: dict[str, PlacedPiece]) -> list[JointKind]:
    """One joint of each kind, by how and what it joins; the plainest of those alike."""
    found: dict[tuple[str, ...], list[JointFixingOut]] = {}
    for each in layout.fixings:
        if each.places and each.through in pieces:
            found.setdefault(_key(each, pieces), []).append(each)
    return [
        JointKind(
            min(alike, key=lambda each: (bool(each.faults), each.pilot is not None, each.when is not None)),
            key[1],
            key[2],
            len(alike),
        )
        for key, alike in found.items()
    ]


_UPRIGHT: Final = frozenset({"stud", "king stud", "trimmer", "cripple", "corner stud", "backing stud"})
_PLATE: Final = frozenset({"sole plate", "head plate", "raked plate"})


def _key(each: JointFixingOut, pieces: dict[str, PlacedPiece]) -> tuple[str, ...]:
    """What joints are alike by: how they lie, what fixes them, and roles, uprights and plates each as one."""
    through, into = (
        pieces[mark].piece.role if mark in pieces else mark for mark in (each.through, each.into)
    )
    if each.joint == "end":
        through = "head plate" if through in _PLATE else "stud" if through in _UPRIGHT else through
        into = "stud" if into in _UPRIGHT else into
    if each.joint in ("side", "corner"):
        through, into = sorted((through, into))
        through, into = ("stud", "stud") if each.joint == "corner" else (through, into)
    return each.joint, through, into, each.way, each.kind, f"{each.length}"


def _cell(kind: JointKind, layout: Layout, pieces: dict[str, PlacedPiece], texts: Texts) -> dict[str, object]:
    said, each = texts.raising, kind.like
    through, into = (
        role_text(pieces[mark].piece.role, texts) if mark in pieces else mark
        for mark in (each.through, each.into)
    )
    name = said.joint_of.format(through=through, into=into)
    drawn = _drawn(each, pieces, name, texts)
    return {
        "svg": drawn.svg, "width": drawn.width, "height": drawn.height, "alt": drawn.alt,
        "name": breakable(f"{name[:1].upper()}{name[1:]}"),
        "lines": [breakable(line) for line in _lines(kind, layout, texts)],
        "ticked": False,
    }  # fmt: skip


def _lines(kind: JointKind, layout: Layout, texts: Texts) -> Iterator[str]:
    said, each = texts.raising, kind.like
    told = said.joint_count.format(
        count=len(each.places), kind=fixing_size(each, layout.units, texts), way=said.ways[each.way],
        joints=kind.count,
    )  # fmt: skip
    if each.pilot is not None:
        told += f" {said.pilot.format(size=small_length(each.pilot, layout.units))}"
    if each.when is not None:
        told += f" {said.driven.format(when=each.when)}"
    yield told
    for fault in each.faults:
        yield said.lacks.format(
            what=fault.what,
            needs=small_length(fault.needs, layout.units),
            has=small_length(fault.has, layout.units),
        )


def _drawn(each: JointFixingOut, pieces: dict[str, PlacedPiece], name: str, texts: Texts) -> Picture:
    """A joint from two sides, side by side."""
    size = FIGURES * SCALE
    parts: list[svg.Element] = []
    for index, view in enumerate(views_of(each, pieces[each.through])):
        drawn, (x, y) = draw_joint(each, pieces, view, size)
        left = index * (JOINT_WINDOW + APART)
        parts.append(svg.G(transform=[svg.Translate(left - x, y)], elements=drawn))
        side = texts.raising.joint_seen[view.seen]
        parts.append(lettering(side, left, JOINT_WINDOW / 2 + 0.8 * size, size))
    half = JOINT_WINDOW / 2
    alt = texts.raising.joint_alt.format(
        name=name, scale=scale_text(SCALE), marks=f"{each.through}, {each.into}"
    )
    roles = [drawn_as(pieces[mark].piece) for mark in (each.through, each.into) if mark in pieces]
    view_box = (-half, -half, 2 * JOINT_WINDOW + APART, JOINT_WINDOW + UNDER * size)
    return picture(parts, view_box, alt, scale=SCALE, defs=[tone_patterns(roles)])


def _grid(cells: Sequence[dict[str, object]]) -> Block:
    return {"kind": "figures", "columns": COLUMNS, "gap": BETWEEN, "cells": list(cells)}


def _list(layout: Layout, texts: Texts) -> SheetOf:
    """All fixings by kind and size: as they are placed, and what to buy."""
    said = texts.raising
    in_boxes = any(row.boxes is not None for row in layout.fixings_list)
    columns = [
        Column(texts.sheets.done),
        Column(said.fixing, "rest", "figure"),
        Column(said.as_placed, "auto", "figure", right=True),
        Column(said.to_buy, "auto", "figure", right=True),
        *([Column(said.boxes, "auto", "figure", right=True)] if in_boxes else []),
    ]
    rows = [_row(row, layout, texts, in_boxes=in_boxes) for row in layout.fixings_list]
    return SheetOf(
        "fixings", said.fixings, said.fixings_lead, said.fixings, texts.sheets.no_scale,
        [table(columns, rows), words(said.uplift)],
    )  # fmt: skip


def _row(row: FixingsRow, layout: Layout, texts: Texts, *, in_boxes: bool) -> Sequence[Cell]:
    boxes = "" if row.boxes is None else f"{row.boxes} × {row.box}"
    told: list[Cell] = [fixing_size(row, layout.units, texts), f"{row.count}", f"{row.with_waste}"]
    return [tick(), *told, *([boxes] if in_boxes else [])]
