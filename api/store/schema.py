"""The tables, and the steps by which a store of any earlier version becomes one of this version."""

from __future__ import annotations

from typing import Final

from sqlalchemy import (
    Column,
    Connection,
    ForeignKey,
    Index,
    Integer,
    MetaData,
    Table,
    Text,
    insert,
    inspect,
    select,
    update,
)

from soleplate.api.store.errors import NotAStoreError

METADATA: Final = MetaData()

DESIGNS: Final = Table(
    "designs",
    METADATA,
    Column("id", Text, primary_key=True),
    Column("name", Text, nullable=False),
    Column("head", Integer, nullable=False),
    Column("created", Text, nullable=False),
    Column("changed", Text, nullable=False),
    Column("deleted", Text),
    Index("designs_by_age", "created", "id"),
)

REVISIONS: Final = Table(
    "revisions",
    METADATA,
    Column("design", Text, ForeignKey("designs.id"), primary_key=True),
    Column("number", Integer, primary_key=True),
    Column("name", Text, nullable=False),
    Column("made", Text, nullable=False),
    Column("body", Text, nullable=False),
)

FIRST_SENT: Final = Table(
    "first_sent",
    METADATA,
    Column("key", Text, primary_key=True),
    Column("digest", Text, nullable=False),
    Column("design", Text, nullable=False),
    Column("made", Text, nullable=False),
)
"""The `Idempotency-Key` of each call that added a design, for as long as it is kept."""

STORE: Final = Table("soleplate_store", METADATA, Column("version", Integer, nullable=False))
"""One row. By this table a database is known to be a store."""

STEPS: Final = (
    (
        "CREATE TABLE designs (id TEXT NOT NULL PRIMARY KEY, name TEXT NOT NULL, head INTEGER NOT NULL,"
        " created TEXT NOT NULL, changed TEXT NOT NULL)",
        "CREATE TABLE revisions (design TEXT NOT NULL REFERENCES designs (id), number INTEGER NOT NULL,"
        " name TEXT NOT NULL, made TEXT NOT NULL, body TEXT NOT NULL, PRIMARY KEY (design, number))",
    ),
    (
        "ALTER TABLE designs ADD COLUMN deleted TEXT",
        "CREATE INDEX designs_by_age ON designs (created, id)",
    ),
    (
        "CREATE TABLE first_sent (key TEXT NOT NULL PRIMARY KEY, digest TEXT NOT NULL, design TEXT NOT NULL,"
        " made TEXT NOT NULL)",
    ),
)
"""The statements from each version to the next; the first makes version 1 of an empty database.

They say the same in SQLite and PostgreSQL. A step that has been released is never changed.
"""

VERSION: Final = len(STEPS)


def version_of(connection: Connection) -> int:
    """The version of the store in a database; 0 for an empty one.

    Raises:
        NotAStoreError: it has tables of something else, or is of a later version.
    """
    tables = inspect(connection).get_table_names()
    if not tables:
        return 0
    if STORE.name not in tables:
        raise NotAStoreError(
            "this database is of another program; accepted is an empty one, or one that Soleplate made"
        )
    version = connection.scalar(select(STORE.c.version))
    if version is None or not 0 < version <= VERSION:
        raise NotAStoreError(
            f"the designs were kept by a later Soleplate (store version {version});"
            f" accepted are versions 1 to {VERSION}"
        )
    return int(version)


def upgrade(connection: Connection) -> None:
    """Take the steps that are left, within the transaction of the connection.

    Raises:
        NotAStoreError: as `version_of`.
    """
    version = version_of(connection)
    if version == VERSION:
        return
    if version == 0:
        STORE.create(connection)
        connection.execute(insert(STORE).values(version=0))
    for step in STEPS[version:]:
        for statement in step:
            connection.exec_driver_sql(statement)
    connection.execute(update(STORE).values(version=VERSION))
