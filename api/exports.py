"""Running an exporter: what a plugin hands back is looked at before anybody gets it."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Final

from soleplate.engine.errors import RuleError, UnbuildableError
from soleplate.engine.extensions import Exporter
from soleplate.engine.layout import Layout
from soleplate.engine.registry import Registry

MEDIA_TYPE: Final = re.compile(r"[a-z]+/[A-Za-z0-9.+-]+(; ?charset=[a-z0-9-]+)?")
SUFFIX: Final = re.compile(r"(\.[a-z0-9]{1,10}){1,2}")


@dataclass(frozen=True, slots=True)
class Export:
    """A file made from a layout."""

    name: str
    """The file's; it holds letters, digits, hyphens and dots alone."""
    content: bytes
    media_type: str

    @property
    def headers(self) -> Mapping[str, str]:
        """By which a browser saves it under its name."""
        return {"Content-Disposition": f'attachment; filename="{self.name}"'}


def export(layout: Layout, registry: Registry, name: str) -> Export:
    """The export of that name, in a file named after the building.

    Raises:
        UnbuildableError: no exporter has that name.
        RuleError: the exporter failed, or returned something that is no file; names plugin and exporter.
    """
    for plugin, exporter in registry.exporters:
        if exporter.name == name:
            file = f"{plain(layout.name)}-{name}{_suffix(plugin, exporter)}"
            return Export(file, exported(registry, plugin, exporter, layout), _media_type(plugin, exporter))
    known = ", ".join(exporter.name for _, exporter in registry.exporters) or "none"
    raise UnbuildableError.at("", f"no export is called {name[:60]!r}; installed are {known}")


def export_types(registry: Registry) -> dict[str, str]:
    """The media type of every export, by its name.

    Raises:
        RuleError: an exporter's media type or suffix is none.
    """
    for plugin, exporter in registry.exporters:
        _suffix(plugin, exporter)
    return {exporter.name: _media_type(plugin, exporter) for plugin, exporter in registry.exporters}


def exported(registry: Registry, plugin: str, exporter: Exporter, layout: Layout) -> bytes:
    """The bytes of an exporter's file.

    Raises:
        RuleError: as above.
    """
    with registry.blamed(plugin, exporter.name):
        content: object = exporter.export(layout)
    if not isinstance(content, bytes):
        said = f"returned a {type(content).__name__} in place of bytes"
        raise registry.fault(plugin, exporter.name, said)
    return content


def plain(name: str) -> str:
    """A name as part of a file name: it can't leave the folder, whatever it is."""
    return re.sub(r"[^a-z0-9]+", "-", name.lower()).strip("-")[:60] or "unnamed"


def _suffix(plugin: str, exporter: Exporter) -> str:
    if not SUFFIX.fullmatch(exporter.suffix):
        raise RuleError(plugin, exporter.name, f"its suffix is {exporter.suffix!r}; accepted is like '.csv'")
    return exporter.suffix


def _media_type(plugin: str, exporter: Exporter) -> str:
    if not MEDIA_TYPE.fullmatch(exporter.media_type):
        raise RuleError(
            plugin, exporter.name, f"its media type is {exporter.media_type!r}; accepted is like 'text/csv'"
        )
    return exporter.media_type
