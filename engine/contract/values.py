"""Values of a rule's parameters, at their limits and between, made from its JSON Schema."""

from __future__ import annotations

import json
import math
import random
from collections.abc import Iterator, Mapping, Sequence
from typing import Any, Final

from pydantic import ValidationError

from soleplate.engine.rules import Rule

MOST_SETS: Final = 40
"""Of parameters: enough for each limit of a dozen of them."""

MIXED: Final = 12
"""Sets in which all parameters are drawn at once."""

Schema = Mapping[str, Any]


def parameter_sets(model: type[Rule]) -> list[dict[str, Any]]:
    """Members of a rule as building files would have them, each valid, the same ones every time.

    The examples come first, then each with one parameter at each of its limits, then mixtures.
    """
    schema = model.model_json_schema(by_alias=True)
    fields = {
        name: values_of(field, schema.get("$defs", {}))
        for name, field in schema.get("properties", {}).items()
        if name != "rule"
    }
    rule = schema["properties"]["rule"]["const"]
    bases = [dict(example) for example in model.examples] or [{"rule": rule}]
    single = [
        {**base, name: value} for base in bases for name, values in fields.items() for value in values
    ] + [
        {"rule": rule, name: value} for name, values in fields.items() for value in values
    ]  # fmt: skip
    draw = random.Random(rule)  # noqa: S311 - the same every time is wanted
    mixed = [
        {"rule": rule} | {name: draw.choice(values) for name, values in fields.items() if draw.random() < 0.6}
        for _ in range(MIXED if fields else 0)
    ]
    tried = [base for base in bases if _is_valid(model, base)]
    rest = _distinct([one for one in single + mixed if _is_valid(model, one)], tried)
    if len(rest) > MOST_SETS - len(tried):
        rest = draw.sample(rest, max(MOST_SETS - len(tried), 0))
    return [*tried, *rest]


def _distinct(sets: Sequence[dict[str, Any]], known: Sequence[dict[str, Any]]) -> list[dict[str, Any]]:
    seen = {json.dumps(one, sort_keys=True) for one in known}
    kept: list[dict[str, Any]] = []
    for one in sets:
        text = json.dumps(one, sort_keys=True)
        if text not in seen:
            seen.add(text)
            kept.append(one)
    return kept


def _is_valid(model: type[Rule], value: Mapping[str, Any]) -> bool:
    try:
        model.model_validate_json(json.dumps(value))
    except ValidationError:
        return False
    return True


def values_of(schema: Schema, definitions: Mapping[str, Schema]) -> list[Any]:
    """A few values that a schema accepts: its limits, and something between them."""
    if "$ref" in schema:
        return values_of(definitions[schema["$ref"].rsplit("/", 1)[-1]], definitions)
    if "const" in schema or "enum" in schema:
        return list(schema.get("enum", ())) or [schema["const"]]
    if "x-least-mm" in schema:
        return _between(schema["x-least-mm"], schema["x-most-mm"])
    several = [one for key in ("anyOf", "oneOf", "allOf") for one in schema.get(key, ())]
    if several:
        return [value for one in several for value in values_of(one, definitions)]
    return _of_type(schema, definitions)


def _of_type(schema: Schema, definitions: Mapping[str, Schema]) -> list[Any]:
    match schema.get("type"):
        case "integer":
            return sorted({round(value) for value in _between(*_limits(schema))})
        case "number":
            return _between(*_limits(schema))
        case "boolean":
            return [False, True]
        case "null":
            return []
        case "array":
            return list(_arrays(schema, definitions))
        case "object":
            # A rule that another one picks is tried as it shows itself.
            return list(schema.get("examples", ())) or list(_objects(schema, definitions))
    return ["a", "A longer name"]


def _limits(schema: Schema) -> tuple[float, float]:
    least = schema.get("minimum", schema.get("exclusiveMinimum", 0))
    return least, schema.get("maximum", schema.get("exclusiveMaximum", least + 1000))


def _between(least: float, most: float) -> list[float]:
    """Both limits, and what lies between them: of limits far apart, by their ratio."""
    middle = math.sqrt(least * most) if least > 0 and most > 100 * least else (least + most) / 2
    return [least, round(middle, 3), most]


def _arrays(schema: Schema, definitions: Mapping[str, Schema]) -> Iterator[list[Any]]:
    if "prefixItems" in schema:
        each = [values_of(item, definitions) for item in schema["prefixItems"]]
        for index in range(max(map(len, each))):
            yield [values[index % len(values)] for values in each]
        return
    items = values_of(schema.get("items", {}), definitions)
    least = schema.get("minItems", 0)
    most = min(schema.get("maxItems", least + 3), least + 3)
    for count in sorted({least, most}):
        yield [items[index % len(items)] for index in range(count)]
    for item in items:
        yield [item] * max(least, 1)


def _objects(schema: Schema, definitions: Mapping[str, Schema]) -> Iterator[dict[str, Any]]:
    fields = {name: values_of(field, definitions) for name, field in schema.get("properties", {}).items()}
    needed = {name: fields[name][len(fields[name]) // 2] for name in schema.get("required", ())}
    yield needed
    for name, values in fields.items():
        for value in values:
            yield {**needed, name: value}
