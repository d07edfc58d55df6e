"""Kept designs: every revision of every one, in one SQLite file or in PostgreSQL.

In: building files as JSON text; what they say is nothing to it. Out: designs, revisions, archives. Names are
loaded at their first use, so that SQLAlchemy is imported when a store is opened.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from soleplate.engine.on_first_use import on_first_use

if TYPE_CHECKING:
    from soleplate.api.store.archive import archive_lines, lines_of
    from soleplate.api.store.designs import DesignStore
    from soleplate.api.store.errors import (
        ArchiveClashError,
        ArchiveError,
        BusyError,
        DeletedError,
        FullError,
        KeyReusedError,
        MovedOnError,
        NoDesignError,
        StoreError,
        UnavailableError,
    )
    from soleplate.api.store.importing import import_archive
    from soleplate.api.store.kept import ID_PATTERN, Design, Revision, Show, Text
    from soleplate.api.store.place import VARIABLE, Place, place_of

__getattr__ = on_first_use(
    __name__,
    {
        "archive": ("archive_lines", "lines_of"),
        "designs": ("DesignStore",),
        "errors": (
            "ArchiveClashError",
            "ArchiveError",
            "BusyError",
            "DeletedError",
            "FullError",
            "KeyReusedError",
            "MovedOnError",
            "NoDesignError",
            "StoreError",
            "UnavailableError",
        ),
        "importing": ("import_archive",),
        "kept": ("ID_PATTERN", "Design", "Revision", "Show", "Text"),
        "place": ("VARIABLE", "Place", "place_of"),
    },
)
