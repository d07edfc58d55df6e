"""Export and import of all designs: whole or not at all."""

from __future__ import annotations

import json
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from soleplate.api.store.archive import archive_lines
from soleplate.api.store.designs import DesignStore
from soleplate.api.store.errors import ArchiveClashError, ArchiveError
from soleplate.api.store.importing import Imported, import_archive
from soleplate.api.store.kept import Text
from soleplate.api.store.place import Place
from tests.api.store.test_designs import opened


def building(name: str, **members: Any) -> str:
    return json.dumps({"format": "soleplate.building/1", "name": name, **members}, indent=2)


@pytest.fixture
def store(place: Place) -> Iterator[DesignStore]:
    store = opened(place)
    yield store
    store.close()


@pytest.fixture
def other(tmp_path: Path) -> Iterator[DesignStore]:
    store = opened(Place(str(tmp_path / "other.sqlite")))
    yield store
    store.close()


def filled(store: DesignStore) -> list[bytes]:
    """A store with two designs, one of them deleted, and its archive."""
    first = store.add("First \u2713", building("First \u2713"))
    store.save(first.id, "Renamed", building("Renamed", note='tab\t"quoted"'), seen=[1])
    second = store.add("Second", building("Second"))
    store.delete(second.id, seen=[1])
    return list(archive_lines(store.everything()))


def contents(store: DesignStore) -> list[Text]:
    return list(store.everything())


def test_what_is_exported_is_imported_the_same(store: DesignStore, other: DesignStore) -> None:
    archive = filled(store)
    assert import_archive(other, archive) == Imported(added=2, unchanged=0)
    assert contents(other) == contents(store)
    assert list(archive_lines(other.everything())) == archive
    assert other.designs(limit=9, show="all") == store.designs(limit=9, show="all")


def test_it_is_imported_into_either_database(store: DesignStore, other: DesignStore) -> None:
    archive = filled(other)
    assert import_archive(store, archive) == Imported(added=2, unchanged=0)
    assert contents(store) == contents(other)


def test_again_changes_nothing(store: DesignStore) -> None:
    archive = filled(store)
    before = contents(store)
    assert import_archive(store, archive) == Imported(added=0, unchanged=2)
    assert contents(store) == before


def test_later_revisions_here_stay(store: DesignStore) -> None:
    archive = filled(store)
    (design,) = store.designs(limit=9)
    store.save(design.id, "Later", building("Later"), seen=[2])
    before = contents(store)
    assert import_archive(store, archive) == Imported(added=0, unchanged=2)
    assert contents(store) == before


def test_a_clash_is_told_and_nothing_is_imported(store: DesignStore, other: DesignStore) -> None:
    archive = filled(store)
    # The clash is in the design that comes last, after one that could be added.
    kept = json.loads(archive[4]) | {"revisions": 1}
    changed = json.loads(archive[5]) | {"text": building("Another")}
    import_archive(other, [archive[0], *map(line, (kept, changed)), line({"line": "end", "designs": 1})])
    before = contents(other)
    with pytest.raises(ArchiveClashError) as caught:
        import_archive(other, archive)
    (fault,) = caught.value.faults
    assert fault.pointer == "/5"
    assert kept["id"] in fault.message
    assert contents(other) == before


def test_revisions_that_are_missing_here_clash(store: DesignStore) -> None:
    archive = filled(store)
    longer = json.loads(archive[4]) | {"revisions": 2}
    second = json.loads(archive[5]) | {"number": 2}
    with pytest.raises(ArchiveClashError, match="up to revision 1, and the archive has 2"):
        import_archive(store, [*archive[:4], line(longer), archive[5], line(second), archive[6]])


def line(value: Any) -> bytes:
    return json.dumps(value).encode() + b"\n"


def changed(archive: list[bytes], number: int, **members: Any) -> list[bytes]:
    return [*archive[:number], line(json.loads(archive[number]) | members), *archive[number + 1 :]]


@pytest.mark.parametrize(
    ("spoil", "pointer", "words"),
    [
        (lambda lines: [], "/0", "cut off"),
        (lambda lines: lines[1:], "/0/line", "'designs'"),
        (lambda lines: lines[:-1], "/6", "cut off"),
        (lambda lines: lines[:2], "/2", "cut off"),
        (lambda lines: [*lines[:2], lines[3], *lines[4:]], "/2/number", "accepted is 1"),
        (lambda lines: [*lines[:3], *lines[4:]], "/3/line", "'revision'"),
        (lambda lines: [*lines[:4], lines[3], *lines[4:]], "/4/line", "'design' or 'end'"),
        (lambda lines: [*lines, lines[1]], "/7", "nothing follows"),
        (lambda lines: [*lines[:4], *lines[6:]], "/4/designs", "2 designs are counted, and 1 are there"),
        (lambda lines: [lines[0], b"{\n", *lines[1:]], "/1", "not JSON"),
        (lambda lines: [lines[0], b"[]\n", *lines[1:]], "/1", "'design' or 'end'"),
        (lambda lines: changed(lines, 0, format="soleplate.designs/2"), "/0/format", "soleplate.designs/1"),
        (lambda lines: changed(lines, 1, id="../../x"), "/1/id", ""),
        (lambda lines: changed(lines, 1, revisions=0), "/1/revisions", ""),
        (lambda lines: changed(lines, 1, paint=1), "/1/paint", "unknown member"),
        (lambda lines: changed(lines, 1, created="yesterday"), "/1/created", ""),
        (lambda lines: changed(lines, 2, text="{"), "/2/text", "not JSON"),
        (lambda lines: changed(lines, 2, text="[]"), "/2/text", "building file"),
        (lambda lines: changed(lines, 2, text=building("")), "/2/text", "name"),
        (lambda lines: changed(lines, 2, text='"\ud800"'), "/2", ""),
        (lambda lines: changed(lines, 2, text='{"a": NaN}'), "/2/text", "NaN"),
    ],
)
def test_what_is_no_archive(tmp_path: Path, other: DesignStore, spoil: Any, pointer: str, words: str) -> None:
    store = opened(Place(str(tmp_path / "designs.sqlite")))
    archive = filled(store)
    store.close()
    with pytest.raises(ArchiveError) as caught:
        import_archive(other, spoil(archive))
    (fault, *_) = caught.value.faults
    assert fault.pointer.startswith(pointer)
    assert words in fault.message
    assert contents(other) == []
