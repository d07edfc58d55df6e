"""The outermost layer of the web application: lets calls in, and looks over every answer on its way out."""

from __future__ import annotations

import asyncio
import logging
import time
from collections.abc import Callable, Mapping
from typing import Final

from starlette.datastructures import Headers, MutableHeaders
from starlette.requests import ClientDisconnect
from starlette.responses import Response
from starlette.types import ASGIApp, Message, Receive, Scope, Send

from soleplate.api.guard.access_log import LoggedCall
from soleplate.api.guard.security import Access
from soleplate.api.http import HEADER, Stopping, answer_with, headers_of, name_call, problem_of, put_base

LOG: Final = logging.getLogger("soleplate.api")

HEADERS: Final = {
    "Content-Security-Policy": "default-src 'none'; style-src 'self'; script-src 'self';"
    " img-src 'self' data:; connect-src 'self'; frame-ancestors 'none'; base-uri 'none'; form-action 'self'",
    "X-Content-Type-Options": "nosniff",
    "Referrer-Policy": "no-referrer",
    "Cross-Origin-Resource-Policy": "same-origin",
    "Cache-Control": "no-cache",
}
"""On every answer."""

EXPOSED: Final = "Content-Disposition, ETag, Location, Retry-After, X-Request-ID"
"""Headers of an answer that a page of another site may read."""

PREFLIGHT: Final = {
    "Access-Control-Allow-Methods": "GET, HEAD, POST, PUT, DELETE",
    "Access-Control-Allow-Headers": "Authorization, Content-Type, Idempotency-Key, If-Match, If-None-Match,"
    " X-Request-ID",
    "Access-Control-Max-Age": "600",
}
"""What pages of the sites that may call are told they may send."""


class Guard:
    """Asks `Access`, answers what was raised, and puts id and headers on every answer.

    `log` is told of every call once it is over.
    """

    def __init__(self, app: ASGIApp, access: Access, log: Callable[[LoggedCall], None] | None = None) -> None:
        self._app = app
        self._access = access
        self._log = log

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Guard an HTTP call; nothing else is let through but the server's own start and stop."""
        if scope["type"] != "http":
            await self._app(scope, receive, send)
            return
        given = Headers(scope=scope)
        put_base(scope, self._access.base(scope["scheme"], given.get("host", "")))
        call = _Call(scope, send, self._for_site(given.get("origin")))
        try:
            if self._is_preflight(scope["method"], given):
                await Response(status_code=204, headers=PREFLIGHT)(scope, receive, call.send)
                return
            self._access.require(scope["method"], scope["path"], given)
            await self._app(scope, receive, call.send)
        except ClientDisconnect:
            return
        except asyncio.CancelledError:
            # The server stops, and the time that it gave to calls under way is over.
            if call.status:
                raise
            await call.answer_to(Stopping())(scope, receive, call.send)
        except Exception as error:
            if call.status:
                raise
            await call.answer_to(error)(scope, receive, call.send)
        finally:
            if self._log is not None:
                self._log(call.line())

    def _for_site(self, origin: str | None) -> dict[str, str]:
        """Headers that let a page of an allowed site read the answer; without such sites none at all."""
        if not self._access.origins:
            return {}
        if origin not in self._access.origins:
            return {"Vary": "Origin"}
        return {
            "Vary": "Origin",
            "Access-Control-Allow-Origin": str(origin),
            "Access-Control-Expose-Headers": EXPOSED,
        }

    def _is_preflight(self, method: str, headers: Headers) -> bool:
        """Whether a browser asks on behalf of an allowed site's page what that may send."""
        return (
            method == "OPTIONS"
            and "access-control-request-method" in headers
            and headers.get("origin") in self._access.origins
        )


class _Call:
    """One call on its way out: what was sent of its answer, and the headers that go with it."""

    def __init__(self, scope: Scope, send: Send, headers: Mapping[str, str]) -> None:
        self._scope = scope
        self._send = send
        self._id = name_call(scope)
        self._headers = {**HEADERS, HEADER: self._id, **headers}
        self._begun_at = time.perf_counter()
        self._sent = 0
        self.status = 0

    async def send(self, message: Message) -> None:
        """Send a part of the answer on."""
        if message["type"] == "http.response.start":
            self.status = message["status"]
            headers = MutableHeaders(scope=message)
            for name, value in self._headers.items():
                _put(headers, name, value)
        self._sent += len(message.get("body", b""))
        await self._send(message)

    def answer_to(self, error: Exception) -> Response:
        """The problem that an exception is; what is no fault of the caller's is logged with its trace."""
        problem = problem_of(error)
        if problem.status == 500:
            LOG.error("%s: %s", self._id, problem.title, exc_info=error)
        return answer_with(problem, headers_of(error), self._scope)

    def line(self) -> LoggedCall:
        """What the access log tells of it, once it is over."""
        client = self._scope.get("client")
        return LoggedCall(
            request_id=self._id,
            client=client[0] if client else "",
            method=self._scope["method"],
            path=self._scope["path"],
            status=self.status,
            sent=self._sent,
            took_ms=round((time.perf_counter() - self._begun_at) * 1000, 1),
        )


def _put(headers: MutableHeaders, name: str, value: str) -> None:
    """Set a header; what an answer says of how long it may be kept, or varies by, stays."""
    if name == "Vary":
        headers.add_vary_header(value)
    elif name == "Cache-Control":
        headers.setdefault(name, value)
    else:
        headers[name] = value
