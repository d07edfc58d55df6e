"""Who may call, and what every answer carries so that a browser keeps to it."""

from __future__ import annotations

import hmac
import ipaddress
import re
from dataclasses import dataclass
from typing import Final

from starlette.datastructures import Headers, MutableHeaders
from starlette.requests import ClientDisconnect
from starlette.types import ASGIApp, Message, Receive, Scope, Send

from soleplate.api.problems import NoToken, WrongHost, answer_to

TOKEN_VARIABLE: Final = "SOLEPLATE_TOKEN"  # noqa: S105 - the variable's name, not its value
"""The environment variable that holds the bearer token."""

SAFE_METHODS: Final = frozenset({"GET", "HEAD", "OPTIONS"})

HEADERS: Final = {
    "Content-Security-Policy": "default-src 'none'; style-src 'self'; script-src 'self';"
    " img-src 'self' data:; connect-src 'self'; frame-ancestors 'none'; base-uri 'none'; form-action 'self'",
    "X-Content-Type-Options": "nosniff",
    "Referrer-Policy": "no-referrer",
    "Cross-Origin-Resource-Policy": "same-origin",
    "Cache-Control": "no-cache",
}
"""On every answer."""

_HOST: Final = re.compile(r"(\[[0-9a-f:.]+\]|[^:\[\]]+)(:[0-9]{1,5})?")


@dataclass(frozen=True, slots=True)
class Access:
    """Where the server listens, and the token without which nobody may send it anything from elsewhere.

    Raises:
        ValueError: it would listen to other machines without a token.
    """

    host: str = "127.0.0.1"
    token: str | None = None

    def __post_init__(self) -> None:
        if not self.is_loopback and not self.token:
            raise ValueError(
                f"{self.host} can be reached from other machines; accepted is a loopback address such as"
                f" 127.0.0.1, or a token in the environment variable {TOKEN_VARIABLE}"
            )

    @property
    def is_loopback(self) -> bool:
        """Whether only this machine can reach it."""
        address = _address(self.host)
        return self.host == "localhost" if address is None else address.is_loopback

    def require(self, method: str, headers: Headers) -> None:
        """Let a call pass.

        Raises:
            WrongHost: its Host header names another server, as after DNS rebinding.
            NoToken: off loopback it would send something, and its token is not ours.
        """
        host = headers.get("host", "")
        if not self._is_ours(host):
            raise WrongHost(f"this server is not {host[:100]!r}; use the address that it printed")
        if self.is_loopback or method in SAFE_METHODS:
            return
        scheme, _, token = headers.get("authorization", "").partition(" ")
        given, own = token.strip().encode(), (self.token or "").encode()
        if scheme.lower() != "bearer" or not hmac.compare_digest(given, own):
            raise NoToken(
                "from other machines this call needs the server's bearer token",
                {"WWW-Authenticate": 'Bearer realm="soleplate"'},
            )

    def _is_ours(self, header: str) -> bool:
        match = _HOST.fullmatch(header.lower())
        if match is None:
            return False
        name = match[1].strip("[]")
        address = _address(name)
        if address is None:
            return name in ("localhost", self.host.lower())
        # Rebinding needs a name: an address in the Host header was typed by whoever calls.
        return address.is_loopback or not self.is_loopback


def _address(host: str) -> ipaddress.IPv4Address | ipaddress.IPv6Address | None:
    try:
        return ipaddress.ip_address(host)
    except ValueError:
        return None


class Guard:
    """The outermost layer: asks `Access`, answers what was raised, and puts `HEADERS` on every answer."""

    def __init__(self, app: ASGIApp, access: Access) -> None:
        self._app = app
        self._access = access

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Guard an HTTP call; nothing else is let through but the server's own start and stop."""
        if scope["type"] != "http":
            await self._app(scope, receive, send)
            return
        begun = False

        async def send_guarded(message: Message) -> None:
            nonlocal begun
            if message["type"] == "http.response.start":
                begun = True
                MutableHeaders(scope=message).update(HEADERS)
            await send(message)

        try:
            self._access.require(scope["method"], Headers(scope=scope))
            await self._app(scope, receive, send_guarded)
        except ClientDisconnect:
            return
        except Exception as error:
            if begun:
                raise
            await answer_to(error)(scope, receive, send_guarded)
