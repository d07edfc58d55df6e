"""The page: the plan as the way round, every wall, and the lists. Whole without any script."""

from __future__ import annotations

import svg

from soleplate.engine.layout import Layout
from soleplate.viewer.elevation import LAYERS, SHOWN, cutting_rows
from soleplate.viewer.markup import Markup, element, joined
from soleplate.viewer.page_lists import buying_list, cautions, cutting_list, findings
from soleplate.viewer.page_saw import saw_plan
from soleplate.viewer.page_wall import wall_section
from soleplate.viewer.plan import plan_svg
from soleplate.viewer.serialise import svg_text
from soleplate.viewer.texts import ENGLISH, Texts
from soleplate.viewer.tones import saw_patterns, tone_patterns
from soleplate.viewer.wording import weight_text


def page_html(layout: Layout, texts: Texts = ENGLISH, *, files: str = "/static/") -> str:
    """The page of a building as one HTML document; the same bytes for the same layout.

    It asks for `soleplate.css`, `soleplate.js` and `favicon.svg` under `files`, and for nothing else;
    it has no inline script and no inline style.
    """
    rows = cutting_rows(layout)
    walls = [wall_section(wall, layout, rows, texts) for wall in layout.walls]
    body = element(
        "body",
        element("a", texts.skip, href="#walls", class_="skip"),
        element("header", _title_block(layout, texts), _deferral(layout, texts)),
        element(
            "div",
            _way_round(layout, texts),
            element("main", element("div", *walls, id="walls", tabindex="-1"), _lists(layout, texts)),
            class_="desk",
        ),
        _cut_card(texts),
        _patterns(layout),
    )
    return f"<!DOCTYPE html>\n{element('html', _head(layout, texts, files), body, lang=texts.language)}\n"


def _head(layout: Layout, texts: Texts, files: str) -> Markup:
    return element(
        "head",
        element("meta", charset="utf-8"),
        element("meta", name="viewport", content="width=device-width, initial-scale=1"),
        element("meta", name="color-scheme", content="light dark"),
        element("title", texts.title.format(name=layout.name)),
        element("link", rel="stylesheet", href=f"{files}soleplate.css"),
        element("link", rel="icon", href=f"{files}favicon.svg", type="image/svg+xml"),
        element("script", src=f"{files}soleplate.js", defer=True),
    )


def _title_block(layout: Layout, texts: Texts) -> Markup:
    pieces = sum(len(wall.pieces) for wall in layout.walls)
    facts = (
        (texts.walls, f"{len(layout.walls)}"),
        (texts.pieces, f"{pieces}"),
        (texts.weight, weight_text(layout.weight_kg)),
        (texts.units, texts.unit_names[layout.units]),
    )
    cells = [element("div", element("dt", name), element("dd", value)) for name, value in facts]
    return element("div", element("h1", layout.name), element("dl", *cells), class_="title-block")


def _deferral(layout: Layout, texts: Texts) -> Markup:
    link = element("a", texts.all_cautions, href="#cautions")
    return element("p", *layout.cautions[:1], " ", link, class_="deferral")


def _way_round(layout: Layout, texts: Texts) -> Markup:
    layers = [
        element(
            "label",
            element("input", type="checkbox", checked=layer in SHOWN, value=layer, name="layer"),
            " ",
            texts.layer_names[layer],
        )
        for layer in LAYERS
        if layer in SHOWN or any(wall.cladding for wall in layout.walls)
    ]
    lists = (
        ("findings", texts.findings),
        ("cutting-list", texts.cutting_list),
        ("buying-list", texts.buying_list),
        *([("saw-plan", texts.saw_plan)] if layout.saw_plan else []),
        ("cautions", texts.cautions),
    )
    links = [element("li", element("a", name, href=f"#{place}")) for place, name in lists]
    return element(
        "nav",
        Markup(plan_svg(layout, texts=texts)),
        element("a", texts.all_walls, href="#walls", class_="all-walls"),
        element("fieldset", element("legend", texts.layers), *layers, class_="layers live-only", hidden=True),
        element("ul", *links, class_="contents", aria_label=texts.contents),
        class_="way-round",
        aria_label=texts.way_round,
    )


def _lists(layout: Layout, texts: Texts) -> Markup:
    return joined(
        findings(layout, texts),
        cutting_list(layout, texts),
        buying_list(layout, texts),
        saw_plan(layout, texts),
        cautions(layout, texts),
    )


def _cut_card(texts: Texts) -> Markup:
    """The card that the script fills from a piece and its row of the cutting list, and shows."""
    fields = (
        ("section", texts.section),
        ("timber", texts.material),
        ("ends", texts.ends),
        ("short", texts.short_side),
        ("count", texts.count),
        ("marks", texts.marks),
    )
    facts = [element("div", element("dt", name), element("dd", data_slot=field)) for field, name in fields]
    return element(
        "aside",
        element("button", texts.close, type="button", class_="close"),
        element(
            "p", element("strong", data_slot="mark"), " ", element("span", data_slot="role"), class_="which"
        ),
        element("p", data_slot="length", class_="figure"),
        element("p", data_slot="trim", class_="trim"),
        element("dl", *facts),
        element("a", texts.in_row, href="#cutting-list", class_="in-row"),
        id="cut-card",
        aria_label=texts.card,
        aria_live="polite",
        hidden=True,
    )


def _patterns(layout: Layout) -> Markup:
    """The patterns that the pieces of all drawings refer to."""
    roles = sorted({piece.role for wall in layout.walls for piece in wall.pieces})
    patterns: list[svg.Element] = [tone_patterns(roles)]
    if layout.saw_plan:
        patterns.append(saw_patterns())
    holder = svg.SVG(width=0, height=0, class_=["patterns"], extra={"aria-hidden": "true"}, elements=patterns)
    return Markup(svg_text(holder))
