"""The tools of the page, for where a script runs; hidden until it does."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final, get_args

from soleplate.viewer.drawings import Side
from soleplate.viewer.markup import Markup, element, joined
from soleplate.viewer.page.parts import layer_switches
from soleplate.viewer.page.view import PageView
from soleplate.viewer.paper import LONGEST, PAPERS
from soleplate.viewer.words import Texts

ON_PAPER: Final = ("job-book", "sheets")
"""The exports that can be asked for paper and title block; they come first."""


def button(text: str, action: str, *, key: str | None = None, title: str | None = None) -> Markup:
    """A button; the script does what `data-do` says."""
    return element(
        "button", text, type="button", data_do=action, aria_keyshortcuts=key, title=title, aria_label=title
    )


def bench_tool(texts: Texts) -> Markup:
    """The way to the bench."""
    return element("div", button(texts.bench, "bench"), class_="tools live-only", hidden=True)


def tools(texts: Texts) -> Markup:
    """What is done with the whole building."""
    return element(
        "div",
        button(texts.undo, "undo", key="Control+Z"),
        button(texts.redo, "redo", key="Control+Shift+Z"),
        button(texts.new, "new"),
        button(texts.open_file, "open"),
        button(texts.save_file, "save"),
        button(texts.keep, "kept"),
        button(texts.save_sheets, "sheets"),
        button(texts.bench, "bench"),
        element("input", type="file", id="file", accept=".json,application/json", hidden=True, tabindex="-1",
                aria_label=texts.open_file),
        class_="tools live-only",
        role="toolbar",
        aria_label=texts.tools,
        hidden=True,
    )  # fmt: skip


def board_bar(layers: tuple[str, ...], view: PageView, *, live: bool) -> Markup:
    """What is done with the drawing: from which side it is seen, what lies on it, and how near it is.

    Where no script runs the sides are links, and the layers work by themselves.
    """
    texts = view.texts
    sides = element(
        "fieldset",
        element("legend", texts.seen_from),
        *(
            element(
                "label",
                element("input", type="radio", name="side", value=side, checked=side == view.side),
                " ",
                name,
            )
            for side, name in texts.side_names.items()
        ),
        class_="sides live-only",
        hidden=True,
    )
    nearer = element(
        "div",
        button("−", "further", key="-", title=texts.further),
        button("+", "nearer", key="+", title=texts.nearer),
        button(texts.fit, "fit", key="0"),
        class_="nearness live-only",
        role="group",
        aria_label=texts.nearness,
        hidden=True,
    )
    return element(
        "div",
        joined(sides, _side_links(view)) if live else Markup(""),
        layer_switches(layers, texts),
        nearer,
        class_="board-bar",
    )


def _side_links(view: PageView) -> Markup:
    """The same look from the other side, for where no script runs."""
    sides: tuple[Side, ...] = get_args(Side)
    links = [
        element(
            "a",
            view.texts.seen_from_side.format(side=view.texts.side_names[side]),
            href=view.with_query(wall=view.wall, side=side),
        )
        for side in sides
        if side != view.side
    ]
    return element("noscript", *links)


def cut_card(texts: Texts) -> Markup:
    """The card that the script fills from a piece and its row of the cutting list, and shows."""
    fields = (
        ("section", texts.section),
        ("timber", texts.material),
        ("ends", texts.ends),
        ("short", texts.short_side),
        ("count", texts.count),
        ("marks", texts.marks),
        ("turned", texts.turned_name),
        ("stock", texts.from_length),
        ("place", texts.sits),
    )
    facts = [element("div", element("dt", name), element("dd", data_slot=field)) for field, name in fields]
    return element(
        "aside",
        element("button", texts.close, type="button", class_="close", data_do="close-card"),
        element(
            "p", element("strong", data_slot="mark"), " ", element("span", data_slot="role"), class_="which"
        ),
        element("p", data_slot="length", class_="figure"),
        element("p", data_slot="trim", class_="trim"),
        element("p", data_drawn="ends", class_="drawn"),
        element("dl", *facts),
        element("a", texts.in_row, href="#cutting-list", class_="in-row"),
        id="cut-card",
        aria_label=texts.card,
        aria_live="polite",
        hidden=True,
    )


def bench(texts: Texts) -> Markup:
    """Bench mode: one thing to do at a time, in large type; the script fills it, and hides all else."""
    return element(
        "main",
        element(
            "header",
            button(texts.back_to_board, "board"),
            element("h1", id="bench-stage", tabindex="-1"),
            class_="bench-head",
        ),
        element("progress", id="bench-progress", value="0", max="1", aria_label=texts.done_so_far),
        element("div", id="bench-step", tabindex="-1", aria_live="polite"),
        element(
            "div",
            button(texts.before, "before", key="ArrowLeft"),
            button(texts.done, "done", key="Enter"),
            button(texts.after, "after", key="ArrowRight"),
            class_="bench-keys",
        ),
        id="bench",
        aria_label=texts.bench,
        hidden=True,
    )


def dialogs(exports: Mapping[str, str], texts: Texts) -> Markup:
    """The dialogs: kept designs, which the script lists, and the sheets and lists to save."""
    kept = element("div", id="kept-list")
    made = [
        element(
            "li", button(texts.export_names.get(name, name.replace("-", " ")), "export"),
            " ", element("span", texts.schema.get(says, says)),
            data_export=name, data_paper=name in ON_PAPER or None,
        )
        for name, says in sorted(exports.items(), key=lambda export: export[0] not in ON_PAPER)
    ]  # fmt: skip
    asked = [_sheet_options(texts)] if exports.keys() & set(ON_PAPER) else []
    said = element("p", id="sheets-said", role="status")
    sheets = joined(*asked, element("ul", *made, class_="designs"), said)
    return joined(
        _dialog("kept", texts.kept, kept, texts), _dialog("sheets", texts.save_sheets, sheets, texts)
    )


def _sheet_options(texts: Texts) -> Markup:
    """The paper, and what can be told of the title block."""
    said = texts.sheets
    papers = [element("option", said.usual_paper, value=""), *(element("option", name) for name in PAPERS)]
    labels = {"owner": said.owner, "creator": said.creator, "revision": said.revision, "date": said.date}
    return element(
        "fieldset",
        element("legend", said.on_paper),
        element("label", said.paper, " ", element("select", *papers, name="paper")),
        *(
            element("label", label, " ", element("input", name=name, maxlength=f"{LONGEST[name]}"))
            for name, label in labels.items()
        ),
        class_="sheet-options",
    )


def _dialog(name: str, title: str, inside: Markup, texts: Texts) -> Markup:
    end = element("p", element("button", texts.close, type="submit"), class_="dialog-end")
    form = element("form", element("h2", title), inside, end, method="dialog")
    return element("dialog", form, id=name, aria_label=title)
