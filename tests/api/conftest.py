"""Places to keep designs in: a file, and a database of a PostgreSQL server."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from uuid import uuid4

import pytest

from soleplate.api.store.place import Place
from tests import databases


@pytest.fixture(scope="session")
def database_urls() -> Iterator[str]:
    """The URL of a database on a PostgreSQL server, with `{}` for its name."""
    if (reason := databases.lacking()) is not None:
        pytest.skip(reason)
    with databases.postgresql() as urls:
        yield urls


@pytest.fixture(params=["sqlite", "postgresql"])
def place(request: pytest.FixtureRequest, tmp_path: Path) -> Place:
    """An empty place."""
    if request.param == "sqlite":
        return Place(str(tmp_path / "designs.sqlite"))
    return new_database(request.getfixturevalue("database_urls"))


def new_database(urls: str) -> Place:
    import psycopg

    name = f"designs_{uuid4().hex}"
    with psycopg.connect(urls.format("postgres"), autocommit=True) as connection:
        connection.execute(f"CREATE DATABASE {name}")
    return Place(urls.format(name))
