"""Who may call: by the server's name, the calling site, and the bearer token."""

from __future__ import annotations

import hmac
import ipaddress
import re
from dataclasses import dataclass
from functools import lru_cache
from typing import Final
from urllib.parse import urlsplit

from starlette.datastructures import Headers

from soleplate.api.http import NoToken, OtherSite, WrongHost

TOKEN_VARIABLE: Final = "SOLEPLATE_TOKEN"  # noqa: S105 - the variable's name, not its value
"""The environment variable that holds the bearer token."""

HEALTH: Final = "/health"
"""May be asked without a token, by what watches over the server."""

PRIVATE: Final = ("/v1/designs", "/v1/archive")
"""What lists the ids of designs is not for everybody: who knows one may read that design."""

SAFE_METHODS: Final = frozenset({"GET", "HEAD", "OPTIONS"})

_ORIGIN: Final = re.compile(r"https?://(\[[0-9a-f:.]+\]|[a-z0-9.-]+)(:[0-9]{1,5})?")
_URL: Final = re.compile(_ORIGIN.pattern + r"(/[A-Za-z0-9._~-]+)*/?")
_HOST: Final = re.compile(r"(\[[0-9a-f:.]+\]|[^:\[\]]+)(:[0-9]{1,5})?")


@dataclass(frozen=True, slots=True)
class Access:
    """Where the server listens, and who may call it.

    Raises:
        ValueError: it would listen to other machines without a token, or a site is none.
    """

    host: str = "127.0.0.1"
    token: str | None = None
    """Without it nobody may send anything, or with `token_for_reading` read anything, from other machines."""
    token_for_reading: bool = False
    origins: frozenset[str] = frozenset()
    """Sites whose pages may call, as `https://plans.example`."""
    public_url: str | None = None
    """The address at which others find the server, where a proxy stands before it."""

    def __post_init__(self) -> None:
        for origin in sorted(self.origins):
            if not _ORIGIN.fullmatch(origin):
                raise ValueError(
                    f"{origin!r} is no site; accepted is scheme and host, and a port where it is needed,"
                    " such as https://plans.example"
                )
        if self.public_url is not None and not _URL.fullmatch(self.public_url):
            raise ValueError(
                f"{self.public_url!r} is no public URL; accepted is scheme and host, and a port and a path"
                " where they are needed, such as https://plans.example/soleplate"
            )
        if self.token_for_reading and not self.token:
            raise ValueError(f"a token for reading must be in the environment variable {TOKEN_VARIABLE}")
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

    def base(self, scheme: str, host: str) -> str:
        """What the server's addresses begin with, by the scheme and `Host` of a call; empty for another's."""
        if self.public_url is not None:
            return self.public_url.rstrip("/")
        return f"{scheme}://{host}" if self._is_ours(host) else ""

    def require(self, method: str, path: str, headers: Headers) -> None:
        """Let a call pass.

        Raises:
            WrongHost: its Host header names another server, as after DNS rebinding.
            OtherSite: a page of another site would send something.
            NoToken: it needs the token, and its token is not ours.
        """
        host = headers.get("host", "")
        if not self._is_ours(host):
            raise WrongHost(f"this server is not {host[:100]!r}; use the address that it printed")
        if method not in SAFE_METHODS and not self._is_from_here(headers.get("origin"), host):
            raise OtherSite("a page of another site made this call; such calls are not taken")
        if not self._needs_token(method, path):
            return
        scheme, _, token = headers.get("authorization", "").partition(" ")
        given, own = token.strip().encode(), (self.token or "").encode()
        if scheme.lower() != "bearer" or not hmac.compare_digest(given, own):
            raise NoToken(
                "this call needs the server's bearer token", {"WWW-Authenticate": 'Bearer realm="soleplate"'}
            )

    def _needs_token(self, method: str, path: str) -> bool:
        if self.token_for_reading:
            return path != HEALTH
        return not self.is_loopback and (method not in SAFE_METHODS or path in PRIVATE)

    def _is_from_here(self, origin: str | None, host: str) -> bool:
        """Whether no page calls, or one of this server or of a site that may."""
        if origin is None or origin in self.origins:
            return True
        _, _, place = origin.partition("://")
        return place.lower() == host.lower()

    def _is_ours(self, header: str) -> bool:
        match = _HOST.fullmatch(header.lower())
        if match is None:
            return False
        name = match[1].strip("[]")
        address = _address(name)
        if address is None:
            return name in ("localhost", self.host.lower(), urlsplit(self.public_url or "").hostname)
        # Rebinding needs a name: an address in the Host header was typed by whoever calls.
        return address.is_loopback or not self.is_loopback


@lru_cache(maxsize=256)  # The same few names come with every call.
def _address(host: str) -> ipaddress.IPv4Address | ipaddress.IPv6Address | None:
    try:
        return ipaddress.ip_address(host)
    except ValueError:
        return None
