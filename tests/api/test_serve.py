"""`soleplate serve`: a real server in a process of its own, on loopback."""

from __future__ import annotations

import os
import signal
import socket
from urllib.parse import urlsplit

import httpx2
import pytest

from soleplate.api.problems import MEDIA_TYPE
from tests.api.test_command_line import refused
from tests.buildings import HONEY_HOUSE, honey_house
from tests.serving import run, serving


def test_it_says_where_to_look_and_serves() -> None:
    with serving(HONEY_HOUSE) as server, httpx2.Client(base_url=server.address, timeout=60) as client:
        assert "<h1>Honey house</h1>" in client.get("/").text
        assert client.get("/health").json()["status"] == "up"
        assert client.post("/v1/layouts", json=honey_house()).status_code == 200
        assert "server" not in client.get("/health").headers


def test_fifty_megabytes_are_turned_away_and_the_server_goes_on() -> None:
    with serving() as server, httpx2.Client(base_url=server.address, timeout=60) as client:
        headers = {"content-type": "application/json"}
        answer = client.post("/v1/layouts", content=b" " * 50_000_000, headers=headers)
        assert (answer.status_code, answer.headers["content-type"]) == (413, MEDIA_TYPE)
        assert client.get("/health").status_code == 200


@pytest.mark.parametrize("sent", [signal.SIGINT, signal.SIGTERM])
def test_it_stops_when_told(sent: signal.Signals) -> None:
    with serving() as server:
        server.process.send_signal(sent)
        assert server.process.wait(20) in (0, 130, -sent)
        assert server.process.stderr is not None
        assert server.process.stderr.read() == ""


def test_a_port_that_is_taken() -> None:
    with socket.create_server(("127.0.0.1", 0)) as taken:
        port = str(taken.getsockname()[1])
        refused(run("serve", "--port", port), f"port {port}", "in use", "--port")


def test_an_unknown_host() -> None:
    variables = dict(os.environ) | {"SOLEPLATE_TOKEN": "sesame"}
    refused(run("serve", "--host", "192.0.2.7", variables=variables), "192.0.2.7", "accepted")


def test_off_loopback_it_does_not_start_without_a_token() -> None:
    variables = {name: value for name, value in os.environ.items() if name != "SOLEPLATE_TOKEN"}
    refused(run("serve", "--host", "0.0.0.0", variables=variables), "SOLEPLATE_TOKEN")


def test_it_listens_on_loopback_alone() -> None:
    with serving() as server:
        assert urlsplit(server.address).hostname == "127.0.0.1"
