"""A layout with less in it, for who needs one wall of it, or one list."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any, Final

from soleplate.api.http import MEMBERS, NotThere
from soleplate.engine.layout import Layout

PARTS: Final = ("walls", "floors", "roofs")


def with_less(layout: Layout, asked: Mapping[str, str]) -> Layout:
    """The layout with the part and the members that are asked for; what is not asked for is empty.

    Raises:
        NotThere: it has no part of that name.
    """
    if not asked:
        return layout
    changed: dict[str, Any] = {}
    if (name := asked.get("part")) is not None:
        changed = {kind: tuple(each for each in getattr(layout, kind) if each.name == name) for kind in PARTS}
        if not any(changed.values()):
            known = ", ".join(part.name for part in layout.parts)
            raise NotThere(f"the layout has no part called {name!r}; accepted are {known}")
    if (listed := asked.get("members")) is not None:
        left_out = set(MEMBERS) - set(listed.split(","))
        changed |= {member: _empty(getattr(layout, member)) for member in MEMBERS if member in left_out}
    return layout.model_copy(update=changed)


def _empty(value: object) -> object:
    """Of the same kind, with nothing in it."""
    return type(value)() if isinstance(value, tuple | dict) else None
