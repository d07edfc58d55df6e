"""Running the web application."""

from __future__ import annotations

import logging
import socket
from collections.abc import Callable

import uvicorn
from starlette.types import ASGIApp

from soleplate.api.connections import Connection


def listen(host: str, port: int) -> socket.socket:
    """A socket that takes connections from now on; port 0 takes a free one.

    Raises:
        OSError: the host is unknown, or the port is taken.
    """
    family, kind, _, _, address = socket.getaddrinfo(host, port, type=socket.SOCK_STREAM)[0]
    # Named as TCP, so that asyncio sends small answers at once.
    listener = socket.socket(family, kind, socket.IPPROTO_TCP)
    try:
        listener.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        listener.bind(address)
        listener.listen(128)
    except OSError:
        listener.close()
        raise
    return listener


def address_of(listener: socket.socket, host: str) -> str:
    """What to open in a browser."""
    shown = f"[{host}]" if ":" in host else host
    return f"http://{shown}:{listener.getsockname()[1]}/"


def run(app: ASGIApp, listener: socket.socket, *, grace_s: int, when_up: Callable[[], None]) -> None:
    """Serve until SIGINT or SIGTERM; calls under way have `grace_s` seconds to end first.

    `when_up` is called once calls are taken.
    """
    logging.basicConfig(level=logging.WARNING, format="%(asctime)s %(levelname)s %(name)s: %(message)s")
    config = uvicorn.Config(
        app,
        http=Connection,
        ws="none",
        log_config=None,
        access_log=False,
        server_header=False,
        timeout_graceful_shutdown=grace_s,
    )
    _Server(config, when_up).run(sockets=[listener])


class _Server(uvicorn.Server):
    """A server that tells when it is up."""

    def __init__(self, config: uvicorn.Config, when_up: Callable[[], None]) -> None:
        super().__init__(config)
        self._when_up = when_up

    async def startup(self, sockets: list[socket.socket] | None = None) -> None:
        """Start, then tell."""
        await super().startup(sockets)
        if self.started:
            self._when_up()
