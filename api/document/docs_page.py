"""The OpenAPI document as a page to read: every call, its body and answers, every rule and model."""

from __future__ import annotations

import json
from collections.abc import Iterable, Iterator, Mapping, Sequence
from itertools import groupby
from typing import Any

from soleplate.api.calls import page_of
from soleplate.api.document.schema_words import anchor, members, words
from soleplate.viewer.markup import Child, Markup, element, joined, table_of

Schemas = Mapping[str, Any]


def docs_page(document: Mapping[str, Any]) -> str:
    """The page; it loads its style sheets from this server and nothing else from anywhere."""
    schemas: Schemas = document["components"]["schemas"]
    rules = {name: schema for name, schema in schemas.items() if "x-plugin" in schema}
    models = {name: schema for name, schema in schemas.items() if name not in rules}
    return page_of(
        "The HTTP API",
        element("p", document["info"]["description"]),
        element(
            "p",
            "This page is made from ",
            element("a", "the OpenAPI document", href="/openapi.json"),
            f", version {document['info']['version']}, of the rules that are installed here.",
        ),
        _contents(document, rules, models),
        *(_group(tag, document) for tag in document["tags"]),
        _headers(document["components"]["headers"]),
        _problems(document),
        _rules(rules),
        _section("models", "Models", *(_model(name, schema, "h3") for name, schema in models.items())),
        style="docs.css",
    )


def _contents(document: Mapping[str, Any], rules: Schemas, models: Schemas) -> Markup:
    calls = [
        element(
            "li",
            element("a", f"{method} {path}", href=f"#{call['operationId']}"),
            f" {call['summary']}",
        )
        for tag in document["tags"]
        for method, path, call in _calls(document, tag["name"])
    ]
    links = [
        element("li", element("a", f"{title} ({count})", href=f"#{place}"))
        for place, title, count in (
            ("problems", "Problems", len(_problem_types(document))),
            ("rules", "Rules", len(rules)),
            ("models", "Models", len(models)),
        )
    ]
    return element("nav", element("ul", *calls, *links), aria_label="Contents")


def _calls(document: Mapping[str, Any], group: str) -> Iterator[tuple[str, str, Mapping[str, Any]]]:
    """(method, path, operation) of a group's calls."""
    for path, methods in document["paths"].items():
        for method, call in methods.items():
            if group in call["tags"]:
                yield method.upper(), path, call


def _group(tag: Mapping[str, str], document: Mapping[str, Any]) -> Markup:
    calls = [_call(method, path, call) for method, path, call in _calls(document, tag["name"])]
    return _section(anchor(tag["name"]), tag["name"], element("p", tag["description"]), *calls)


def _call(method: str, path: str, call: Mapping[str, Any]) -> Markup:
    parts: list[Child] = [
        element("h3", element("code", f"{method} {path}"), id=call["operationId"]),
        element("p", element("strong", call["summary"])),
    ]
    if call["description"] != f"{call['summary']}.":
        parts.append(element("p", call["description"]))
    parts.append(_parameters(call["parameters"]))
    if "requestBody" in call:
        ((kind, body),) = call["requestBody"]["content"].items()
        parts.append(element("p", f"Body, {kind}: ", words(body["schema"])))
        parts.extend(
            element(
                "details",
                element("summary", f"Example: {example['summary']}"),
                _code(example["value"]),
            )
            for example in body["examples"].values()
        )
    parts.append(_answers(call["responses"]))
    return element("section", *parts, class_="call")


def _parameters(parameters: list[Mapping[str, Any]]) -> Markup:
    rows = [
        (
            element("code", parameter["name"]),
            f"{parameter['in']}, {'needed' if parameter['required'] else 'may be left out'}",
            joined(parameter["description"], " ", words(parameter["schema"])),
        )
        for parameter in parameters
    ]
    return _table("Parameters", ("name", "where", "what"), rows)


def _answers(answers: Mapping[str, Any]) -> Markup:
    rows = []
    for status, answer in sorted(answers.items()):
        kinds = [
            joined(kind, ": ", words(content["schema"]))
            for kind, content in answer.get("content", {}).items()
        ]
        headers = ", ".join(sorted(answer.get("headers", {})))
        form = joined(*(element("p", kind) for kind in kinds), element("p", f"Headers: {headers}"))
        rows.append((status, _with_code(answer["description"]), form))
    return _table("Answers", ("status", "what", "form"), rows)


def _headers(headers: Mapping[str, Any]) -> Markup:
    rows = [(element("code", name), _with_code(header["description"])) for name, header in headers.items()]
    return _section("headers", "Headers", _table("Of answers", ("header", "what"), rows))


def _problem_types(document: Mapping[str, Any]) -> dict[str, Mapping[str, Any]]:
    """An example of every type of problem that a call can have, by the type."""
    return {
        example["value"]["type"]: example["value"]
        for methods in document["paths"].values()
        for call in methods.values()
        for status, answer in sorted(call["responses"].items())
        if status[0] in "45"
        for content in answer["content"].values()
        for example in content["examples"].values()
    }


def _problems(document: Mapping[str, Any]) -> Markup:
    types = _problem_types(document)
    rows = [
        (
            element("a", problem["type"], href=problem["type"]),
            str(problem["status"]),
            problem["title"],
            _with_code(problem["detail"]),
        )
        for problem in sorted(types.values(), key=lambda problem: (problem["status"], problem["type"]))
    ]
    shown = _table("Types of problem", ("type", "status", "title", "what"), rows)
    return _section("problems", "Problems", shown)


def _rules(rules: Schemas) -> Markup:
    by_family = sorted(rules.items(), key=lambda item: (item[1]["x-family"], item[0]))
    parts: list[Markup] = []
    for family, group in groupby(by_family, key=lambda item: item[1]["x-family"]):
        parts.append(element("h3", str(family).replace("_", " ").capitalize()))
        parts.extend(_model(name, schema, "h4") for name, schema in group)
    return _section("rules", "Rules", *parts)


def _model(name: str, schema: Mapping[str, Any], heading: str) -> Markup:
    plugin = [element("p", f"From plugin {schema['x-plugin']}.")] if "x-plugin" in schema else []
    rows = [
        (element("code", member), kind, needed, _with_code(told))
        for member, kind, needed, told in members(schema)
    ]
    shown = [_table(f"Members of {name}", ("member", "kind", "needed", "what"), rows)]
    return element(
        "section",
        element(heading, name, id=anchor(name)),
        element("p", _with_code(schema.get("description", ""))),
        *plugin,
        *(shown if rows else [element("p", words(schema))]),
        *(
            element("details", element("summary", "Example"), _code(each))
            for each in schema.get("examples", ())
        ),
        class_="model",
    )


def _table(name: str, titles: Sequence[str], rows: Iterable[Sequence[Child]]) -> Markup:
    """A table that the style sheet makes cards of on a phone: a cell is one part, with its title as label."""
    shown = [
        element(
            "tr",
            element("th", first, scope="row"),
            *(
                element("td", element("div", cell), data_label=title)
                for title, cell in zip(titles[1:], cells, strict=True)
            ),
        )
        for first, *cells in rows
    ]
    return table_of(name, titles, shown, class_="list")


def _section(place: str, title: str, *parts: Child) -> Markup:
    return element("section", element("h2", title, id=place), *parts)


def _code(value: Any) -> Markup:
    return element("pre", element("code", json.dumps(value, indent=2, ensure_ascii=False)), tabindex="0")


def _with_code(text: str) -> Markup:
    """A text in which what stands between backticks is code."""
    return joined(
        *(element("code", part) if index % 2 else part for index, part in enumerate(text.split("`")))
    )
