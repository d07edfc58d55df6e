"""Connections to a real server: heads, silence and numbers are bounded, and other callers notice nothing."""

from __future__ import annotations

import asyncio
import json
import socket
from collections.abc import Callable, Iterator
from contextlib import ExitStack
from types import SimpleNamespace
from urllib.parse import urlsplit

import httpx2
import pytest
import uvicorn
from uvicorn.server import ServerState

from soleplate.api.connections import Connection
from soleplate.api.http.problems import MEDIA_TYPE
from soleplate.api.limits import HEAD_S, MOST_HEAD, MOST_HEADERS, MOST_OPEN, STALLED_S
from tests.serving import Server, serving

HEAD = b"GET /health HTTP/1.1\r\nHost: 127.0.0.1\r\n"


@pytest.fixture(scope="module")
def server() -> Iterator[Server]:
    with serving() as started:
        yield started


def connected(server: Server) -> socket.socket:
    where = urlsplit(server.address)
    assert where.hostname
    assert where.port
    return socket.create_connection((where.hostname, where.port), timeout=30)


def answer(client: socket.socket) -> tuple[int, dict[str, str], bytes]:
    """The next answer, read to the end of its body."""
    with client.makefile("rb") as lines:
        status = int(lines.readline().split()[1])
        headers = {}
        while (line := lines.readline().decode().strip()) != "":
            name, _, value = line.partition(":")
            headers[name.lower()] = value.strip()
        return status, headers, lines.read(int(headers["content-length"]))


def sent(server: Server, head: bytes) -> tuple[int, dict[str, str], bytes]:
    with connected(server) as client:
        client.sendall(head)
        return answer(client)


def is_up(server: Server) -> bool:
    return httpx2.get(f"{server.address}health", timeout=30).status_code == 200


@pytest.mark.parametrize(("over", "status"), [(0, 200), (1, 431)])
def test_a_head_has_so_many_bytes(server: Server, over: int, status: int) -> None:
    rest = MOST_HEAD + over - len(HEAD) - len(b"X: \r\n\r\n")
    code, headers, body = sent(server, HEAD + b"X: " + b"a" * rest + b"\r\n\r\n")
    assert code == status
    assert is_up(server)
    if status == 431:
        assert headers["content-type"] == MEDIA_TYPE
        assert json.loads(body)["type"] == "/problems/head-too-large"


@pytest.mark.parametrize(("more", "status"), [(0, 200), (1, 431)])
def test_a_head_has_so_many_headers(server: Server, more: int, status: int) -> None:
    assert sent(server, HEAD + b"X: a\r\n" * (MOST_HEADERS - 1 + more) + b"\r\n")[0] == status


def test_the_next_head_on_a_connection_is_bounded_too(server: Server) -> None:
    with connected(server) as client:
        client.sendall(HEAD + b"\r\n")
        assert answer(client)[0] == 200
        client.sendall(HEAD + b"X: " + b"a" * MOST_HEAD)
        assert answer(client)[0] == 431


def test_a_body_is_not_held_to_the_bounds_of_a_head(server: Server) -> None:
    body = b" " * (3 * MOST_HEAD)
    head = b"POST /v1/layouts HTTP/1.1\r\nHost: 127.0.0.1\r\nContent-Type: application/json\r\n"
    code, _, told = sent(server, head + b"Content-Length: %d\r\n\r\n" % len(body) + body)
    assert code == 400
    assert json.loads(told)["type"].endswith("/problems/unreadable")


def test_a_line_without_end_is_ended(server: Server) -> None:
    with connected(server) as client:
        client.sendall(HEAD + b"X: ")
        with pytest.raises((ConnectionResetError, BrokenPipeError)):
            client.sendall(b"a" * 1000 * MOST_HEAD)
    assert is_up(server)


def test_what_is_not_http_is_told_so(server: Server) -> None:
    code, headers, body = sent(server, b"not at all\r\n\r\n")
    assert (code, headers["connection"]) == (400, "close")
    assert json.loads(body)["type"] == "/problems/bad-head"


def test_silent_connections_shut_nobody_out(server: Server) -> None:
    with ExitStack() as silent:
        first = silent.enter_context(connected(server))
        for _ in range(MOST_OPEN + 50):
            silent.enter_context(connected(server))
        assert is_up(server)
        # The one that has waited longest has made room.
        assert first.recv(1) == b""


class Clock(asyncio.AbstractEventLoop):
    """A loop whose time a test tells."""

    def __init__(self) -> None:
        self.now = 0.0
        self.waiting: list[asyncio.TimerHandle] = []

    def get_debug(self) -> bool:
        return False

    def time(self) -> float:
        return self.now

    def call_later(  # type: ignore[override]
        self, delay: float, callback: Callable[..., None], *args: object
    ) -> asyncio.TimerHandle:
        self.waiting.append(asyncio.TimerHandle(self.now + delay, callback, args, self))
        return self.waiting[-1]

    def _timer_handle_cancelled(self, handle: asyncio.TimerHandle) -> None:
        """Asyncio tells a loop of these."""

    def go_on(self, seconds: float) -> None:
        """Let time pass, and whatever falls due in it happen."""
        until = self.now + seconds
        while due := [each for each in self.waiting if not each.cancelled() and each.when() <= until]:
            first = min(due, key=asyncio.TimerHandle.when)
            self.waiting.remove(first)
            self.now = first.when()
            first._run()
        self.now = until


class Transport(asyncio.Transport):
    """Where a connection writes to, and whose caller has `left` so many bytes unread."""

    def __init__(self) -> None:
        super().__init__()
        self.written = b""
        self.left = 0
        self.ended = ""

    def get_write_buffer_size(self) -> int:
        return self.left

    def write(self, data: bytes | bytearray | memoryview) -> None:
        self.written += data

    def is_closing(self) -> bool:
        return self.ended != ""

    def close(self) -> None:
        self.ended = "closed"

    def abort(self) -> None:
        self.ended = "aborted"


async def no_application(scope: object, receive: object, send: object) -> None:
    raise AssertionError("nothing reaches the application")


def opened(clock: Clock, state: ServerState | None = None) -> tuple[Connection, Transport]:
    config = uvicorn.Config(no_application, http=Connection, ws="none", log_config=None)
    connection = Connection(config, state or ServerState(), {}, _loop=clock)
    transport = Transport()
    connection.connection_made(transport)
    return connection, transport


def test_a_connection_that_stays_silent_is_closed() -> None:
    clock = Clock()
    _, transport = opened(clock)
    clock.go_on(HEAD_S - 0.1)
    assert transport.ended == ""
    clock.go_on(0.1)
    assert (transport.ended, transport.written) == ("closed", b"")


def test_a_head_that_never_ends_is_given_up_however_it_drips() -> None:
    clock = Clock()
    connection, transport = opened(clock)
    for byte in HEAD:
        connection.data_received(bytes([byte]))
        clock.go_on(HEAD_S / 100)
        if transport.ended:
            break
    else:
        clock.go_on(HEAD_S)
    assert transport.ended == "closed"
    assert transport.written.startswith(b"HTTP/1.1 408 ")
    assert b"/problems/too-slow" in transport.written
    assert clock.now <= HEAD_S * 2


def test_an_answer_that_nobody_reads_is_given_up_and_a_slow_reader_is_not() -> None:
    clock = Clock()
    connection, transport = opened(clock)
    connection._until.cancel()
    transport.left = 300_000
    connection.pause_writing()
    for left in (200_000, 100_000):
        transport.left = left
        clock.go_on(STALLED_S)
        assert transport.ended == ""
    clock.go_on(STALLED_S)
    assert transport.ended == "aborted"


def test_once_read_on_nothing_is_given_up() -> None:
    clock = Clock()
    connection, transport = opened(clock)
    connection._until.cancel()
    transport.left = 300_000
    connection.pause_writing()
    connection.resume_writing()
    clock.go_on(3 * STALLED_S)
    assert transport.ended == ""


def test_with_a_call_on_every_connection_one_more_is_turned_away() -> None:
    clock, state = Clock(), ServerState()
    for _ in range(MOST_OPEN):
        busy, _ = opened(clock, state)
        busy.cycle = SimpleNamespace(response_complete=False)
    _, transport = opened(clock, state)
    assert transport.ended == "closed"
    assert transport.written.startswith(b"HTTP/1.1 503 ")
    assert b"Retry-After: 10\r\n" in transport.written


def test_room_is_made_by_the_one_that_has_waited_longest() -> None:
    clock, state = Clock(), ServerState()
    transports = []
    for _ in range(MOST_OPEN + 2):
        clock.go_on(0.001)
        transports.append(opened(clock, state)[1])
    assert [each.ended for each in transports] == ["aborted", "aborted", *[""] * MOST_OPEN]
