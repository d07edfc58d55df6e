"""Where designs are kept: where it was asked for, or in this user's own folder."""

from __future__ import annotations

import re
from dataclasses import dataclass
from pathlib import Path
from typing import Final

VARIABLE: Final = "SOLEPLATE_DESIGNS"
"""The environment variable that says where designs are kept."""

ACCEPTED: Final = "accepted is the path of a file, or postgresql://USER@HOST/DATABASE"

_URL: Final = re.compile(r"([a-z][a-z0-9+]*)://")
_PASSWORD: Final = re.compile(r"://([^/@:]*):[^/@]*@")


@dataclass(frozen=True, slots=True)
class Place:
    """A file, or the URL of a PostgreSQL database."""

    where: str
    is_default: bool = False
    """Whether nobody asked for it: then its folder is made where it lacks."""

    @property
    def is_file(self) -> bool:
        """Whether it is one SQLite file."""
        return _URL.match(self.where) is None

    @property
    def path(self) -> Path:
        """Of the file."""
        return Path(self.where)

    def __str__(self) -> str:
        """As it may be shown: without a password."""
        return _PASSWORD.sub(r"://\1:***@", self.where)


def place_of(asked: str | None) -> Place:
    """The place that was asked for, or else the user's own: `soleplate/designs.sqlite` with the user's data.

    Raises:
        ValueError: it is no place; the text says what would be accepted.
    """
    if not asked:
        from platformdirs import user_data_path

        return Place(str(user_data_path("soleplate", appauthor=False) / "designs.sqlite"), is_default=True)
    scheme = _URL.match(asked)
    if scheme and scheme[1] not in ("postgresql", "postgres"):
        raise ValueError(f"{scheme[1]}:// is no place for designs; {ACCEPTED}")
    return Place(asked)
