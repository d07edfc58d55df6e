"""A plain proxy: each call goes to the next of some servers, and to the one after it where that is down."""

from __future__ import annotations

import http.client
import itertools
import threading
from collections import Counter
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer
from urllib.parse import urlsplit


class Balancer(ThreadingHTTPServer):
    """Calls by turns; `answered` counts what each server answered."""

    daemon_threads = True

    def __init__(self, servers: Sequence[str]) -> None:
        super().__init__(("127.0.0.1", 0), _Handler)
        self.servers = servers
        self.answered: Counter[str] = Counter()
        self._turns = itertools.cycle(range(len(servers)))
        self._guard = threading.Lock()

    @property
    def address(self) -> str:
        return f"http://127.0.0.1:{self.server_address[1]}/"

    def in_turn(self) -> list[str]:
        """All servers, beginning with the one whose turn it is."""
        with self._guard:
            first = next(self._turns)
        return [*self.servers[first:], *self.servers[:first]]

    def count(self, server: str) -> None:
        with self._guard:
            self.answered[server] += 1


class _Handler(BaseHTTPRequestHandler):
    server: Balancer
    protocol_version = "HTTP/1.1"

    def do_any(self) -> None:
        body = self.rfile.read(int(self.headers.get("Content-Length", "0")))
        for server in self.server.in_turn():
            there = urlsplit(server)
            connection = http.client.HTTPConnection(str(there.hostname), there.port or 80, timeout=60)
            try:
                connection.connect()
            except OSError:
                continue  # Nothing was sent, so that another may be asked.
            try:
                connection.request(self.command, self.path, body, dict(self.headers))
                answer = connection.getresponse()
                content = answer.read()
            except (OSError, http.client.HTTPException):
                self._answer(502, [], b"")  # What came of it nobody knows.
            else:
                self.server.count(server)
                kept = [(name, value) for name, value in answer.getheaders() if name not in _HOP_BY_HOP]
                self._answer(answer.status, kept, content)
            finally:
                connection.close()
            return
        self._answer(503, [], b"")

    def _answer(self, status: int, headers: Sequence[tuple[str, str]], content: bytes) -> None:
        self.send_response_only(status)
        for name, value in headers:
            self.send_header(name, value)
        self.send_header("Content-Length", str(len(content)))
        self.end_headers()
        self.wfile.write(content)

    do_GET = do_POST = do_PUT = do_DELETE = do_any  # noqa: N815 - the library asks for these names

    def log_message(self, *_: object) -> None: ...


_HOP_BY_HOP = ("content-length", "connection", "transfer-encoding", "date", "keep-alive")


@contextmanager
def balancing(*servers: str) -> Iterator[Balancer]:
    """A proxy before some servers, by their addresses."""
    proxy = Balancer(servers)
    thread = threading.Thread(target=proxy.serve_forever)
    thread.start()
    try:
        yield proxy
    finally:
        proxy.shutdown()
        thread.join()
        proxy.server_close()
