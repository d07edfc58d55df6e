"""Importing an archive: all of it or nothing, with the ids and revisions that it has."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field
from typing import Final

from sqlalchemy import Connection, insert, select, update

from soleplate.api.store.archive import DesignLine, RevisionLine, name_in, read_archive
from soleplate.api.store.designs import DesignStore
from soleplate.api.store.errors import ArchiveClashError
from soleplate.api.store.schema import DESIGNS, REVISIONS
from soleplate.engine.building_file import Fault

MOST_CLASHES: Final = 20
"""Told of; who has more has taken the wrong archive."""


@dataclass(frozen=True, slots=True)
class Imported:
    """What came of an import."""

    added: int
    """Designs that were not here."""
    unchanged: int
    """Designs that were here already, with every revision that the archive has."""


@dataclass(slots=True)
class _Tally:
    added: int = 0
    unchanged: int = 0
    clashes: list[Fault] = field(default_factory=list)


def import_archive(store: DesignStore, lines: Iterable[bytes]) -> Imported:
    """Add the designs of an archive that are not here.

    One that is here with the same revisions, and maybe later ones, stays as it is, deleted or not.

    Raises:
        ArchiveError: it is no archive, or cut off.
        ArchiveClashError: a design is kept here under the same id with other revisions.
        StoreError: as all that writes. In every case nothing was imported.
    """
    tally = _Tally()
    with store.writing() as connection:
        design: DesignLine | None = None
        kept: int | None = None
        for number, line in read_archive(lines):
            if isinstance(line, DesignLine):
                design, kept = line, _kept(connection, line)
                _begin(connection, tally, number, line, kept)
            elif design is None or len(tally.clashes) >= MOST_CLASHES:
                continue
            elif kept is None:
                _add(connection, number, design, line)
            elif line.number <= kept and not _is_kept(connection, design, line):
                tally.clashes.append(
                    Fault(f"/{number}", f"revision {line.number} of design {design.id} is another one here")
                )
        if tally.clashes:
            raise ArchiveClashError(tally.clashes[:MOST_CLASHES])
    return Imported(tally.added, tally.unchanged)


def _kept(connection: Connection, line: DesignLine) -> int | None:
    """The newest revision that is kept of a design; none of one that is not here."""
    return connection.scalar(select(DESIGNS.c.head).where(DESIGNS.c.id == line.id))


def _begin(connection: Connection, tally: _Tally, number: int, line: DesignLine, kept: int | None) -> None:
    if kept is None:
        tally.added += 1
        connection.execute(
            insert(DESIGNS).values(
                id=line.id,
                name="",
                head=line.revisions,
                created=line.created,
                changed=line.created,
                deleted=line.deleted,
            )
        )
        return
    tally.unchanged += 1
    if line.revisions > kept:
        tally.clashes.append(
            Fault(
                f"/{number}/revisions",
                f"design {line.id} is kept here up to revision {kept}, and the archive has {line.revisions}",
            )
        )


def _add(connection: Connection, number: int, design: DesignLine, line: RevisionLine) -> None:
    name = name_in(number, line.text)
    connection.execute(
        insert(REVISIONS).values(
            design=design.id, number=line.number, name=name, made=line.made, body=line.text
        )
    )
    if line.number == design.revisions:
        connection.execute(
            update(DESIGNS).where(DESIGNS.c.id == design.id).values(name=name, changed=line.made)
        )


def _is_kept(connection: Connection, design: DesignLine, line: RevisionLine) -> bool:
    row = connection.execute(
        select(REVISIONS.c.made, REVISIONS.c.body).where(
            REVISIONS.c.design == design.id, REVISIONS.c.number == line.number
        )
    ).one()
    return bool(row.made == line.made and row.body == line.text)
