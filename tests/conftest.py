"""What tests of several folders share."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from starlette.testclient import TestClient

from soleplate.api.app import create_app
from tests.buildings import registry
from tests.serving import BASE


@pytest.fixture(scope="session")
def client() -> Iterator[TestClient]:
    """The API without a building, called in process."""
    with TestClient(create_app(registry()), base_url=BASE, follow_redirects=False) as client:
        yield client
