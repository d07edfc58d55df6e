"""The store: designs and their revisions, saved by compare and swap so that nothing is overwritten unseen."""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterator
from contextlib import contextmanager
from typing import Any, Final, Self

from sqlalchemy import ColumnElement, Connection, Engine, and_, insert, or_, select, update

from soleplate.api.store.dialects import (
    WRITING,
    open_engine,
    prepare_for_writing,
    told,
    use_write_ahead_log,
)
from soleplate.api.store.errors import DeletedError, MovedOnError, NoDesignError, UnavailableError
from soleplate.api.store.kept import Clock, Design, Revision, Show, Text, clock, new_id, time_text
from soleplate.api.store.place import Place
from soleplate.api.store.schema import DESIGNS, REVISIONS, VERSION, upgrade, version_of
from soleplate.api.store.sending_again import added_before

_DESIGN: Final = (
    DESIGNS.c.id,
    DESIGNS.c.name,
    DESIGNS.c.head,
    DESIGNS.c.created,
    DESIGNS.c.changed,
    DESIGNS.c.deleted,
)
_SHOWN: Final[dict[Show, tuple[ColumnElement[bool], ...]]] = {
    "kept": (DESIGNS.c.deleted.is_(None),),
    "deleted": (DESIGNS.c.deleted.is_not(None),),
    "all": (),
}


class DesignStore:
    """Kept designs. Its methods block, and may be called from any thread.

    Each is one transaction: all of it is kept, or nothing. Any may raise `FullError`, `BusyError`,
    `UnavailableError` and `NotAStoreError`.
    """

    def __init__(self, engine: Engine, *, clock: Clock = clock, new_id: Callable[[], str] = new_id) -> None:
        self._engine = engine
        self._clock = clock
        self._new_id = new_id

    @classmethod
    def open(
        cls,
        place: Place,
        *,
        create: bool = True,
        clock: Clock = clock,
        new_id: Callable[[], str] = new_id,
    ) -> Self:
        """Open the store of a place; an empty place gets one, an earlier one is brought up to date.

        Raises:
            UnavailableError: it cannot be opened, or is not there and not to be made.
            NotAStoreError: another program's, a later Soleplate's, or damaged; it is left as it is.
        """
        if place.is_file and not create and not place.path.exists():
            raise UnavailableError("no designs are kept there: there is no such file")
        store = cls(open_engine(place), clock=clock, new_id=new_id)
        try:
            store._bring_up_to_date()
        except BaseException:
            store.close()
            raise
        return store

    def close(self) -> None:
        """Let go of all connections."""
        self._engine.dispose()

    def _bring_up_to_date(self) -> None:
        with self.reading() as connection:
            if version_of(connection) == VERSION:
                return
        with told(), self._engine.connect() as connection:
            use_write_ahead_log(connection)
        with self.writing() as connection:
            prepare_for_writing(connection)
            upgrade(connection)

    @contextmanager
    def reading(self) -> Iterator[Connection]:
        """A connection in a transaction that changes nothing."""
        with told(), self._engine.connect() as connection, connection.begin():
            yield connection

    @contextmanager
    def writing(self) -> Iterator[Connection]:
        """A connection in a transaction that is kept at the end, or undone by whatever is raised."""
        with told(), self._engine.connect() as connection:
            connection = connection.execution_options(**{WRITING: True})
            with connection.begin():
                yield connection

    def add(self, name: str, body: str, *, key: str | None = None) -> Design:
        """Keep a new design, at revision 1; with a `key` that came before, tell what was added then.

        Raises:
            KeyReusedError: it came with another body.
        """
        moment = self._clock()
        now = time_text(moment)
        design = Design(self._new_id(), name, 1, now, now, None)
        with self.writing() as connection:
            if key is not None and (first := added_before(connection, key, body, design, moment)):
                return first
            connection.execute(insert(DESIGNS).values(_row(design)))
            _add_revision(connection, design, body)
        return design

    def save(self, key: str, name: str, body: str, *, seen: Collection[int] | None) -> Design:
        """Keep the next revision of a design, if it is at one of the revisions `seen`; None is any.

        Raises:
            NoDesignError: there is none of that id.
            DeletedError: it is deleted.
            MovedOnError: it is at another revision.
        """
        now = time_text(self._clock())
        with self.writing() as connection:
            design = _change(
                connection, key, seen, {"head": DESIGNS.c.head + 1, "name": name, "changed": now}
            )
            _add_revision(connection, design, body)
        return design

    def delete(self, key: str, *, seen: Collection[int] | None) -> Design:
        """Take a design away; its revisions stay.

        Raises:
            NoDesignError, DeletedError, MovedOnError: as `save`.
        """
        now = time_text(self._clock())
        with self.writing() as connection:
            return _change(connection, key, seen, {"deleted": now})

    def restore(self, key: str) -> Design:
        """Bring a deleted design back as it was; one that is not deleted stays as it is.

        Raises:
            NoDesignError: there is none of that id.
        """
        with self.writing() as connection:
            connection.execute(update(DESIGNS).where(DESIGNS.c.id == key).values(deleted=None))
            return _find(connection, key)

    def design(self, key: str) -> Design:
        """A design that is not deleted.

        Raises:
            NoDesignError, DeletedError: as `save`.
        """
        with self.reading() as connection:
            return _kept(_find(connection, key))

    def text(self, key: str, number: int | None = None) -> Text:
        """A revision of a design with its text; the newest unless one is named.

        Raises:
            NoDesignError: there is no such design, or no such revision of it.
            DeletedError: the design is deleted.
        """
        with self.reading() as connection:
            design = _kept(_find(connection, key))
            wanted = design.head if number is None else number
            row = connection.execute(
                select(REVISIONS.c.number, REVISIONS.c.name, REVISIONS.c.made, REVISIONS.c.body).where(
                    REVISIONS.c.design == key, REVISIONS.c.number == wanted
                )
            ).one_or_none()
        if row is None:
            raise NoDesignError(f"there is no revision {wanted}; accepted are 1 to {design.head}")
        return Text(design, Revision(row.number, row.name, row.made), row.body)

    def revisions(self, key: str, *, limit: int, below: int | None = None) -> list[Revision]:
        """Revisions of a design, the newest first; of those under `below`, where given, at most `limit`.

        Raises:
            NoDesignError, DeletedError: as `save`.
        """
        with self.reading() as connection:
            design = _kept(_find(connection, key))
            rows = connection.execute(
                select(REVISIONS.c.number, REVISIONS.c.name, REVISIONS.c.made)
                .where(REVISIONS.c.design == key, REVISIONS.c.number < (below or design.head + 1))
                .order_by(REVISIONS.c.number.desc())
                .limit(limit)
            )
            return [Revision(*row) for row in rows]

    def designs(self, *, limit: int, after: str | None = None, show: Show = "kept") -> list[Design]:
        """Designs, those kept last first; of those behind the one of the id `after`, at most `limit`.

        Raises:
            NoDesignError: there is none of the id `after`.
        """
        with self.reading() as connection:
            wanted = list(_SHOWN[show])
            if after is not None:
                last = _find(connection, after)
                wanted.append(_older_than(last))
            rows = connection.execute(
                select(*_DESIGN)
                .where(*wanted)
                .order_by(DESIGNS.c.created.desc(), DESIGNS.c.id.desc())
                .limit(limit)
            )
            return [Design(*row) for row in rows]

    def everything(self) -> Iterator[Text]:
        """Every revision of every design, deleted ones too, as of one moment, a design at a time."""
        with self.reading() as connection:
            rows = connection.execution_options(yield_per=20).execute(
                select(*_DESIGN, REVISIONS.c.number, REVISIONS.c.name, REVISIONS.c.made, REVISIONS.c.body)
                .join(REVISIONS, REVISIONS.c.design == DESIGNS.c.id)
                .order_by(DESIGNS.c.created, DESIGNS.c.id, REVISIONS.c.number)
            )
            for row in rows:
                yield Text(Design(*row[:6]), Revision(*row[6:9]), row[9])


def _older_than(design: Design) -> ColumnElement[bool]:
    return or_(
        DESIGNS.c.created < design.created,
        and_(DESIGNS.c.created == design.created, DESIGNS.c.id < design.id),
    )


def _row(design: Design) -> dict[str, Any]:
    return {column.name: getattr(design, column.name) for column in _DESIGN}


def _find(connection: Connection, key: str) -> Design:
    row = connection.execute(select(*_DESIGN).where(DESIGNS.c.id == key)).one_or_none()
    if row is None:
        raise NoDesignError("no design is kept under this id")
    return Design(*row)


def _kept(design: Design) -> Design:
    if design.deleted is not None:
        raise DeletedError(f"the design was deleted at {design.deleted}; POST to its /restore brings it back")
    return design


def _change(connection: Connection, key: str, seen: Collection[int] | None, values: dict[str, Any]) -> Design:
    """Change a design that is not deleted and is at a revision seen, in one statement."""
    wanted = [DESIGNS.c.id == key, DESIGNS.c.deleted.is_(None)]
    if seen is not None:
        wanted.append(DESIGNS.c.head.in_(seen))
    row = connection.execute(update(DESIGNS).where(*wanted).values(values).returning(*_DESIGN)).one_or_none()
    if row is None:
        raise MovedOnError(_kept(_find(connection, key)).head)
    return Design(*row)


def _add_revision(connection: Connection, design: Design, body: str) -> None:
    connection.execute(
        insert(REVISIONS).values(
            design=design.id, number=design.head, name=design.name, made=design.changed, body=body
        )
    )
