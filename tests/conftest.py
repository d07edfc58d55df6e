"""What tests of several folders share."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from starlette.testclient import TestClient

from soleplate.api.app import create_app
from soleplate.api.store.place import Place
from tests.buildings import registry
from tests.serving import BASE


@pytest.fixture(scope="session")
def client(tmp_path_factory: pytest.TempPathFactory) -> Iterator[TestClient]:
    """The API without a building, called in process; it keeps designs in a file of its own."""
    designs = Place(str(tmp_path_factory.mktemp("designs") / "designs.sqlite"))
    app = create_app(registry(), designs=designs)
    with TestClient(app, base_url=BASE, follow_redirects=False) as client:
        yield client
