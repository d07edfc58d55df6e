"""The page: the plan as the way round, the walls, and the lists. Whole without any script."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any, Final

from soleplate.engine.layout import Layout
from soleplate.engine.shapes import ROLES, Roles
from soleplate.viewer.markup import Markup, data_block, element
from soleplate.viewer.page.parts import board_parts
from soleplate.viewer.page.raising import raising_place, raising_steps
from soleplate.viewer.page.start import start_section
from soleplate.viewer.page.tools import bench, bench_tool, board_bar, cut_card, dialogs, tools
from soleplate.viewer.page.view import PageView
from soleplate.viewer.words import ENGLISH, Texts

FIRST: Final = ("page.js", "pieces.js", "zoom.js", "card.js", "main.js")
"""The scripts of the first view."""

READING: Final = (*FIRST, "bench.js", "raising.js", "turn.js")
"""The scripts of a page that shows a building as it is: they need no server."""

READ_WITH: Final = (*READING, "soleplate.css", "favicon.svg")
"""All files that a page asks for which shows a building as it is."""

EDITING: Final = (
    "building.js",
    "schema.js",
    "lengths.js",
    "drawing.js",
    "begun.js",
    "obstacles.js",
    "entries.js",
    "drag.js",
    "site.js",
    "files.js",
    "changes.js",
    "designs.js",
    "sheets.js",
    "live.js",
)
"""Those that change it, by way of the server; a served page asks for them once it is shown."""


@dataclass(frozen=True, slots=True)
class Served:
    """What a served page knows besides the building laid out."""

    caution: str
    building: Mapping[str, Any] | None = None
    """The building file, for the script; `None` where there is none yet."""
    key: str = ""
    """By which the browser remembers what was done with this building."""
    layers: tuple[str, ...] = ()
    """The names of the plugins' drawing layers."""
    examples: Mapping[str, str] = field(default_factory=dict)
    """What may be started from: titles by name."""
    exports: Mapping[str, str] = field(default_factory=dict)
    """What can be saved of a building: a sentence by name."""
    roles: Roles = ROLES
    """Those that its pieces may have."""
    claddings: tuple[str, ...] = ()
    """The cladding rules that may be started with."""
    answers: Mapping[str, str] = field(default_factory=dict)
    """What was answered to the start's questions."""
    faults: Mapping[str, str] = field(default_factory=dict)
    """What is wrong with the answers, by name."""


def page_html(
    layout: Layout,
    texts: Texts = ENGLISH,
    *,
    files: str = "/static/",
    view: PageView | None = None,
    key: str = "",
) -> str:
    """The page of a building as one HTML document to read; the same bytes for the same layout.

    It asks for the style sheet, the scripts of `READING` and the icon under `files`, and for nothing else;
    it has no inline script and no inline style.
    """
    shown = view or PageView(texts=texts)
    parts = board_parts(layout, shown)
    layers = tuple(sorted({layer for wall in shown.added.values() for layer in wall}))
    data = {"key": key, "texts": dict(texts.script), "roles": dict(texts.role_names)}
    header = element("header", parts["facts"], bench_tool(texts), _deferral(layout.cautions[:1], texts))
    return _document(
        texts.title.format(name=layout.name),
        [
            header,
            _desk(parts, board_bar(layers, shown, live=False), shown, steps=_known_steps(layout, texts)),
        ],
        parts,
        data,
        (texts, files, READING),
    )


def served_page_html(
    layout: Layout | None, served: Served, view: PageView, *, files: str = "/static/"
) -> str:
    """The page of a server: the building on the board, or the start where there is none yet."""
    texts = view.texts
    parts = board_parts(layout, view) if layout else _blank(texts)
    title = texts.title.format(name=layout.name) if layout else texts.product
    data = {
        "key": served.key,
        "building": served.building,
        "wall": view.wall,
        "side": view.side,
        "whole": view.whole,
        "scripts": [f"{files}{name}" for name in (*READING[len(FIRST) :], *EDITING)],
        "texts": dict(texts.script),
        "roles": dict(texts.role_names),
        "schema": dict(texts.schema),
        "fixed": [role.name for role in served.roles.values() if role.stands and not role.fills],
        "tops": [role.name for role in served.roles.values() if role.past_ends],
    }
    desk = _desk(parts, board_bar(served.layers, view, live=True), view, hidden=layout is None, live=True)
    body = [
        element(
            "header",
            parts["facts"],
            tools(texts),
            _deferral((served.caution,), texts, anchored=layout is not None),
        ),
        start_section(
            served.examples,
            served.claddings,
            served.answers,
            served.faults,
            texts,
            hidden=layout is not None,
        ),
        desk,
        dialogs(served.exports, texts),
        element("footer", element("a", texts.api, href="/docs")),
    ]
    return _document(title, body, parts, data, (texts, files, FIRST))


def _document(
    title: str,
    body: Sequence[Markup],
    parts: Mapping[str, Markup],
    data: Mapping[str, Any],
    setting: tuple[Texts, str, tuple[str, ...]],
) -> str:
    texts, files, scripts = setting
    head = element(
        "head",
        element("meta", charset="utf-8"),
        element("meta", name="viewport", content="width=device-width, initial-scale=1"),
        element("meta", name="color-scheme", content="light dark"),
        element("title", title),
        element("link", rel="stylesheet", href=f"{files}soleplate.css"),
        element("link", rel="icon", href=f"{files}favicon.svg", type="image/svg+xml"),
        *(element("script", src=f"{files}{name}", defer=True) for name in scripts),
    )
    whole = element(
        "body",
        element("a", texts.skip, href="#walls", class_="skip"),
        *body,
        cut_card(texts),
        bench(texts),
        parts["patterns"],
        data_block("data", data),
    )
    return f"<!DOCTYPE html>\n{element('html', head, whole, lang=texts.language)}\n"


def _desk(
    parts: Mapping[str, Markup],
    bar: Markup,
    view: PageView,
    *,
    hidden: bool = False,
    live: bool = False,
    steps: Markup | None = None,
) -> Markup:
    texts = view.texts
    entries = element("aside", id="entries", aria_label=texts.entries, class_="live-only", hidden=True)
    status = element("div", id="status", role="status")
    return element(
        "div",
        element("nav", parts["way"], class_="way-round", aria_label=texts.way_round),
        element("main", bar, parts["walls"]),
        status,
        entries if live else Markup(""),
        raising_place(steps or Markup(""), texts, live=live) if live or steps else Markup(""),
        parts["lists"],
        class_="desk live" if live else "desk",
        id="desk",
        hidden=hidden,
    )


def _known_steps(layout: Layout, texts: Texts) -> Markup | None:
    """The order of work that a layout comes with; what was found with it is among its findings."""
    order = layout.order_of_work
    return None if order is None else raising_steps(layout, order, (), texts)


def _deferral(cautions: Sequence[str], texts: Texts, *, anchored: bool = True) -> Markup:
    link = element("a", texts.all_cautions, href="#cautions") if anchored else Markup("")
    return element("p", *cautions, " ", link, class_="deferral")


def _blank(texts: Texts) -> dict[str, Markup]:
    """The parts of a page that has no building yet."""
    patterns = Markup('<svg id="patterns" class="patterns" width="0" height="0" aria-hidden="true"></svg>')
    title = element("div", element("h1", texts.product), id="facts", class_="title-block")
    walls = element("div", id="walls", tabindex="-1")
    return {
        "facts": title,
        "way": element("div", id="way"),
        "walls": walls,
        "lists": element("div", id="lists", role="region", aria_label=texts.contents),
        "patterns": patterns,
    }
