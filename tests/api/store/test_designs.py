"""The store on both databases: what is kept, and that nothing is overwritten unseen."""

from __future__ import annotations

import threading
from collections.abc import Iterator
from datetime import UTC, datetime, timedelta
from typing import Any

import pytest
from sqlalchemy import inspect

from soleplate.api.store import designs
from soleplate.api.store.designs import DesignStore
from soleplate.api.store.errors import DeletedError, FullError, KeyReusedError, MovedOnError, NoDesignError
from soleplate.api.store.place import Place
from soleplate.api.store.schema import METADATA
from soleplate.api.store.sending_again import KEPT

BODY = '{"name": "Tool store",\r\n\t"note": "6\u2009mm \u2713 \\u0000"}'


class Ticking:
    """A clock that is a second later each time it is asked."""

    def __init__(self) -> None:
        self.now = datetime(2026, 3, 1, 12, tzinfo=UTC)

    def __call__(self) -> datetime:
        self.now += timedelta(seconds=1)
        return self.now


def opened(place: Place, **changes: Any) -> DesignStore:
    return DesignStore.open(place, **{"clock": Ticking(), **changes})


@pytest.fixture
def store(place: Place) -> Iterator[DesignStore]:
    store = opened(place)
    yield store
    store.close()


def test_a_design_is_kept_as_it_was_sent(place: Place, store: DesignStore) -> None:
    design = store.add("Tool store", BODY)
    store.close()
    again = opened(place, create=False)
    text = again.text(design.id)
    assert (text.body, text.design) == (BODY, design)
    assert (design.name, design.head, design.created) == ("Tool store", 1, "2026-03-01T12:00:01.000Z")
    again.close()


def test_every_revision_is_kept(store: DesignStore) -> None:
    design = store.add("a", "1")
    for number in range(2, 6):
        design = store.save(design.id, f"a{number}", str(number), seen=[number - 1])
        assert design.head == number
    assert [store.text(design.id, number).body for number in range(1, 6)] == ["1", "2", "3", "4", "5"]
    assert store.text(design.id).body == "5"
    revisions = store.revisions(design.id, limit=3)
    assert [(revision.number, revision.name) for revision in revisions] == [(5, "a5"), (4, "a4"), (3, "a3")]
    assert [revision.number for revision in store.revisions(design.id, limit=9, below=3)] == [2, 1]
    assert design.created < design.changed == revisions[0].made


def test_a_revision_that_was_not_seen_is_not_overwritten(store: DesignStore) -> None:
    design = store.add("a", "1")
    store.save(design.id, "a", "2", seen=[1])
    with pytest.raises(MovedOnError) as caught:
        store.save(design.id, "a", "lost", seen=[1])
    assert caught.value.head == 2
    with pytest.raises(MovedOnError):
        store.delete(design.id, seen=[1, 3])
    with pytest.raises(MovedOnError):
        store.save(design.id, "a", "lost", seen=[])
    assert store.text(design.id).body == "2"
    assert store.save(design.id, "a", "3", seen=None).head == 3


def test_what_is_not_there(store: DesignStore) -> None:
    design = store.add("a", "1")
    for call in (
        lambda: store.text("0" * 32),
        lambda: store.text(design.id, 2),
        lambda: store.save("0" * 32, "a", "1", seen=None),
        lambda: store.delete("0" * 32, seen=[1]),
        lambda: store.restore("0" * 32),
        lambda: store.revisions("0" * 32, limit=1),
        lambda: store.designs(limit=1, after="0" * 32),
    ):
        with pytest.raises(NoDesignError):
            call()


def test_a_deletion_is_undone(store: DesignStore) -> None:
    design = store.add("a", "1")
    gone = store.delete(design.id, seen=[1])
    assert gone.deleted == "2026-03-01T12:00:02.000Z"
    for call in (
        lambda: store.text(design.id),
        lambda: store.design(design.id),
        lambda: store.revisions(design.id, limit=1),
        lambda: store.save(design.id, "a", "2", seen=[1]),
        lambda: store.delete(design.id, seen=[1]),
    ):
        with pytest.raises(DeletedError, match="2026-03-01T12:00:02"):
            call()
    assert store.designs(limit=9) == []
    assert store.designs(limit=9, show="deleted") == [gone]
    assert store.restore(design.id) == design
    assert store.restore(design.id) == design
    assert store.designs(limit=9, show="deleted") == []
    assert store.designs(limit=9, show="all") == store.designs(limit=9) == [design]


@pytest.mark.parametrize("limit", [1, 2, 7])
def test_pages_hold_each_design_once(place: Place, limit: int) -> None:
    # All of one moment, so that the ids alone put them in order.
    store = opened(place, clock=lambda: datetime(2026, 3, 1, tzinfo=UTC))
    added = {store.add(f"d{number}", "1").id for number in range(5)}
    found: list[str] = []
    while page := store.designs(limit=limit, after=found[-1] if found else None):
        assert len(page) <= limit
        found += [design.id for design in page]
    assert found == sorted(added, reverse=True)
    store.close()


def test_ids_cannot_be_guessed(store: DesignStore) -> None:
    ids = {store.add("a", "1").id for _ in range(20)}
    assert len(ids) == 20
    assert all(len(key) == 32 for key in ids)


def test_what_fails_half_way_leaves_nothing(store: DesignStore) -> None:
    design = store.add("a", "1")
    with pytest.raises(MovedOnError), store.writing() as connection:  # noqa: PT012 - raised within
        connection.exec_driver_sql("UPDATE designs SET head = 7")
        raise MovedOnError(7)
    assert store.design(design.id) == design


def test_of_racing_saves_one_wins(place: Place) -> None:
    stores = [opened(place) for _ in range(4)]
    key = stores[0].add("a", "0").id
    start = threading.Barrier(8)
    outcomes: list[str] = []

    def race(number: int) -> None:
        start.wait()
        for _ in range(5):
            try:
                outcomes.append(stores[number % 4].save(key, "a", f"by {number}", seen=[1]).name)
            except MovedOnError:
                outcomes.append("moved on")

    threads = [threading.Thread(target=race, args=(number,)) for number in range(8)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert sorted(outcomes) == ["a"] + ["moved on"] * 39
    assert stores[0].design(key).head == 2
    for store in stores:
        store.close()


def test_what_is_sent_again_with_its_key_is_added_once(store: DesignStore) -> None:
    first = store.add("a", "1", key="k")
    store.save(first.id, "b", "2", seen=[1])
    assert store.add("a", "1", key="k") == first
    assert [design.id for design in store.designs(limit=9)] == [first.id]
    store.delete(first.id, seen=None)
    assert store.add("a", "1", key="k") == first
    assert store.add("a", "1").id != first.id
    assert store.add("a", "1", key="another").id != first.id


def test_a_key_is_for_one_body(store: DesignStore) -> None:
    store.add("a", "1", key="k")
    with pytest.raises(KeyReusedError):
        store.add("a", "2", key="k")
    assert len(store.designs(limit=9)) == 1


def test_a_key_is_kept_for_a_day(place: Place) -> None:
    ticking = Ticking()
    store = opened(place, clock=ticking)
    first = store.add("a", "1", key="k")
    ticking.now += KEPT - timedelta(seconds=1)
    assert store.add("a", "1", key="k") == first
    # A second later, by the next tick.
    assert store.add("b", "2", key="k").id != first.id
    store.close()


def test_a_key_of_what_failed_is_free(store: DesignStore, monkeypatch: pytest.MonkeyPatch) -> None:
    def fail(*_: object) -> None:
        raise FullError("no room")

    with monkeypatch.context() as broken:
        broken.setattr(designs, "_add_revision", fail)
        with pytest.raises(FullError):
            store.add("a", "1", key="k")
    assert store.add("b", "2", key="k").name == "b"


def test_of_racing_calls_with_one_key_one_adds(place: Place) -> None:
    stores = [opened(place) for _ in range(4)]
    start = threading.Barrier(8)
    ids: list[str] = []

    def race(number: int) -> None:
        start.wait()
        ids.append(stores[number % 4].add("a", "1", key="k").id)

    threads = [threading.Thread(target=race, args=(number,)) for number in range(8)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert (len(ids), len(set(ids))) == (8, 1)
    assert len(stores[0].designs(limit=9)) == 1
    for store in stores:
        store.close()


def test_a_place_is_opened_by_several_at_once(place: Place) -> None:
    start = threading.Barrier(6)
    outcomes: list[object] = []

    def open_and_add() -> None:
        start.wait()
        try:
            store = DesignStore.open(place)
            store.add("a", "1")
            store.close()
            outcomes.append("added")
        except Exception as error:
            outcomes.append(error)

    threads = [threading.Thread(target=open_and_add) for _ in range(6)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert outcomes == ["added"] * 6
    store = opened(place)
    assert len(store.designs(limit=9)) == 6
    store.close()


def test_the_tables_are_those_that_the_statements_make(store: DesignStore) -> None:
    with store.reading() as connection:
        found = inspect(connection)
        assert set(found.get_table_names()) == set(METADATA.tables)
        for name, table in METADATA.tables.items():
            columns = {column["name"]: column["nullable"] for column in found.get_columns(name)}
            assert columns == {column.name: column.nullable for column in table.columns}
            key = found.get_pk_constraint(name)["constrained_columns"]
            assert key == [column.name for column in table.primary_key]
            indexes = {index["name"] for index in found.get_indexes(name)}
            assert indexes == {index.name for index in table.indexes}
