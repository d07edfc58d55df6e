"""What the store gives back, and where its times and ids come from."""

from __future__ import annotations

import secrets
from collections.abc import Callable
from dataclasses import dataclass
from datetime import UTC, datetime
from typing import Final, Literal

ID_PATTERN: Final = r"^[0-9a-f]{32}$"

TIME_PATTERN: Final = r"^[0-9]{4}-[0-9]{2}-[0-9]{2}T[0-9]{2}:[0-9]{2}:[0-9]{2}\.[0-9]{3}Z$"
"""UTC with milliseconds: sorts as text in the order of time."""

Show = Literal["kept", "deleted", "all"]
"""Which designs to list."""

Clock = Callable[[], datetime]
"""The time now, with its zone."""


@dataclass(frozen=True, slots=True)
class Design:
    """A kept design, as of its newest revision."""

    id: str
    name: str
    """The building's, at that revision."""
    head: int
    """The newest revision; they count from 1 without a gap."""
    created: str
    changed: str
    """When the newest revision was saved."""
    deleted: str | None
    """When it was deleted; none for one that is not."""


@dataclass(frozen=True, slots=True)
class Revision:
    """One revision of a design, without its text."""

    number: int
    name: str
    made: str


@dataclass(frozen=True, slots=True)
class Text:
    """A revision with the building file as it was sent."""

    design: Design
    revision: Revision
    body: str


def time_text(moment: datetime) -> str:
    """A moment as it is kept and told."""
    return moment.astimezone(UTC).isoformat(timespec="milliseconds").replace("+00:00", "Z")


def clock() -> datetime:
    """The machine's time."""
    return datetime.now(UTC)


def new_id() -> str:
    """An id that nobody can guess: 128 random bits."""
    return secrets.token_hex(16)
