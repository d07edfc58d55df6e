"""HTML, built so that a text can never become an element: what is not `Markup` is escaped, here alone."""

from __future__ import annotations

import html
import json
import re
from collections.abc import Sequence
from functools import lru_cache
from typing import Final

from soleplate.viewer.markup.serialise import carriable

_NAME: Final = re.compile(r"[a-z][a-z0-9-]*")
_VOID: Final = frozenset({"br", "img", "input", "link", "meta"})


class Markup(str):
    """A text that is HTML already, made by `element` or by the SVG serialiser."""

    __slots__ = ()


Child = Markup | str


def escape(text: str) -> Markup:
    """A text as HTML shows it, quotes included, so that it may stand in an attribute too."""
    return Markup(html.escape(carriable(text)))


def element(tag: str, /, *children: Child, **attributes: str | bool | None) -> Markup:
    """An element; `class_` and `data_mark` give `class` and `data-mark`; `None` and `False` give none.

    Raises:
        ValueError: the tag's or an attribute's name is none.
    """
    set_ = "".join(
        f" {_name(key)}" if value is True else f' {_name(key)}="{escape(value)}"'
        for key, value in attributes.items()
        if value is not None and value is not False
    )
    if _name(tag) in _VOID:
        return Markup(f"<{tag}{set_}>")
    return Markup(f"<{tag}{set_}>{joined(*children)}</{tag}>")


@lru_cache(maxsize=512)
def _name(key: str) -> str:
    name = key.rstrip("_").replace("_", "-")
    if not _NAME.fullmatch(name):
        raise ValueError(f"{name!r} is no name of an element or attribute")
    return name


def data_block(name: str, value: object) -> Markup:
    """A value for the script, as JSON in a block that no browser runs; its id is `name`.

    What could end the block, or begin a comment in it, is written as an escape of JSON.
    """
    text = json.dumps(value, ensure_ascii=True, separators=(",", ":")).replace("<", "\\u003c")
    return Markup(f'<script type="application/json" id="{escape(name)}">{text}</script>')


def joined(*children: Child) -> Markup:
    """Children one after the other; texts are escaped."""
    return Markup("".join(child if isinstance(child, Markup) else escape(child) for child in children))


def table(
    name: str,
    head: Sequence[str],
    rows: Sequence[Sequence[Child]],
    *,
    class_: str,
    named: bool = True,
    wide: bool | None = None,
) -> Markup:
    """A table whose rows each begin with their heading; `named` shows its name above it."""
    body = [
        element(
            "tr",
            element("th", row[0], scope="row"),
            *(element("td", cell, data_label=title) for title, cell in zip(head[1:], row[1:], strict=True)),
        )
        for row in rows
    ]
    return table_of(name, head, body, class_=class_, named=named, wide=wide)


def table_of(
    name: str,
    head: Sequence[str],
    body: Sequence[Markup],
    *,
    class_: str,
    named: bool = True,
    wide: bool | None = None,
) -> Markup:
    """As `table`, of rows that are elements already.

    A `wide` one, as one of many columns is unless told, scrolls sideways where it has no room, or by the
    style sheet becomes a card a row, each cell with its `data-label`.
    """
    shown = element(
        "table",
        element("caption", name) if named else "",
        element("thead", element("tr", *(element("th", title, scope="col") for title in head))),
        element("tbody", *body),
        class_=class_,
        aria_label=None if named else name,
    )
    if not (len(head) > 3 if wide is None else wide):
        return shown
    return element("div", shown, class_="wide", tabindex="0", role="group", aria_label=name)
