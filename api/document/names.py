"""Names of schemas in the document, each of which a generated client can have for a class.

Such a client reads a schema into a variable that is called as its class is, beside one for each member: a
schema that has a member of its own name would be in the way of itself.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import Any, Final

PLACE: Final = "#/components/schemas/"

SUFFIX: Final = "Model"


def with_names_of_their_own(document: Mapping[str, Any]) -> dict[str, Any]:
    """The document, with `Model` behind the name of each schema that has a member of that name."""
    schemas: Mapping[str, Any] = document["components"]["schemas"]
    taken = [name for name, schema in schemas.items() if as_member(name) in schema.get("properties", ())]
    names = {name: name + SUFFIX for name in taken}
    renamed: dict[str, Any] = _renamed(document, {PLACE + old: PLACE + new for old, new in names.items()})
    components = renamed["components"]
    components["schemas"] = {
        names.get(name, name): held | {"title": names[name]} if name in names else held
        for name, held in components["schemas"].items()
    }
    return renamed


def as_member(name: str) -> str:
    """The name of a class as a member has it: `SawPlan` as `saw_plan`."""
    return re.sub(r"(?<=[a-z0-9])(?=[A-Z])", "_", name).lower()


def _renamed(value: Any, places: Mapping[str, str]) -> Any:
    """A part of the document, with all that refers to places elsewhere referring to the new ones."""
    if isinstance(value, Mapping):
        return {key: _renamed(held, places) for key, held in value.items()}
    if isinstance(value, list | tuple):
        return [_renamed(held, places) for held in value]
    return places.get(value, value) if isinstance(value, str) else value
