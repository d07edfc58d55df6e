"""What can go wrong in the store.

    StoreError
    ├── NoDesignError       no design, or no revision of it, is kept under that name
    ├── DeletedError        the design is deleted, and can be brought back
    ├── MovedOnError        somebody saved a revision in the meantime
    ├── KeyReusedError      the key of a call came with another body before
    ├── FullError           there is no room left to write
    ├── BusyError           others hold it for too long
    ├── UnavailableError    it cannot be reached, read or written
    ├── NotAStoreError      it is of another program, of a later Soleplate, or damaged
    └── ArchiveError        an archive that cannot be imported; each fault with its line
        └── ArchiveClashError   designs in it are kept here too, and differ

No text names a path of the machine or an account: it may be told to a client.
"""

from __future__ import annotations

from collections.abc import Iterable

from soleplate.engine.building_file import EngineError, Fault


class StoreError(EngineError):
    """Base of what the store raises."""


class NoDesignError(StoreError):
    """No design, or no revision of it, is kept under that name."""


class DeletedError(StoreError):
    """The design is deleted, and can be brought back."""


class MovedOnError(StoreError):
    """The design is at another revision than the caller saw; `head` is the newest."""

    def __init__(self, head: int) -> None:
        self.head = head
        super().__init__(
            f"the design is at revision {head}, and If-Match names another, or none: read it again, and send"
            f' its ETag as it came, "{head}" by now'
        )


class KeyReusedError(StoreError):
    """The key of a call came with another body before."""


class FullError(StoreError):
    """There is no room left to write; nothing was."""


class BusyError(StoreError):
    """Others hold the store for too long; nothing was written."""


class UnavailableError(StoreError):
    """The store cannot be reached, read or written."""


class NotAStoreError(StoreError):
    """It is of another program or of a later Soleplate, or damaged."""


class ArchiveError(StoreError):
    """An archive that cannot be imported.

    The pointer of a fault counts the lines from 0: `/2/text` is the member `text` of the third line.
    """

    def __init__(self, faults: Iterable[Fault]) -> None:
        self.faults = tuple(faults)
        super().__init__("\n".join(map(str, self.faults)))


class ArchiveClashError(ArchiveError):
    """Designs of the archive are kept here too, with other revisions."""
