"""Opening SQLite or PostgreSQL for the store, and telling its failures in the store's own errors."""

from __future__ import annotations

import logging
import sqlite3
import time
from collections.abc import Iterator
from contextlib import contextmanager
from typing import Any, Final

from sqlalchemy import URL, Connection, Engine, create_engine, event, make_url
from sqlalchemy.exc import ArgumentError, DBAPIError, SQLAlchemyError
from sqlalchemy.exc import TimeoutError as PoolTimeoutError

from soleplate.api.store.errors import (
    BusyError,
    FullError,
    NotAStoreError,
    StoreError,
    UnavailableError,
)
from soleplate.api.store.place import ACCEPTED, Place

PATIENCE_S: Final = 10
"""For another to end its writing, or a server to take a connection."""

AGAIN_S: Final = 0.01
"""Until a place that is opened by another is tried again."""

WRITING: Final = "soleplate_writing"
"""The execution option of a transaction that writes: SQLite is to take its lock at the start."""

UPGRADE_LOCK: Final = 0x736F6C65
"""By which one process at a time upgrades a PostgreSQL database; any number that others do not use."""

LOG: Final = logging.getLogger("soleplate.store")
LOG.addHandler(logging.NullHandler())

_FULL: Final = "no room is left where designs are kept; nothing was written. Make room and send it again"
_BUSY: Final = "others are writing where designs are kept; nothing was written. Send it again in a moment"
_READ_ONLY: Final = "the place where designs are kept cannot be written to: its file or folder is read-only"
_CLOSED: Final = "the place where designs are kept cannot be opened: its folder is missing or closed to us"
_DAMAGED: Final = "what should hold the designs is damaged, or no file of Soleplate's; it was left as it is"
_FAILED: Final = "the disk under the designs fails to read or write; nothing was written"
_GONE: Final = "the database server that keeps the designs cannot be reached, or refuses this server"

_OF_SQLITE: Final[dict[int, tuple[type[StoreError], str]]] = {
    sqlite3.SQLITE_FULL: (FullError, _FULL),
    sqlite3.SQLITE_BUSY: (BusyError, _BUSY),
    sqlite3.SQLITE_LOCKED: (BusyError, _BUSY),
    sqlite3.SQLITE_READONLY: (UnavailableError, _READ_ONLY),
    sqlite3.SQLITE_PERM: (UnavailableError, _READ_ONLY),
    sqlite3.SQLITE_CANTOPEN: (UnavailableError, _CLOSED),
    sqlite3.SQLITE_IOERR: (UnavailableError, _FAILED),
    sqlite3.SQLITE_NOTADB: (NotAStoreError, _DAMAGED),
    sqlite3.SQLITE_CORRUPT: (NotAStoreError, _DAMAGED),
}
"""By SQLite's primary result code (https://www.sqlite.org/rescode.html)."""

_OF_POSTGRESQL: Final[tuple[tuple[str, type[StoreError], str], ...]] = (
    ("53100", FullError, _FULL),
    ("53", BusyError, _BUSY),
    ("40", BusyError, _BUSY),
    ("55P03", BusyError, _BUSY),
    ("57014", BusyError, _BUSY),
    ("25006", UnavailableError, "the database that keeps the designs is read-only"),
    ("42501", UnavailableError, "the database account may not do this to the designs"),
    ("XX001", NotAStoreError, _DAMAGED),
    ("08", UnavailableError, _GONE),
    ("28", UnavailableError, _GONE),
    ("3D", UnavailableError, _GONE),
    ("57P", UnavailableError, _GONE),
)
"""By the first characters of SQLSTATE (https://www.postgresql.org/docs/current/errcodes-appendix.html)."""


def open_engine(place: Place) -> Engine:
    """An engine on a place; nothing is connected yet.

    Raises:
        UnavailableError: the driver for PostgreSQL is not installed, or the URL is none.
    """
    return _open_sqlite(place) if place.is_file else _open_postgresql(place)


def _open_sqlite(place: Place) -> Engine:
    if place.is_default:
        try:
            place.path.parent.mkdir(parents=True, exist_ok=True)
        except OSError as error:
            raise UnavailableError(_CLOSED) from error
    url = URL.create("sqlite", database=str(place.path.absolute()))
    engine = create_engine(
        url, connect_args={"timeout": PATIENCE_S}, pool_timeout=PATIENCE_S, hide_parameters=True
    )

    @event.listens_for(engine, "connect")
    def set_up(connection: Any, _: object) -> None:
        # Transactions are begun below, not by the driver, which knows only deferred ones.
        connection.isolation_level = None
        # In write-ahead mode FULL syncs every commit: what was acknowledged survives a loss of power.
        connection.execute("PRAGMA synchronous = FULL")
        connection.execute("PRAGMA foreign_keys = ON")

    @event.listens_for(engine, "begin")
    def begin(connection: Connection) -> None:
        # A transaction that reads first and takes the lock later cannot wait for it: it would have to fail.
        writing = connection.get_execution_options().get(WRITING)
        connection.exec_driver_sql("BEGIN IMMEDIATE" if writing else "BEGIN")

    return engine


def _open_postgresql(place: Place) -> Engine:
    try:
        url = make_url(place.where).set(drivername="postgresql+psycopg")
    except (ArgumentError, ValueError):
        raise UnavailableError(f"this is no URL of a database; {ACCEPTED}") from None
    try:
        return create_engine(
            url,
            connect_args={"connect_timeout": PATIENCE_S, "options": f"-c lock_timeout={PATIENCE_S}s"},
            pool_timeout=PATIENCE_S,
            pool_pre_ping=True,
            hide_parameters=True,
        )
    except ImportError:
        raise UnavailableError(
            "the driver for PostgreSQL is not installed; pip install 'soleplate[postgresql]'"
        ) from None


def prepare_for_writing(connection: Connection) -> None:
    """Let one process at a time upgrade, within the transaction of the connection."""
    if connection.dialect.name == "postgresql":
        connection.exec_driver_sql(f"SELECT pg_advisory_xact_lock({UPGRADE_LOCK})")


def use_write_ahead_log(connection: Connection) -> None:
    """Have SQLite keep a write-ahead log from now on; outside of a transaction."""
    if connection.dialect.name != "sqlite":
        return
    until = time.monotonic() + PATIENCE_S
    while True:
        try:
            connection.connection.driver_connection.execute("PRAGMA journal_mode = WAL")  # type: ignore[union-attr]
        except sqlite3.OperationalError as error:
            # While another connection does the same, SQLite refuses at once instead of waiting.
            if error.sqlite_errorcode & 0xFF != sqlite3.SQLITE_BUSY or time.monotonic() > until:
                raise
            time.sleep(AGAIN_S)
        else:
            return


@contextmanager
def told() -> Iterator[None]:
    """Tell the failures of a database in the store's errors; the particulars go to the log.

    Raises:
        StoreError: whatever failed.
    """
    try:
        yield
    except PoolTimeoutError as error:
        raise BusyError(_BUSY) from error
    except SQLAlchemyError as error:
        orig = error.orig if isinstance(error, DBAPIError) else None
        LOG.warning("designs: %s", orig or error)
        raise _told(orig) from error
    except sqlite3.Error as error:
        LOG.warning("designs: %s", error)
        raise _told(error) from error


def _told(error: BaseException | None) -> StoreError:
    if isinstance(error, sqlite3.Error):
        kind, text = _OF_SQLITE.get(getattr(error, "sqlite_errorcode", 0) & 0xFF, (UnavailableError, _FAILED))
        return kind(text)
    state = getattr(error, "sqlstate", None)
    if state is None:
        return UnavailableError(_GONE)
    for start, kind, text in _OF_POSTGRESQL:
        if state.startswith(start):
            return kind(text)
    return UnavailableError(f"the database that keeps the designs answered with its error {state}")
