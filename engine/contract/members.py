"""The members of a rule in words: what each is unless it is given, its limits, and what it is tried with."""

from __future__ import annotations

import json
from collections.abc import Iterator, Mapping
from typing import Any, Final

from soleplate.engine.contract.values import values_of
from soleplate.engine.rules import Rule

MOST_SHOWN: Final = 5
"""Values of one member that a line tells."""

Schema = Mapping[str, Any]


def members_told(model: type[Rule]) -> Iterator[str]:
    """A line for each member but `rule`: `width: from 50 to 300 mm; usually 95; tried with 50, 175, 300`."""
    schema = model.model_json_schema(by_alias=True)
    for name, member in schema.get("properties", {}).items():
        if name == "rule":
            continue
        values = [json.dumps(value) for value in values_of(member, schema.get("$defs", {}))]
        more = ", ..." if len(values) > MOST_SHOWN else ""
        told = [
            *_limits(member),
            f"usually {json.dumps(member['default'])}" if "default" in member else "must be given",
            f"tried with {', '.join(values[:MOST_SHOWN])}{more}",
        ]
        yield f"{name}: {'; '.join(told)}"


def _limits(member: Schema) -> Iterator[str]:
    """The limits of a number, a length or a list, wherever the member's schema has them."""
    for one in (member, *(one for key in ("anyOf", "oneOf", "allOf") for one in member.get(key, ()))):
        if "x-least-mm" in one:
            yield f"from {one['x-least-mm']:g} to {one['x-most-mm']:g} mm"
        elif {"minimum", "exclusiveMinimum"} & set(one):
            least = f"from {one['minimum']:g}" if "minimum" in one else f"over {one['exclusiveMinimum']:g}"
            under = one.get("maximum", one.get("exclusiveMaximum"))
            yield f"{least} {'to' if 'maximum' in one else 'to under'} {under:g}" if under else least
        elif "maxItems" in one:
            yield f"{one.get('minItems', 0)} to {one['maxItems']} of them"
