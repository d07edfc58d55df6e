"""Bytes to a JSON value, strictly: whatever two readers could read differently is refused."""

from __future__ import annotations

import json
import math
from collections.abc import Sequence
from pathlib import Path
from typing import Any, Final

from soleplate.engine.errors import UnreadableError

LARGEST: Final = 1_000_000
"""Bytes. A building of a thousand walls takes less."""

DEEPEST: Final = 40
"""Levels of nesting; a building file has under ten."""

LONGEST_NUMBER: Final = 60
"""Characters."""

LARGEST_WHOLE: Final = 2.0**53
"""Up to here every whole number is a float (IEEE 754, binary64)."""


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
    try:
        return json.loads(
            text,
            object_pairs_hook=_unique,
            parse_constant=_refuse_constant,
            parse_float=_finite,
            parse_int=_whole,
        )
    except json.JSONDecodeError as error:
        raise UnreadableError.at(
            "", f"not JSON at line {error.lineno}, column {error.colno}: {error.msg.lower()}"
        ) from None


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
    in_string = escaped = False
    for character in text:
        if in_string:
            if escaped:
                escaped = False
            elif character == "\\":
                escaped = True
            elif character == '"':
                in_string = False
        elif character == '"':
            in_string = True
        elif character in "[{":
            depth += 1
            if depth > DEEPEST:
                raise UnreadableError.at(
                    "", f"nested over {DEEPEST} levels deep; a building file has under ten"
                )
        elif character in "]}":
            depth -= 1


def _unique(members: Sequence[tuple[str, Any]]) -> dict[str, Any]:
    found: dict[str, Any] = {}
    for key, value in members:
        if key in found:
            raise UnreadableError.at("", f"the key {key[:60]!r} is given twice in one object; keep one")
        found[key] = value
    return found


def _refuse_constant(name: str) -> float:
    raise UnreadableError.at("", f"{name} is not a number; accepted are finite numbers")


def _finite(text: str) -> float | int:
    """A number with a point or an exponent; JSON Schema takes 3.0 for the whole number that it is."""
    value = float(text)
    if not math.isfinite(value):
        raise UnreadableError.at("", f"the number {text[:LONGEST_NUMBER]} is too large")
    return int(value) if value.is_integer() and abs(value) <= LARGEST_WHOLE else value


def _whole(text: str) -> int:
    if len(text) > LONGEST_NUMBER:
        raise UnreadableError.at("", f"a number of {len(text)} digits is too large")
    return int(text)
