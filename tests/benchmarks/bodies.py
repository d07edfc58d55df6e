"""What the benchmark of the server sends."""

from __future__ import annotations

import json
from typing import Final

from soleplate.api.work.messages import EXAMPLE_WALL
from tests.benchmarks.buildings import FOUR_WALLS

WALL: Final = json.dumps(EXAMPLE_WALL).encode()
HOUSE: Final = FOUR_WALLS.read_bytes()
"""It lists no stock, so that it is laid out and not planned."""


def wall(number: int) -> bytes:
    """A wall like no other of another number, of nearly the same work."""
    return json.dumps(EXAMPLE_WALL | {"length": 3120 + number / 1000}).encode()


def house(number: int) -> bytes:
    """A house likewise."""
    value = json.loads(HOUSE)
    value["outline"]["length"] += number / 1000
    return json.dumps(value).encode()
