"""From pydantic's errors to faults with a JSON pointer, and a sentence that says what would be accepted."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Any

from pydantic import BaseModel, ValidationError
from pydantic_core import ErrorDetails

from soleplate.engine.building_file.accepted_members import accepted_members
from soleplate.engine.building_file.accepted_values import accepted
from soleplate.engine.building_file.errors import (
    BuildingError,
    Fault,
    SchemaError,
    UnbuildableError,
    pointer_to,
)
from soleplate.engine.building_file.figures import Said
from soleplate.engine.building_file.model import NAME_PATTERN, UNBUILDABLE


def document_error(
    error: ValidationError,
    value: Any,
    model: type[BaseModel],
    owner: Callable[[str], str] = lambda pointer: "",
) -> BuildingError:
    """What is wrong with a document, as the error to raise.

    A `SchemaError` where the published JSON Schema says no, with those faults alone; else an
    `UnbuildableError`.

    Args:
        error: from the validation of `value`.
        value: the document, as JSON gave it.
        model: of the document.
        owner: by a fault's pointer, what to say before its message: which part it lies in.
    """
    faults: list[Fault] = []
    unbuildable: list[Fault] = []
    for detail in _own_faults(error.errors(include_url=False, include_input=False)):
        pointer = _pointer(detail["loc"], value, is_missing=detail["type"] == "missing")
        fault = Fault(pointer, _message(dict(detail), model).after(owner(pointer)))
        (unbuildable if detail["type"] == UNBUILDABLE else faults).append(fault)
    return SchemaError(faults) if faults else UnbuildableError(unbuildable)


def _own_faults(details: Sequence[ErrorDetails]) -> list[ErrorDetails]:
    """Without lists that are too short only because pydantic does not count their faulty items."""
    return [
        detail
        for detail in details
        if detail["type"] != "too_short"
        or not any(
            len(other["loc"]) > len(detail["loc"]) and other["loc"][: len(detail["loc"])] == detail["loc"]
            for other in details
        )
    ]


def _pointer(location: Sequence[str | int], value: Any, *, is_missing: bool) -> str:
    """A JSON pointer (RFC 6901) from pydantic's location, which also names the arms of unions."""
    tokens: list[str] = []
    for index, step in enumerate(location):
        if isinstance(value, dict) and step in value:
            value = value[step]
        elif isinstance(value, list) and isinstance(step, int) and step < len(value):
            value = value[step]
        elif index < len(location) - 1 or not is_missing:
            continue
        tokens.append(str(step)[:100])
    return pointer_to(*tokens)


def _message(detail: dict[str, Any], model: type[BaseModel]) -> Said:
    """Pydantic's words, made into what a builder understands where it matters."""
    context = detail.get("ctx", {})
    match detail["type"]:
        case "extra_forbidden":
            return Said(f"unknown member; accepted are {', '.join(accepted_members(model, detail['loc']))}")
        case "union_tag_invalid":
            return Said(f"unknown: {str(context['tag'])[:60]!r}; accepted are {context['expected_tags']}")
        case "union_tag_not_found":
            return Said(f"{context['discriminator']} is missing; it says which kind this is")
        case "string_pattern_mismatch" if context["pattern"] == NAME_PATTERN:
            return Said(
                "accepted is a text on one line, with no space at either end and no control characters"
            )
    return accepted(detail)
