"""Bytes to a JSON value, strictly: whatever two readers could read differently is refused."""

from __future__ import annotations

import itertools
import json
import math
import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import partial
from pathlib import Path
from typing import Any, Final

from soleplate.engine.building_file.errors import Fault, UnreadableError, pointer_to

LARGEST: Final = 1_000_000
"""Bytes. A building of a thousand walls takes less."""

DEEPEST: Final = 40
"""Levels of nesting; a building file has under ten."""

LONGEST_NUMBER: Final = 60
"""Characters."""

LARGEST_WHOLE: Final = 2.0**53
"""Up to here every whole number is a float (IEEE 754, binary64)."""

MOST_TOLD: Final = 20
"""Flaws told of in one text."""

_STRINGS: Final = re.compile(r'"(?:[^"\\]++|\\.)*+"?', re.DOTALL)
"""The last may be left open."""

_BRACKETS: Final = re.compile(r"[\[\]{}]")


def read_json(data: bytes, *, largest: int = LARGEST) -> Any:
    """The value of a JSON text in UTF-8.

    Raises:
        UnreadableError: too large, not UTF-8, not JSON, nested too deeply, a key given twice in one
            object, `NaN`, an infinity, or a number too large to be held.
    """
    if len(data) > largest:
        raise UnreadableError.at("", f"{len(data)} bytes; accepted is at most {largest}")
    try:
        text = data.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        raise UnreadableError.at("", f"not UTF-8 at byte {error.start}; accepted is JSON in UTF-8") from None
    _refuse_depth(text)
    flaws: list[_Flaw] = []
    try:
        value = json.loads(
            text,
            object_pairs_hook=partial(_unique, flaws),
            parse_constant=partial(_constant, flaws),
            parse_float=partial(_finite, flaws),
            parse_int=partial(_whole, flaws),
        )
    except json.JSONDecodeError as error:
        raise UnreadableError.at(
            "", f"not JSON at line {error.lineno}, column {error.colno}: {error.msg.lower()}"
        ) from None
    if flaws:
        raise UnreadableError(itertools.islice(_faults(value), MOST_TOLD))
    return value


def read_json_file(path: Path, *, largest: int = LARGEST) -> Any:
    """The value of a JSON file; as `read_json`, and never more than `largest` bytes are read.

    Raises:
        UnreadableError: as above, or the file cannot be read.
    """
    try:
        with path.open("rb") as file:
            data = file.read(largest + 1)
    except OSError as error:
        raise UnreadableError.at(
            "", f"cannot be read: {(error.strerror or 'unknown error').lower()}"
        ) from None
    if len(data) > largest:
        raise UnreadableError.at("", f"over {largest} bytes; accepted is at most that")
    return read_json(data, largest=largest)


def _refuse_depth(text: str) -> None:
    """Count brackets outside of strings, so that the decoder never recurses further than `DEEPEST`."""
    depth = 0
    for bracket in _BRACKETS.findall(_STRINGS.sub("", text)):
        depth += 1 if bracket in "[{" else -1
        if depth > DEEPEST:
            raise UnreadableError.at("", f"nested over {DEEPEST} levels deep; a building file has under ten")


@dataclass(frozen=True, slots=True)
class _Flaw:
    """What stands in a value for what cannot be read, until its place is known."""

    message: str


def _flaw(flaws: list[_Flaw], message: str) -> _Flaw:
    flaws.append(_Flaw(message))
    return flaws[-1]


def _faults(value: Any, pointer: str = "") -> Iterator[Fault]:
    """The flaws in a value, each with its place."""
    if isinstance(value, _Flaw):
        yield Fault(pointer, value.message)
    elif isinstance(value, dict):
        for key, inner in value.items():
            yield from _faults(inner, pointer + pointer_to(key))
    elif isinstance(value, list):
        for index, inner in enumerate(value):
            yield from _faults(inner, pointer + pointer_to(index))


def _unique(flaws: list[_Flaw], members: Sequence[tuple[str, Any]]) -> dict[str, Any]:
    found: dict[str, Any] = {}
    for key, value in members:
        again = key in found
        found[key] = (
            _flaw(flaws, f"the key {key[:60]!r} is given twice in one object; keep one") if again else value
        )
    return found


def _constant(flaws: list[_Flaw], name: str) -> _Flaw:
    return _flaw(flaws, f"{name} is not a number; accepted are finite numbers")


def _finite(flaws: list[_Flaw], text: str) -> float | int | _Flaw:
    """A number with a point or an exponent; JSON Schema takes 3.0 for the whole number that it is."""
    value = float(text)
    if not math.isfinite(value):
        return _flaw(flaws, f"the number {text[:LONGEST_NUMBER]} is too large")
    return int(value) if value.is_integer() and abs(value) <= LARGEST_WHOLE else value


def _whole(flaws: list[_Flaw], text: str) -> int | _Flaw:
    if len(text) > LONGEST_NUMBER:
        return _flaw(flaws, f"a number of {len(text)} digits is too large")
    return int(text)
