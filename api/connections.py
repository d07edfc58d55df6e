"""Connections to the server: how many may be open, how large a head may be, and how long one may be silent.

Each bound stands before the application, which sees nothing of what breaks it. `soleplate serve` uses them,
and `uvicorn --http soleplate.api.connections:Connection` does.
"""

from __future__ import annotations

import asyncio
from typing import Final

from uvicorn.protocols.http.httptools_impl import STATUS_LINE, HttpToolsProtocol

from soleplate.api.http import (
    MEDIA_TYPE,
    BadHead,
    HeadTooLarge,
    OverCapacity,
    Refusal,
    TooSlow,
    headers_of,
    problem_json,
    problem_of,
)
from soleplate.api.limits import HEAD_S, MOST_HEAD, MOST_HEADERS, MOST_OPEN, STALLED_S

TOO_LARGE: Final = f"accepted are up to {MOST_HEAD} bytes, and up to {MOST_HEADERS} headers"


class Connection(HttpToolsProtocol):
    """One connection, whose calls the application answers in turn."""

    def connection_made(self, transport: asyncio.Transport) -> None:  # type: ignore[override]
        """Take a connection; with too many open, close the one that has waited longest for a call."""
        super().connection_made(transport)
        self._head = 0
        """Bytes of the head that is coming in."""
        self._in_head = True
        self._flaw: Refusal = BadHead("the request's line or headers cannot be read as HTTP/1.1")
        """What a head is told that the parser gives up."""
        self._until = self.loop.call_later(HEAD_S, self._out_of_time)
        self._stalled: asyncio.TimerHandle | None = None
        if len(self.connections) > MOST_OPEN:
            self._make_room()

    def _make_room(self) -> None:
        open_ = (each for each in self.connections if isinstance(each, Connection) and each is not self)
        waiting = (each for each in open_ if each._is_waiting and not each.transport.is_closing())
        oldest = min(waiting, key=lambda each: each._until.when(), default=None)
        if oldest is None:
            wait = {"Retry-After": f"{HEAD_S:.0f}"}
            self._refuse(OverCapacity("as many connections are open as may be, each with a call", wait))
        else:
            oldest.transport.abort()

    @property
    def _is_waiting(self) -> bool:
        """Whether no call is under way."""
        return self.cycle is None or self.cycle.response_complete

    def connection_lost(self, exc: Exception | None) -> None:
        """Let a connection go."""
        self._until.cancel()
        self.resume_writing()
        super().connection_lost(exc)

    def data_received(self, data: bytes) -> None:
        """Read on, of a head no more than it may have."""
        room = self._room_for(len(data))
        super().data_received(data[:room])
        rest = data[room:]
        if not rest or self.transport.is_closing():
            return
        if self._in_head:
            self._refuse(HeadTooLarge(TOO_LARGE))
        else:
            super().data_received(rest)

    def _room_for(self, size: int) -> int:
        """How many of the next bytes are read before it is looked whether the head has ended."""
        if not self._in_head:
            return size
        room = MOST_HEAD - self._head
        self._head += size
        return room

    def on_message_begin(self) -> None:
        """Begin a head."""
        super().on_message_begin()
        self._until.cancel()
        self._until = self.loop.call_later(HEAD_S, self._out_of_time)

    def on_header(self, name: bytes, value: bytes) -> None:
        """Take a header.

        Raises:
            HeadTooLarge: it is one too many.
        """
        if len(self.headers) >= MOST_HEADERS:
            self._flaw = HeadTooLarge(TOO_LARGE)
            raise self._flaw
        super().on_header(name, value)

    def on_headers_complete(self) -> None:
        """End a head, and begin its call."""
        self._in_head = False
        self._until.cancel()
        super().on_headers_complete()

    def on_message_complete(self) -> None:
        """End a body; the next head may come."""
        super().on_message_complete()
        self._in_head, self._head = True, 0

    def _out_of_time(self) -> None:
        if not self._is_waiting:
            # What comes in after a call waits for the answer to it.
            self._until = self.loop.call_later(HEAD_S, self._out_of_time)
        elif self._head:
            self._refuse(TooSlow(f"the head had {HEAD_S:g} s to come in"))
        else:
            self.transport.close()

    def pause_writing(self) -> None:
        """Wait until the caller has read on, as long as he does."""
        super().pause_writing()
        self._look_again(self.transport.get_write_buffer_size())

    def _look_again(self, left: int) -> None:
        self._stalled = self.loop.call_later(STALLED_S, self._has_read, left)

    def _has_read(self, left: int) -> None:
        if (now := self.transport.get_write_buffer_size()) < left:
            self._look_again(now)
        else:
            self.transport.abort()

    def resume_writing(self) -> None:
        """Go on writing."""
        super().resume_writing()
        if self._stalled is not None:
            self._stalled.cancel()
            self._stalled = None

    def send_400_response(self, msg: str) -> None:
        """Answer what cannot be parsed."""
        self._refuse(self._flaw)

    def _refuse(self, error: Refusal) -> None:
        """Answer without the application, and close."""
        problem = problem_of(error)
        body = problem_json(problem)
        fixed = {"Content-Type": MEDIA_TYPE, "Content-Length": f"{len(body)}", "Connection": "close"}
        lines = (f"{name}: {value}\r\n" for name, value in (fixed | headers_of(error)).items())
        self.transport.write(STATUS_LINE[problem.status] + "".join(lines).encode("ascii") + b"\r\n" + body)
        self.transport.close()
