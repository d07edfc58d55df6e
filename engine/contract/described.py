"""Whether a rule says what it is: its docstring, its fields and their limits, its examples."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from soleplate.engine.contract.breach import Breach
from soleplate.engine.rules import Rule

Schema = Mapping[str, Any]


def described(model: type[Rule]) -> Iterator[Breach]:
    """What a reader of its description would miss."""
    if not (model.__dict__.get("__doc__") or "").strip():
        yield Breach("undocumented field", "the class has no docstring, so nobody learns what the rule does")
    if not model.examples:
        yield Breach("no example", "the class has no examples, so nobody sees how it is asked for")
    schema = model.model_json_schema(by_alias=True)
    yield from _of_fields(schema, "")
    for name, definition in sorted(schema.get("$defs", {}).items()):
        yield from _of_fields(definition, f"{name}.")


def _of_fields(schema: Schema, before: str) -> Iterator[Breach]:
    for name, field in schema.get("properties", {}).items():
        if name == "rule" and not before:
            continue
        place = f"{before}{name}"
        if not field.get("description"):
            yield Breach("undocumented field", f"{place} has no docstring under it")
        for what in _unlimited(field):
            yield Breach("no limits", f"{place} takes {what} without limits")


def _unlimited(schema: Schema) -> Iterator[str]:
    """What a schema accepts without end; what it refers to is looked at by itself."""
    if {"x-least-mm", "const", "enum", "$ref"} & set(schema):
        return
    for several in ("anyOf", "oneOf", "allOf"):
        for one in schema.get(several, ()):
            yield from _unlimited(one)
    kind = schema.get("type")
    if kind in ("integer", "number"):
        least, most = {"minimum", "exclusiveMinimum"}, {"maximum", "exclusiveMaximum"}
        if not (least & set(schema) and most & set(schema)):
            yield "numbers"
    elif kind == "string" and not {"maxLength", "pattern"} & set(schema):
        yield "texts"
    elif kind == "array":
        if "maxItems" not in schema:
            yield "lists"
        for item in (*schema.get("prefixItems", ()), schema.get("items", {})):
            yield from _unlimited(item)
