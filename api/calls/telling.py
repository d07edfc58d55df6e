"""The calls that only tell: the page and its files, what is installed, what problems mean."""

from __future__ import annotations

import importlib.resources
import inspect
import json
import mimetypes
from collections.abc import Mapping
from importlib.metadata import version
from typing import Final

from pydantic import BaseModel
from starlette.exceptions import HTTPException
from starlette.requests import Request
from starlette.responses import Response

from soleplate.api.calls.plain_pages import problem_page
from soleplate.api.http import HTML, PROBLEMS, Fixed
from soleplate.api.work import HealthOut, PluginOut, PluginsOut, RuleOut, RulesOut
from soleplate.engine.registry import Registry

WHOLE_SITE: Final = {"offline.js": {"Service-Worker-Allowed": "/"}}
"""A service worker serves the folder that it lies in, unless its answer allows it more."""


def static_files(package: str = "soleplate.viewer") -> dict[str, bytes]:
    """The files of the page, or those of `soleplate.api` for the pages about it, by name."""
    folder = importlib.resources.files(package) / "static"
    names = [entry.name for entry in folder.iterdir() if entry.is_file() and not entry.name.endswith(".py")]
    return {name: (folder / name).read_bytes() for name in sorted(names)}


class Calls:
    """What can be read of a server with one set of installed rules; `page` is shown at `/`.

    None of it changes while the server runs, so all of it is made once.
    """

    def __init__(self, registry: Registry, page: str) -> None:
        self.registry: Final = registry
        self.files: Final = {
            name: Fixed(
                content, mimetypes.guess_type(name)[0] or "application/octet-stream", WHOLE_SITE.get(name, {})
            )
            for name, content in {**static_files(), **static_files("soleplate.api")}.items()
        }
        self._page: Final = Fixed(page.encode(), HTML)
        # Members stand in the order in which their models have them, which a form keeps.
        schema = json.dumps(registry.building_schema())
        self._schema: Final = Fixed(schema.encode(), "application/schema+json")
        self._problems: Final = {
            name: Fixed(problem_page(problem).encode(), HTML) for name, problem in PROBLEMS.items()
        }
        self._rules: Final = _fixed(rules_out(registry))
        self._plugins: Final = _fixed(plugins_out(registry))
        self._health: Final = health_out(registry).model_dump_json(exclude_none=True).encode()

    def first_page(self, request: Request) -> Response:
        """The page of the building that the server was started with, or the start."""
        return self._page.answer(request)

    async def schema(self, request: Request) -> Response:
        """The building file's JSON Schema."""
        return self._schema.answer(request)

    async def static_file(self, request: Request) -> Response:
        """A file of the page."""
        return _named(self.files, request.path_params["file"]).answer(request)

    async def problem(self, request: Request) -> Response:
        """What a type of problem means."""
        return _named(self._problems, request.path_params["name"]).answer(request)

    async def health(self, request: Request) -> Response:
        """That the server is up."""
        return Response(self._health, media_type="application/json", headers={"Cache-Control": "no-store"})

    async def rules(self, request: Request) -> Response:
        """The installed rules."""
        return self._rules.answer(request)

    async def plugins(self, request: Request) -> Response:
        """The plugins that were found."""
        return self._plugins.answer(request)


def _fixed(answer: BaseModel) -> Fixed:
    return Fixed(answer.model_dump_json(exclude_none=True).encode(), "application/json")


def _named(kept: Mapping[str, Fixed], name: str) -> Fixed:
    if name not in kept:
        raise HTTPException(404)
    return kept[name]


def health_out(registry: Registry) -> HealthOut:
    """That the server is up, and what it runs with and without."""
    return HealthOut(
        status="up",
        version=version("soleplate"),
        plugins=tuple(plugin.name for plugin in registry.plugins if plugin.problem is None),
        left_out=tuple(plugin.name for plugin in registry.plugins if plugin.problem is not None),
    )


def rules_out(registry: Registry) -> RulesOut:
    """Every installed rule."""
    return RulesOut(
        rules=tuple(
            RuleOut(
                family=rule.family,
                rule=rule.name,
                plugin=rule.plugin,
                description=inspect.cleandoc(rule.model.__doc__ or ""),
                schema_=registry.narrowed(rule.model).model_json_schema(),
                examples=tuple(dict(example) for example in rule.model.examples),
            )
            for rule in registry.rules
        )
    )


def plugins_out(registry: Registry) -> PluginsOut:
    """Every plugin that was found."""
    return PluginsOut(
        plugins=tuple(
            PluginOut(
                name=plugin.name,
                distribution=plugin.distribution,
                version=plugin.version,
                hooks=plugin.hooks,
                rules=tuple(rule.name for rule in registry.rules if rule.plugin == plugin.name),
                problem=plugin.problem,
                notices=plugin.notices,
            )
            for plugin in registry.plugins
        )
    )
