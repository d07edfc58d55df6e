"""`soleplate designs`: list, export and import what is kept, with or without a server running on it."""

from __future__ import annotations

import os
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from enum import Enum
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Final

import typer

from soleplate.api.store import VARIABLE, Place, place_of
from soleplate.api.terminal.saying import data, fail, say, told

if TYPE_CHECKING:
    from soleplate.api.store import DesignStore

app: Final = typer.Typer(no_args_is_help=True, help="List, export and import kept designs.")

Designs = Annotated[
    str | None,
    typer.Option(
        "--designs",
        metavar="FILE",
        envvar=VARIABLE,
        help="Where designs are kept: a file, or postgresql://USER@HOST/DATABASE.",
    ),
]

PAGE: Final = 100


class Shown(Enum):
    """Which designs to list."""

    KEPT = "kept"
    DELETED = "deleted"
    ALL = "all"


@app.command("list")
@told()
def list_designs(
    designs: Designs = None,
    show: Annotated[Shown, typer.Option(help="Those kept, those deleted, or all.")] = Shown.KEPT,
) -> None:
    """List designs, the latest first: id, revision, when it was saved, name."""
    with _store(designs) as store:
        last: str | None = None
        while page := store.designs(limit=PAGE, after=last, show=show.value):
            for design in page:
                gone = f" (deleted {design.deleted})" if design.deleted else ""
                say(f"{design.id}  {design.head:>4}  {design.changed}  {design.name}{gone}")
            last = page[-1].id


@app.command("export")
@told()
def export_designs(
    file: Annotated[Path, typer.Argument(metavar="FILE.jsonl", help="A new file; - is the terminal.")],
    designs: Designs = None,
) -> None:
    """Export all designs with all revisions, deleted ones too."""
    from soleplate.api.store import archive_lines

    with _store(designs) as store:
        if str(file) == "-":
            data().buffer.writelines(archive_lines(store.everything()))
            return
        if file.exists():
            fail(f"{file}: is there already; accepted is a new file")
        # Whole or not at all: the name appears once every line is on the disk.
        with tempfile.NamedTemporaryFile(dir=file.parent, prefix=f".{file.name}-", delete=False) as part:
            try:
                part.writelines(archive_lines(store.everything()))
                part.flush()
                os.fsync(part.fileno())
                Path(part.name).rename(file)
            except BaseException:
                Path(part.name).unlink()
                raise


@app.command("import")
@told()
def import_designs(
    file: Annotated[Path, typer.Argument(metavar="FILE.jsonl", help="An archive that was exported.")],
    designs: Designs = None,
) -> None:
    """Import an archive, all of it or nothing; ids and revisions stay."""
    from soleplate.api.store import ArchiveError, import_archive, lines_of

    with file.open("rb") as archive, _store(designs, create=True) as store:
        try:
            done = import_archive(store, lines_of(archive))
        except ArchiveError as error:
            fail("\n".join(f"{file}: {fault}" for fault in error.faults) + "\nnothing was imported")
    say(f"{done.added} added, {done.unchanged} here already")


def opened_place(asked: str | None) -> Place:
    """The place where a server is to keep designs, opened once to see that it can.

    The user's own, which nobody asked for, is left until the first call needs it.
    """
    place = _place(asked)
    if not place.is_default:
        with _opened(place, create=True):
            pass
    return place


@contextmanager
def _store(asked: str | None, *, create: bool = False) -> Iterator[DesignStore]:
    """The store of a place, closed at the end."""
    with _opened(_place(asked), create=create) as store:
        yield store


def _place(asked: str | None) -> Place:
    try:
        return place_of(asked)
    except ValueError as error:
        fail(f"--designs: {error}")


@contextmanager
def _opened(place: Place, *, create: bool) -> Iterator[DesignStore]:
    from soleplate.api.store import DesignStore, StoreError

    try:
        store = DesignStore.open(place, create=create)
        try:
            yield store
        finally:
            store.close()
    except StoreError as error:
        fail(f"{place}: {error}")
