"""Hold all that plugins offer to the contract; exit 1 where something breaks it."""

from __future__ import annotations

import argparse
import importlib.metadata
import inspect
import os
import sys
from collections.abc import Iterator, Sequence
from contextlib import redirect_stdout
from pathlib import Path
from typing import NoReturn, TextIO

from soleplate.engine.building_file import EngineError
from soleplate.engine.contract import CASES, SECONDS, Offer, breaches
from soleplate.engine.contract.members import members_told
from soleplate.engine.registry import GROUP, Patience, PluginError, Registry, installed_from, load_registry
from soleplate.engine.rules import Rule


def at_last(error: PluginError) -> NoReturn:
    """Say what a plugin did that cannot be stopped, and end the process."""
    print(error, file=sys.stderr, flush=True)
    os._exit(2)


def offers_of(registry: Registry, plugin: str) -> Iterator[Offer]:
    """All that a plugin offers."""
    yield from (rule.model for rule in registry.rules if rule.plugin == plugin)
    yield from (type(layer) for name, layer in registry.drawing_layers if name == plugin)
    yield from (type(exporter) for name, exporter in registry.exporters if name == plugin)
    yield from (check.function for name, check in registry.checks if name == plugin)


def main(arguments: Sequence[str]) -> int:
    """Print what is kept and what is broken; the exit code. What a plugin prints goes to stderr."""
    asked = _parser().parse_args(arguments)
    report = sys.stdout
    with redirect_stdout(sys.stderr):
        return _reported(asked, report)


def _reported(asked: argparse.Namespace, report: TextIO) -> int:
    installed = {entry.name: entry.name for entry in importlib.metadata.entry_points(group=GROUP)}
    installed |= {entry.module: entry.name for entry in importlib.metadata.entry_points(group=GROUP)}
    files, modules, plugins = [], [], []
    for told in dict.fromkeys(asked.plugin):
        path = Path(told)
        if told in installed:
            plugins.append(installed[told])
        elif path.suffix == ".py":
            files.append(path)
            plugins.append(installed_from(path) or path.stem)
        else:
            modules.append(told)
            plugins.append(told)
    try:
        registry = load_registry(
            files=files, modules=modules, blocked=asked.without, patience=Patience(at_last=at_last)
        )
    except EngineError as error:
        print(error, file=sys.stderr)
        return 2
    for plugin in (plugin for plugin in plugins if not any(offers_of(registry, plugin))):
        why = "is left out" if plugin in asked.without else "has no rule, layer, exporter or check"
        print(f"plugin {plugin}: {why}: there is nothing to try", file=sys.stderr)
        return 2
    broken = 0
    roles = registry.roles.values()
    for offer in (offer for plugin in dict.fromkeys(plugins) for offer in offers_of(registry, plugin)):
        found = breaches(
            offer,
            seconds=asked.seconds,
            cases=asked.cases,
            roles=roles,
            without=asked.without,
            at_last=at_last,
        )
        broken += len(found)
        kept = "keeps the contract" if not found else "breaks the contract"
        print(f"{offer.__name__}: {kept}", file=report)
        for breach in found:
            print(f"- {breach}", file=report)
        if asked.members and inspect.isclass(offer) and issubclass(offer, Rule):
            for line in members_told(offer):
                print(f"  {line}", file=report)
    return 1 if broken else 0


def _parser() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(
        prog="python -m soleplate.engine.contract",
        description="Run all that plugins offer on generated buildings, and say what breaks the contract.",
        epilog="Exits 1 where something breaks it, and 2 where a plugin cannot be loaded or tried.",
    )
    parser.add_argument(
        "plugin", nargs="+", metavar="PLUGIN", help="a file (even_bays.py), a module, or an installed plugin"
    )
    parser.add_argument(
        "--without", action="append", default=[], metavar="NAME", help="leave a plugin out; repeatable"
    )
    parser.add_argument(
        "--members", action="store_true", help="tell each rule's members: limits, defaults, values tried"
    )
    parser.add_argument(
        "--seconds",
        type=float,
        default=SECONDS,
        help="of the processor's that one call may take (%(default)s)",
    )
    parser.add_argument(
        "--cases", type=int, default=CASES, help="pairs of parameters and a building for a rule (%(default)s)"
    )
    return parser


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
