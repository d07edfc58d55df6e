"""The pages that show no building: the start page, and what a problem means."""

from __future__ import annotations

from soleplate.api.http import ProblemType
from soleplate.viewer.markup import Markup, element


def problem_page(problem: ProblemType) -> str:
    """What happened, and what to do about it."""
    return page_of(
        problem.title,
        element("p", problem.meaning),
        element("p", f"HTTP status {problem.status}, type ", element("code", problem.uri), "."),
    )


def page_of(title: str, *parts: Markup, style: str | None = None) -> str:
    """A whole page; `style` names a style sheet of its own, beside the one of all pages."""
    own = [element("link", rel="stylesheet", href=f"/static/{style}")] if style else []
    head = element(
        "head",
        element("meta", charset="utf-8"),
        element("meta", name="viewport", content="width=device-width, initial-scale=1"),
        element("title", title),
        element("link", rel="stylesheet", href="/static/soleplate.css"),
        *own,
        element("link", rel="icon", href="/static/favicon.svg", type="image/svg+xml"),
    )
    body = element("body", element("main", element("h1", title), *parts))
    return f"<!DOCTYPE html>\n{element('html', head, body, lang='en')}\n"
