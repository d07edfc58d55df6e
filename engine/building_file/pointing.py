"""Where in a document a value stands that was read from it."""

from __future__ import annotations

from pydantic import BaseModel

from soleplate.engine.building_file.errors import pointer_to


def pointer_within(holder: object, wanted: object) -> str | None:
    """The JSON pointer from a part of a document to a value in it, the very same one; `None` where it is not.

    Models are searched by the names that the document gives their members, and lists.
    """
    if holder is wanted:
        return ""
    members: list[tuple[str | int, object]] = []
    if isinstance(holder, BaseModel):
        fields = type(holder).model_fields
        members = [(fields[name].alias or name, value) for name, value in holder if name in fields]
    elif isinstance(holder, tuple):
        members = list(enumerate(holder))
    for step, value in members:
        found = pointer_within(value, wanted)
        if found is not None:
            return pointer_to(step) + found
    return None
