"""Hold all that plugins offer to the contract; exit 1 where they break it, 2 where none can be tried."""

from __future__ import annotations

import argparse
import importlib.metadata
import importlib.util
import sys
from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import Any, Final

from soleplate.engine.building_file import EngineError
from soleplate.engine.contract import Offer, breaches
from soleplate.engine.registry import GROUP, Registry, UnknownPluginError, load_registry
from soleplate.engine.rules import Rule

PATIENCE_S: Final = 10.0
"""Seconds that loading a plugin may take."""


def offers_of(registry: Registry, plugin: str) -> Iterator[Offer]:
    """All that a plugin offers."""
    yield from (rule.model for rule in registry.rules if rule.plugin == plugin)
    yield from (type(layer) for name, layer in registry.drawing_layers if name == plugin)
    yield from (type(exporter) for name, exporter in registry.exporters if name == plugin)
    yield from (check.function for name, check in registry.checks if name == plugin)


def installed(target: str) -> str | None:
    """The name of the installed plugin that a module name or a file stands for, if it does."""
    for entry in importlib.metadata.entry_points(group=GROUP):
        if target in (entry.name, entry.module):
            return entry.name
        if target.endswith(".py") and Path(target).is_file():
            found = importlib.util.find_spec(entry.module)
            if found is not None and found.origin and Path(found.origin).samefile(target):
                return entry.name
    return None


def plugins_of(targets: Sequence[str]) -> tuple[list[str], list[Path]]:
    """The plugins to try, by name, and the files to load for that.

    Raises:
        UnknownPluginError: one is neither a file nor an installed plugin.
    """
    names: list[str] = []
    files: list[Path] = []
    for target in targets:
        name = installed(target)
        if name is None and not target.endswith(".py"):
            raise UnknownPluginError(target, "is neither a file of a plugin nor an installed one")
        if name is None:
            files.append(Path(target))
            name = files[-1].stem
        names.append(name)
    return names, files


def members(model: type[Rule]) -> Iterator[str]:
    """What each member of a rule may be, and what it is without."""
    for name, field in model.model_json_schema(by_alias=True).get("properties", {}).items():
        if name != "rule":
            without = f"; else {field['default']}" if field.get("default") is not None else ""
            yield f"  {name}: {_limits(field)}{without}"


def _limits(field: dict[str, Any]) -> str:
    if "x-least-mm" in field:
        return f"{field['x-least-mm']:g} to {field['x-most-mm']:g} mm"
    several = [_limits(each) for key in ("anyOf", "oneOf") for each in field.get(key, ())]
    if several:
        return " or ".join(dict.fromkeys(each for each in several if each != "null"))
    if "enum" in field or "const" in field:
        return " or ".join(map(str, field.get("enum", [field.get("const")])))
    least = field.get("minimum", field.get("exclusiveMinimum"))
    most = field.get("maximum", field.get("exclusiveMaximum"))
    kind = str(field.get("type", "a model of its own"))
    return f"{kind} {least:g} to {most:g}" if least is not None and most is not None else kind


def parser() -> argparse.ArgumentParser:
    """What can be asked on the command line."""
    made = argparse.ArgumentParser(prog="python -m soleplate.engine.contract", description=__doc__)
    made.add_argument("plugin", nargs="+", help="a plugin in one file, or an installed one by name or module")
    made.add_argument("--without", action="append", default=[], metavar="NAME", help="leave a plugin out")
    made.add_argument("--members", action="store_true", help="list members with their limits and defaults")
    return made


def main(arguments: Sequence[str]) -> int:
    """Print what is kept and what is broken; the exit code."""
    asked = parser().parse_args(arguments)
    try:
        names, files = plugins_of(asked.plugin)
        registry = load_registry(files=files, blocked=asked.without, patience_s=PATIENCE_S)
    except EngineError as error:
        print(error, file=sys.stderr)
        return 2
    broken = 0
    for offer in (offer for name in names for offer in offers_of(registry, name)):
        found = breaches(offer, roles=registry.roles.values())
        broken += len(found)
        print(f"{offer.__name__}: {'keeps the contract' if not found else 'breaks the contract'}")
        if asked.members and isinstance(offer, type) and issubclass(offer, Rule):
            print("\n".join(members(offer)))
        for breach in found:
            print(f"- {breach}")
    return 1 if broken else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
