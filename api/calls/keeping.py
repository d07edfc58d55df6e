"""The server's hold on its store: opened when the first call needs it, and worked on in threads."""

from __future__ import annotations

import threading
from collections.abc import Callable
from typing import TYPE_CHECKING, Final, TypeVar

import anyio
import anyio.to_thread

from soleplate.api.store import Place, UnavailableError

if TYPE_CHECKING:
    from soleplate.api.store import DesignStore

Answer = TypeVar("Answer")

THREADS: Final = 4
"""Calls on the store at a time. SQLite writes one after another, so more would only wait on each other."""


class Keeping:
    """The store of a place; without a place there is none."""

    def __init__(self, place: Place | None) -> None:
        self._place = place
        self._store: DesignStore | None = None
        self._opening: Final = threading.Lock()
        self._threads: anyio.CapacityLimiter | None = None

    async def do(self, work: Callable[[DesignStore], Answer]) -> Answer:
        """Have something done with the store, off the event loop.

        Raises:
            StoreError: there is no store, or whatever else fails.
        """
        return await self.in_thread(lambda: work(self.open()))

    async def in_thread(self, work: Callable[[], Answer]) -> Answer:
        """Have something done off the event loop, in turn with the work on the store."""
        self._threads = self._threads or anyio.CapacityLimiter(THREADS)
        return await anyio.to_thread.run_sync(work, limiter=self._threads)

    def open(self) -> DesignStore:
        """The store; opened once, or again at the next call where that failed.

        Raises:
            StoreError: it cannot be opened.
        """
        if self._place is None:
            raise UnavailableError("this server keeps no designs; it was started without a place for them")
        with self._opening:
            if self._store is None:
                # Imported here: SQLAlchemy takes half a second, and most starts need no store.
                from soleplate.api.store import DesignStore

                self._store = DesignStore.open(self._place)
            return self._store

    def close(self) -> None:
        """Let go of the store, if it was opened."""
        with self._opening:
            if self._store is not None:
                self._store.close()
            self._store = None
