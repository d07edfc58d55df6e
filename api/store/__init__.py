"""Kept designs: every revision of every one, in one SQLite file or in PostgreSQL.

In: building files as JSON text; what they say is nothing to it. Out: designs, revisions, archives. Names are
loaded at their first use, so that SQLAlchemy is imported when a store is opened.
"""

from __future__ import annotations

from importlib import import_module
from typing import TYPE_CHECKING, Any, Final

if TYPE_CHECKING:
    from soleplate.api.store.archive import archive_lines, lines_of
    from soleplate.api.store.designs import DesignStore
    from soleplate.api.store.errors import (
        ArchiveClashError,
        ArchiveError,
        BusyError,
        DeletedError,
        FullError,
        MovedOnError,
        NoDesignError,
        StoreError,
        UnavailableError,
    )
    from soleplate.api.store.importing import import_archive
    from soleplate.api.store.kept import ID_PATTERN, Design, Revision, Show, Text
    from soleplate.api.store.place import VARIABLE, Place, place_of

_HOME: Final = {
    "ArchiveClashError": "errors",
    "ArchiveError": "errors",
    "BusyError": "errors",
    "DeletedError": "errors",
    "Design": "kept",
    "DesignStore": "designs",
    "FullError": "errors",
    "ID_PATTERN": "kept",
    "MovedOnError": "errors",
    "NoDesignError": "errors",
    "Place": "place",
    "Revision": "kept",
    "Show": "kept",
    "StoreError": "errors",
    "Text": "kept",
    "UnavailableError": "errors",
    "VARIABLE": "place",
    "archive_lines": "archive",
    "import_archive": "importing",
    "lines_of": "archive",
    "place_of": "place",
}

__all__ = [
    "ID_PATTERN",
    "VARIABLE",
    "ArchiveClashError",
    "ArchiveError",
    "BusyError",
    "DeletedError",
    "Design",
    "DesignStore",
    "FullError",
    "MovedOnError",
    "NoDesignError",
    "Place",
    "Revision",
    "Show",
    "StoreError",
    "Text",
    "UnavailableError",
    "archive_lines",
    "import_archive",
    "lines_of",
    "place_of",
]


def __getattr__(name: str) -> Any:
    if name not in _HOME:
        raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
    return getattr(import_module(f"{__name__}.{_HOME[name]}"), name)
