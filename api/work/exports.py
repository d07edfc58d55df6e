"""Running an exporter: what a plugin hands back is looked at before anybody gets it."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any, Final

from pydantic import ValidationError

from soleplate.engine.building_file import UnbuildableError, accepted
from soleplate.engine.layout import Layout
from soleplate.engine.registry import Registry
from soleplate.engine.rules import Exporter, ExportOptions

FILE: Final = re.compile(r"[a-z0-9][a-z0-9-]*(\.[a-z0-9]+)+")
"""A name that cannot leave its folder."""


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


def export(layout: Layout, registry: Registry, name: str, asked: Mapping[str, str] | None = None) -> Export:
    """The export of that name, in a file named after the building; `asked` are its options as texts.

    Raises:
        ValidationError: an option is not as it may be.
        UnbuildableError: no exporter has that name, or it has nothing to export.
        RuleError: the exporter failed, or returned something that is no file; names plugin and exporter.
    """
    for plugin, exporter in registry.exporters:
        if exporter.name == name:
            if (reason := exporter.lacking(layout)) is not None:
                raise UnbuildableError.at("", f"there is nothing to export: {reason}")
            file = f"{plain(layout.name)}-{name}{exporter.suffix}"
            options = exporter.options.model_validate_strings(dict(asked or {}))
            content = exported(registry, plugin, exporter, layout, options)
            return Export(file, content, exporter.media_type)
    known = ", ".join(exporter.name for _, exporter in registry.exporters) or "none"
    raise UnbuildableError.at("", f"no export is called {name[:60]!r}; installed are {known}")


def exported(
    registry: Registry, plugin: str, exporter: Exporter, layout: Layout, options: ExportOptions
) -> bytes:
    """The bytes of an exporter's file.

    Raises:
        RuleError: as above.
    """
    with registry.blamed(plugin, exporter.name):
        content: object = exporter.export_with(layout, options)
    if not isinstance(content, bytes):
        said = f"returned a {type(content).__name__} in place of bytes"
        raise registry.fault(plugin, exporter.name, said)
    return content


def options_for(exporter: Exporter, asked: Mapping[str, Any]) -> ExportOptions:
    """An exporter's options from those asked for by name; it takes those that it has.

    Raises:
        ValueError: one is not as it may be; the message says which and why.
    """
    known = {name: value for name, value in asked.items() if name in exporter.options.model_fields}
    try:
        return exporter.options.model_validate(known)
    except ValidationError as error:
        first = error.errors(include_url=False)[0]
        name = ".".join(map(str, first["loc"]))
        raise ValueError(f"{name}: {accepted(first).told('mm')}") from error


def export_files(
    registry: Registry, plugin: str, exporter: Exporter, layout: Layout, options: ExportOptions
) -> Mapping[str, bytes]:
    """An exporter's files for a folder, by name.

    Raises:
        RuleError: it failed, or returned what is no file; names plugin and exporter.
    """
    with registry.blamed(plugin, exporter.name):
        files: dict[Any, Any] = dict(exporter.files(layout, options))
    for name, content in files.items():
        said = ""
        if not isinstance(name, str) or not FILE.fullmatch(name):
            said = f"named a file {name!r}; accepted is like 'list-1.csv'"
        elif not isinstance(content, bytes):
            said = f"returned a {type(content).__name__} in place of bytes"
        if said:
            raise registry.fault(plugin, exporter.name, said)
    return files


def left_out(registry: Registry) -> Iterator[str]:
    """The files that cannot be made for want of something to install, in sentences."""
    reasons: dict[str, list[str]] = {}
    for _, exporter in registry.exporters:
        if (reason := exporter.wants()) is not None:
            reasons.setdefault(reason, []).append(f"{exporter.name}{exporter.suffix}")
    for reason, names in reasons.items():
        yield f"without {' and '.join(names)}: {reason}"


def plain(name: str) -> str:
    """A name as part of a file name: it can't leave the folder, whatever it is."""
    return re.sub(r"[^a-z0-9]+", "-", name.lower()).strip("-")[:60] or "unnamed"
