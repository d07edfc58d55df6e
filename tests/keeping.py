"""Servers in processes of their own that start in no time: forked from one that has imported all."""

from __future__ import annotations

import multiprocessing
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from multiprocessing.connection import Connection
from multiprocessing.process import BaseProcess

from soleplate.api import serving
from soleplate.api.app import create_app
from soleplate.api.limits import GRACE_S
from soleplate.api.store import importing  # noqa: F401 - so that no server spends time on it
from soleplate.api.store.place import Place
from soleplate.engine.registry import load_registry

FORKED = multiprocessing.get_context("forkserver")
FORKED.set_forkserver_preload(["tests.keeping"])

REGISTRY = load_registry()
"""Loaded before the fork, once for all servers."""

create_app(REGISTRY)  # so that what is worked out of it once is there too


@dataclass(frozen=True)
class KeepingServer:
    process: BaseProcess
    address: str

    def kill(self) -> None:
        """End it as a loss of power would, without a chance to finish anything."""
        self.process.kill()


@contextmanager
def keeping(place: Place) -> Iterator[KeepingServer]:
    """A server that keeps designs in a place, on a free port of this machine."""
    ours, theirs = FORKED.Pipe(duplex=False)
    process = FORKED.Process(target=_serve, args=(place, theirs))
    process.start()
    theirs.close()
    try:
        yield KeepingServer(process, ours.recv())
    finally:
        process.kill()
        process.join()


def _serve(place: Place, up: Connection) -> None:
    listener = serving.listen("127.0.0.1", 0)
    address = serving.address_of(listener, "127.0.0.1")
    serving.run(
        create_app(REGISTRY, designs=place), listener, grace_s=GRACE_S, when_up=lambda: up.send(address)
    )
