"""What a plugin returned, taken in only if it is of the kind that was asked for, down to its numbers.

Types in Python are promises. A plugin may break them, and what it returned would then fail far from it.
"""

from __future__ import annotations

from collections.abc import Sequence
from functools import cache
from typing import Any, Final, TypeVar

from pydantic import ConfigDict, TypeAdapter, ValidationError

from soleplate.engine.registry.blame import NonsenseError

Answer = TypeVar("Answer")

MOST_SHOWN: Final = 60
"""Characters of a strange value that a message quotes."""

STRICT: Final = ConfigDict(
    strict=True, arbitrary_types_allowed=True, revalidate_instances="always", allow_inf_nan=False
)


def sound(answer: object, kind: type[Answer], did: str = "returned") -> Answer:
    """What a plugin returned, made anew from what it holds; `kind` is a dataclass.

    `did` is how it came, in the words of an error.

    Raises:
        NonsenseError: it is something else, or holds something else.
    """
    return all_sound((answer,), kind, did)[0]


def all_sound(answers: Sequence[object], kind: type[Answer], did: str = "returned") -> tuple[Answer, ...]:
    """The same of several, made anew all at once."""
    for answer in answers:
        if not isinstance(answer, kind):
            raise NonsenseError(f"{did} {type(answer).__name__} where {kind.__name__} belongs")
    try:
        # A type is hashable, which mypy doesn't know of one that it is told as a variable.
        made: tuple[Answer, ...] = _adapter(kind).validate_python(tuple(answers))  # type: ignore[arg-type]
    except ValidationError as error:
        raise NonsenseError(f"{did} a {kind.__name__} whose {_said(error, answers)}") from None
    return made


@cache
def _adapter(kind: type[Any]) -> TypeAdapter[Any]:
    """Of several of a kind, made once for each kind."""
    return TypeAdapter(tuple[kind, ...], config=STRICT)  # type: ignore[valid-type]


def _said(error: ValidationError, answers: Sequence[object]) -> str:
    """The first thing that is wrong, by its place in its answer."""
    first = error.errors(include_url=False)[0]
    place, at = "", answers[int(first["loc"][0])]
    for step in first["loc"][1:]:
        if isinstance(step, int):
            place += f"[{step}]"
            at = at[step] if isinstance(at, tuple) and step < len(at) else None
        elif hasattr(at, step):
            place += f".{step}"
            at = getattr(at, step)
        # Else it names which kind of a union was tried, and is no place.
    shown = repr(first["input"])
    shown = shown if len(shown) <= MOST_SHOWN else f"{shown[:MOST_SHOWN]}..."
    wanted = first["msg"].removeprefix("Input should be ").removeprefix("an instance of ")
    if wanted == first["msg"]:
        return f"{place.lstrip('.')}: {wanted[0].lower()}{wanted[1:]}"
    return f"{place.lstrip('.')} is {shown}, not {wanted.replace('a valid ', 'a ')}"
