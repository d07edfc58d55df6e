"""JSON Schema in words, for a page."""

from __future__ import annotations

import json
import re
from collections.abc import Iterator, Mapping
from typing import Any, Final

from soleplate.viewer.markup import Child, Markup, element, joined

Schema = Mapping[str, Any]

LIMITS: Final[Mapping[str, str]] = {
    "minimum": "at least {}",
    "exclusiveMinimum": "over {}",
    "maximum": "at most {}",
    "exclusiveMaximum": "under {}",
    "minLength": "at least {} characters",
    "maxLength": "at most {} characters",
    "minItems": "at least {}",
    "maxItems": "at most {}",
    "maxProperties": "at most {} members",
    "pattern": "as {}",
    "x-least-mm": "at least {} mm",
    "x-most-mm": "at most {} mm",
}

KINDS: Final[Mapping[str, str]] = {
    "string": "text",
    "number": "number",
    "integer": "whole number",
    "boolean": "true or false",
    "null": "null",
    "object": "object",
    "array": "list",
}


DEFAULT: Final = "x-default"
"""What a member that is not sent is taken for, in the document's own schemas."""


def anchor(name: str) -> str:
    """Where on the page a model is."""
    return re.sub(r"[^a-z0-9]+", "-", name.lower()).strip("-")


def members(schema: Schema) -> Iterator[tuple[str, Markup, str, str]]:
    """(name, kind, whether it is needed or what it is without, description) of an object's members."""
    needed = schema.get("required", ())
    for name, member in schema.get("properties", {}).items():
        if name in needed:
            without = "yes"
        elif (default := member.get("default", member.get(DEFAULT))) is None:
            without = "no"
        else:
            told = json.dumps(default, ensure_ascii=False)
            without = f"no; {told}" if len(told) < 60 else "no"
        yield name, words(member), without, member.get("description", "")


def words(schema: Schema) -> Markup:
    """What a value has to be, models as links to where they are described."""
    if "$ref" in schema:
        name = schema["$ref"].rpartition("/")[2]
        return element("a", name, href=f"#{anchor(name)}")
    for key in ("anyOf", "oneOf"):
        if key in schema:
            return joined(_listed([words(each) for each in schema[key]], " or "), _limits(schema))
    if "const" in schema:
        return element("code", json.dumps(schema["const"]))
    if "enum" in schema:
        return _listed([element("code", json.dumps(each)) for each in schema["enum"]], ", ")
    return joined(_kind(schema), _limits(schema))


def _kind(schema: Schema) -> Markup:
    kind = schema.get("type")
    if kind == "array":
        if "prefixItems" in schema:
            return joined("list: ", _listed([words(each) for each in schema["prefixItems"]], ", "))
        return joined("list of ", words(schema["items"])) if schema.get("items") else joined("list")
    if kind == "object" and isinstance(schema.get("additionalProperties"), dict):
        return joined("object, each member ", words(schema["additionalProperties"]))
    return joined(KINDS.get(str(kind), "anything"))


def _limits(schema: Schema) -> Markup:
    """The limits that the schema sets, in brackets."""
    told = [
        text.format(f"{schema[key]:g}" if isinstance(schema[key], float) else schema[key])
        for key, text in LIMITS.items()
        if key in schema
        and not (key == "minItems" and "prefixItems" in schema)
        and not (key == "maxItems" and "prefixItems" in schema)
    ]
    return joined(f" ({', '.join(told)})") if told else joined()


def _listed(parts: list[Markup], between: str) -> Markup:
    shown: list[Child] = []
    for part in parts:
        shown += [between, part] if shown else [part]
    return joined(*shown)
