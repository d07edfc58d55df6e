"""The pages that show no building: the start page, and what a problem means."""

from __future__ import annotations

from soleplate.api.problems import ProblemType
from soleplate.engine.cautions import CAUTIONS
from soleplate.viewer.markup import Markup, element


def start_page() -> str:
    """How to open a building, for a server that was started without one."""
    return _page(
        "Soleplate",
        element("p", "This server was started without a building. Stop it, and start it with one:"),
        element("pre", element("code", "soleplate serve BUILDING.json")),
        element(
            "p",
            "Other programs find every call in ",
            element("a", "the OpenAPI document", href="/openapi.json"),
            " and every installed rule in ",
            element("a", "the list of rules", href="/v1/rules"),
            ".",
        ),
        element("p", CAUTIONS[0]),
    )


def problem_page(problem: ProblemType) -> str:
    """What happened, and what to do about it."""
    return _page(
        problem.title,
        element("p", problem.meaning),
        element("p", f"HTTP status {problem.status}, type ", element("code", problem.uri), "."),
    )


def _page(title: str, *parts: Markup) -> str:
    head = element(
        "head",
        element("meta", charset="utf-8"),
        element("meta", name="viewport", content="width=device-width, initial-scale=1"),
        element("title", title),
        element("link", rel="stylesheet", href="/static/soleplate.css"),
        element("link", rel="icon", href="/static/favicon.svg", type="image/svg+xml"),
    )
    body = element("body", element("main", element("h1", title), *parts))
    return f"<!DOCTYPE html>\n{element('html', head, body, lang='en')}\n"
