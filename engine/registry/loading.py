"""Finding and loading plugins: entry points of the installed distributions, and single files.

The rules that ship with Soleplate come in by the same entry-point group as anybody's.
"""

from __future__ import annotations

import importlib
import importlib.metadata
import importlib.util
import sys
import warnings
from collections.abc import Collection, Mapping, Sequence
from contextlib import suppress
from dataclasses import replace
from pathlib import Path
from types import ModuleType
from typing import Final

import pluggy

from soleplate.engine.registry.blame import loading
from soleplate.engine.registry.deprecation import DEPRECATED, Deprecation, HookDeprecationWarning, notices
from soleplate.engine.registry.errors import (
    PluginClashError,
    PluginError,
    PluginLoadError,
    UnknownPluginError,
)
from soleplate.engine.registry.patience import PATIENCE, Patience
from soleplate.engine.registry.registry import Plugin, Registry, collect
from soleplate.engine.rules import hookspecs

GROUP: Final = "soleplate.plugins"
"""The entry-point group; an entry names a module or object with hook implementations."""

OWN: Final = "soleplate"
"""The distribution of the plugins that ship."""


def load_registry(
    *,
    files: Sequence[Path] = (),
    modules: Sequence[str] = (),
    only: Collection[str] | None = None,
    blocked: Collection[str] = (),
    keep_going: bool = False,
    patience: Patience | None = PATIENCE,
    deprecated: Mapping[str, Deprecation] = DEPRECATED,
) -> Registry:
    """Load plugins and collect what they offer.

    Args:
        files: single Python files to load as plugins, named by their stems; one of an installed plugin's
            own is that plugin.
        modules: importable modules to load as plugins, named as they are.
        only: load no other plugins than these.
        blocked: do not load these.
        keep_going: leave a broken plugin out and tell so in `Registry.plugins`, in place of stopping.
        patience: how long one call into a plugin may take, where it can be stopped: from the main thread, on
            a system with interval timers. `None` lets it take as long as it likes.
        deprecated: hooks on their way out; each plugin that implements one is named in a
            `HookDeprecationWarning` and in `Registry.plugins`.

    Raises:
        PluginError: a plugin is broken or clashes with another; it names the plugin and its version.
        Interrupted: the user stopped the program while a plugin was loaded.
    """
    broken: list[Plugin] = []
    _refuse_unknown(blocked, files)
    files = [path for path in files if installed_from(path) in (None, *blocked)]
    while True:
        refused = {*blocked, *(plugin.name for plugin in broken)}
        try:
            registry = _load(files, modules, only, refused, patience)
        except PluginError as error:
            distribution, error.version = _origin(error.plugin, files)
            if not keep_going or error.plugin in refused:
                raise
            broken.append(Plugin(error.plugin, distribution, error.version, problem=error.message))
            continue
        told = [
            replace(each, notices=tuple(notices(each.name, each.version, each.hooks, deprecated)))
            for each in registry.plugins
        ]
        for notice in (notice for plugin in told for notice in plugin.notices):
            warnings.warn(notice, HookDeprecationWarning, stacklevel=2)
        plugins = sorted((*told, *broken), key=lambda plugin: plugin.name)
        return replace(registry, plugins=tuple(plugins), patience=patience)


def _refuse_unknown(blocked: Collection[str], files: Sequence[Path]) -> None:
    """Refuse to block what is not there: most likely it is misspelt."""
    names = {entry.name for entry in importlib.metadata.entry_points(group=GROUP)}
    names |= {path.stem for path in files}
    for name in sorted(set(blocked) - names):
        raise UnknownPluginError(
            name, f"is not there to be left out; the plugins are {', '.join(sorted(names))}"
        )


def _load(
    files: Sequence[Path],
    modules: Sequence[str],
    only: Collection[str] | None,
    blocked: Collection[str],
    patience: Patience | None,
) -> Registry:
    manager = pluggy.PluginManager(hookspecs.PROJECT)
    manager.add_hookspecs(hookspecs)
    plugins: list[Plugin] = []
    for entry in sorted(importlib.metadata.entry_points(group=GROUP), key=_precedence):
        if entry.name in blocked or (only is not None and entry.name not in only):
            continue
        with loading(entry.name, patience):
            module = entry.load()
        plugins.append(_register(manager, entry.name, module, *_distribution(entry)))
    for name in modules:
        if name not in blocked:
            with loading(name, patience):
                module = importlib.import_module(name)
            plugins.append(_register(manager, name, module, *_origin(name, files)))
    for path in files:
        if path.stem not in blocked:
            with loading(path.stem, patience):
                module = _import_file(path)
            plugins.append(_register(manager, path.stem, module, *_origin(path.stem, files)))
    try:
        manager.check_pending()
    except pluggy.PluginValidationError as error:
        name = manager.get_name(error.plugin) or "?"
        raise PluginLoadError(name, f"implements a hook that does not exist: {error}") from error
    return collect(manager, plugins, patience)


def installed_from(path: Path) -> str | None:
    """The installed plugin that a file belongs to: its module, or one in its package."""
    file = path.resolve()
    for entry in sorted(importlib.metadata.entry_points(group=GROUP), key=_precedence):
        # The package around a plugin may be broken, in any way; loading it tells that.
        with suppress(Exception):
            spec = importlib.util.find_spec(entry.module)
            places = [*(spec.submodule_search_locations or ()), spec.origin or ""] if spec else []
            if any(file.is_relative_to(Path(place).resolve()) for place in places if place):
                return entry.name
    return None


def _precedence(entry: importlib.metadata.EntryPoint) -> tuple[bool, str]:
    """What ships comes first, so that a name it has is never taken from it."""
    return (entry.dist is None or entry.dist.name != OWN, entry.name)


def _register(
    manager: pluggy.PluginManager, name: str, module: object, distribution: str, version: str
) -> Plugin:
    if manager.has_plugin(name):
        raise PluginClashError(name, "another plugin has this name; rename the file or the entry point")
    try:
        manager.register(module, name)
    except (pluggy.PluginValidationError, ValueError) as error:
        raise PluginLoadError(name, str(error)) from error
    hooks = sorted(caller.name for caller in manager.get_hookcallers(module) or ())
    if not hooks:
        raise PluginLoadError(name, "implements no hook; mark one with @hookimpl")
    return Plugin(name, distribution, version, tuple(hooks))


def _import_file(path: Path) -> ModuleType:
    """Import a single file under a name of its own, so that it can't shadow an installed module."""
    name = f"soleplate_plugin_{path.stem}"
    spec = importlib.util.spec_from_file_location(name, path)
    if spec is None or spec.loader is None or not path.is_file():
        raise PluginLoadError(path.stem, f"{path} is not a Python file that can be read")
    module = importlib.util.module_from_spec(spec)
    sys.modules[name] = module  # pydantic looks types up by module while classes are made
    try:
        spec.loader.exec_module(module)
    except BaseException:
        del sys.modules[name]
        raise
    return module


def _origin(name: str, files: Sequence[Path]) -> tuple[str, str]:
    """Distribution and version of a plugin; of a single file its name, and no version."""
    for entry in importlib.metadata.entry_points(group=GROUP):
        if entry.name == name and entry.dist is not None:
            return _distribution(entry)
    return next((path.name for path in files if path.stem == name), ""), ""


def _distribution(entry: importlib.metadata.EntryPoint) -> tuple[str, str]:
    """Where an entry point is from, with its version."""
    return (entry.dist.name, entry.dist.version) if entry.dist is not None else ("", "")
