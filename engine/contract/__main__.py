"""Hold all that plugins in single files offer to the contract; exit 1 where something breaks it."""

from __future__ import annotations

import sys
from collections.abc import Iterator, Sequence
from pathlib import Path

from soleplate.engine.building_file import EngineError
from soleplate.engine.contract import Offer, breaches
from soleplate.engine.registry import Registry, load_registry

USAGE = "accepted are files of plugins: python -m soleplate.engine.contract FILE.py ..."


def offers_of(registry: Registry, plugin: str) -> Iterator[Offer]:
    """All that a plugin offers."""
    yield from (rule.model for rule in registry.rules if rule.plugin == plugin)
    yield from (type(layer) for name, layer in registry.drawing_layers if name == plugin)
    yield from (type(exporter) for name, exporter in registry.exporters if name == plugin)
    yield from (check.function for name, check in registry.checks if name == plugin)


def main(arguments: Sequence[str]) -> int:
    """Print what is kept and what is broken; the exit code."""
    files = [Path(argument) for argument in arguments]
    if not files:
        print(USAGE, file=sys.stderr)
        return 2
    try:
        registry = load_registry(files=files, patience_s=10.0)
    except EngineError as error:
        print(error, file=sys.stderr)
        return 2
    broken = 0
    for file in files:
        for offer in offers_of(registry, file.stem):
            found = breaches(offer)
            broken += len(found)
            print(f"{offer.__name__}: {'keeps the contract' if not found else 'breaks the contract'}")
            for breach in found:
                print(f"- {breach}")
    return 1 if broken else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
