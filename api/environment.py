"""The web application for a server of one's own choice, set up by environment variables.

For example `uvicorn --factory soleplate.api.environment:app`. What can be set, all of it optional:

    SOLEPLATE_TOKEN              the bearer token; needed off loopback
    SOLEPLATE_HOST               the name or address by which others reach the server; loopback unless given
    SOLEPLATE_TOKEN_FOR_READING  1 asks for the token in every call
    SOLEPLATE_ALLOW_ORIGIN       sites whose pages may call, with spaces between
    SOLEPLATE_PUBLIC_URL         the address at which others find the server, where a proxy stands before it
    SOLEPLATE_PLUGINS            plugins in one file each, separated as in PATH
    SOLEPLATE_WITHOUT            plugins to leave out, with spaces between
    SOLEPLATE_WITHOUT_BROKEN     1 leaves broken plugins out
    SOLEPLATE_WORKERS            buildings and plans worked on at a time, of each process; one a processor
    SOLEPLATE_DESIGNS            where designs are kept: a file, or postgresql://USER@HOST/DATABASE
    SOLEPLATE_LOG                off, text or json: a line on stderr for each call
"""

from __future__ import annotations

import os
from collections.abc import Mapping
from pathlib import Path

from starlette.applications import Starlette

from soleplate.api.app import create_app
from soleplate.api.guard import TOKEN_VARIABLE, Access, Form, access_log
from soleplate.api.store import VARIABLE, place_of
from soleplate.api.work import PluginChoice, Workshop

FORMS: Mapping[str, Form] = {"off": "off", "text": "text", "json": "json"}


def app(variables: Mapping[str, str] | None = None) -> Starlette:
    """The application that the variables describe; those of the process unless given.

    Raises:
        ValueError: one of them cannot be so.
        PluginError: a plugin is broken or clashes with another.
    """
    set_ = os.environ if variables is None else variables
    chosen = PluginChoice(
        files=tuple(Path(file) for file in set_.get("SOLEPLATE_PLUGINS", "").split(os.pathsep) if file),
        blocked=tuple(set_.get("SOLEPLATE_WITHOUT", "").split()),
        keep_going=_is_on(set_, "SOLEPLATE_WITHOUT_BROKEN"),
    )
    access = Access(
        set_.get("SOLEPLATE_HOST", "127.0.0.1"),
        set_.get(TOKEN_VARIABLE),
        _is_on(set_, "SOLEPLATE_TOKEN_FOR_READING"),
        frozenset(set_.get("SOLEPLATE_ALLOW_ORIGIN", "").split()),
        set_.get("SOLEPLATE_PUBLIC_URL") or None,
    )
    return create_app(
        chosen.load(),
        access=access,
        workshop=Workshop.in_processes(chosen, _workers(set_.get("SOLEPLATE_WORKERS", ""))),
        designs=place_of(set_.get(VARIABLE)),
        log=access_log(_form(set_.get("SOLEPLATE_LOG", "off"))),
    )


def _is_on(variables: Mapping[str, str], name: str) -> bool:
    value = variables.get(name, "")
    if value not in ("", "0", "1"):
        raise ValueError(f"{name} is {value!r}; accepted is 0 or 1")
    return value == "1"


def _workers(value: str) -> int | None:
    if value and not (value.isdecimal() and 1 <= int(value) <= 64):
        raise ValueError(f"SOLEPLATE_WORKERS is {value!r}; accepted is 1 to 64")
    return int(value) if value else None


def _form(value: str) -> Form:
    if value not in FORMS:
        raise ValueError(f"SOLEPLATE_LOG is {value!r}; accepted is {', '.join(FORMS)}")
    return FORMS[value]
