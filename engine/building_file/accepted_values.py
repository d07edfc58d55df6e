"""What pydantic finds wrong with a value, in our own words: what would be accepted there."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any, Final

from soleplate.engine.building_file.figures import Said
from soleplate.engine.building_file.model import said_of

OBJECT: Final = "accepted is an object: members in braces"
LIST: Final = "accepted is a list, in brackets"
TEXT: Final = "accepted is a text"
NUMBER: Final = "accepted is a number"
WHOLE: Final = "accepted is a whole number"
YES_OR_NO: Final = "accepted is true or false"

PLAIN: Final[Mapping[str, str]] = {
    "missing": "missing; it must be given",
    "dict_type": OBJECT,
    "model_type": OBJECT,
    "model_attributes_type": OBJECT,
    "tuple_type": LIST,
    "list_type": LIST,
    "string_type": TEXT,
    "string_unicode": "a character in it is none (half a surrogate pair); accepted is Unicode text",
    "float_type": NUMBER,
    "float_parsing": NUMBER,
    "finite_number": "accepted is a finite number",
    "int_type": WHOLE,
    "int_parsing": WHOLE,
    "int_from_float": WHOLE,
    "bool_type": YES_OR_NO,
    "bool_parsing": YES_OR_NO,
    "none_required": "no rule of this family is installed; install a plugin that brings one, or leave it out",
}
"""What to say of pydantic's types of errors that need no more."""

BOUNDS: Final[Mapping[str, tuple[str, str]]] = {
    "greater_than": ("over", "gt"),
    "greater_than_equal": ("at least", "ge"),
    "less_than": ("under", "lt"),
    "less_than_equal": ("at most", "le"),
}
"""Errors of numbers: the word for the bound, and where pydantic's context has it."""


def accepted(detail: Mapping[str, Any]) -> Said:
    """What to say of one of pydantic's errors, as `ValidationError.errors` gives it with its context."""
    return said_of(detail.get("ctx", {})) or Said(_accepted(detail))


def _accepted(detail: Mapping[str, Any]) -> str:
    kind, context = detail["type"], detail.get("ctx", {})
    if kind in PLAIN:
        return PLAIN[kind]
    if kind in BOUNDS:
        word, name = BOUNDS[kind]
        return f"accepted is {word} {context[name]:.10g}"
    match kind:
        case "literal_error":
            return f"accepted is {context['expected']}"
        case "string_too_long":
            return f"{TEXT} of at most {_count(context['max_length'], 'character')}"
        case "string_too_short":
            return f"{TEXT} of at least {_count(context['min_length'], 'character')}"
        case "string_pattern_mismatch":
            return f"{TEXT} like {context['pattern']}"
        case "too_short":
            there = _count(context["actual_length"], "item")
            return f"{there}; accepted are at least {context['min_length']}"
        case "too_long":
            most = context["max_length"]
            return f"over {_count(most, 'item')}; accepted are up to {most}"
    text = str(detail["msg"])
    return text[:1].lower() + text[1:]


def _count(number: int, what: str) -> str:
    return f"1 {what}" if number == 1 else f"{number} {what}s"
