"""The command line: lay out, check, list the rules, print the schema."""

from __future__ import annotations

import json
import os
import sys
from collections.abc import Callable
from pathlib import Path
from typing import Annotated, TypeVar

import typer

from soleplate.engine.building import Building
from soleplate.engine.errors import BuildingError, EngineError
from soleplate.engine.lay_out import lay_out, layout_json
from soleplate.engine.layout import Layout
from soleplate.engine.plugin_loading import load_registry
from soleplate.engine.reading import read_json_file
from soleplate.engine.registry import Registry

app = typer.Typer(add_completion=False, no_args_is_help=True, pretty_exceptions_enable=False)

File = Annotated[Path, typer.Argument(metavar="BUILDING.json", help="The building file.")]
Plugins = Annotated[
    list[Path] | None, typer.Option("--plugin", metavar="FILE.py", help="A plugin in one file; repeatable.")
]
Without = Annotated[
    list[str] | None, typer.Option("--without", metavar="NAME", help="Leave a plugin out; repeatable.")
]
Answer = TypeVar("Answer")


def _or_exit(work: Callable[[], Answer], file: Path | None = None) -> Answer:
    """The result of `work`; what is wrong goes to stderr, with the file and the place in it, and exits 2."""
    try:
        return work()
    except BuildingError as error:
        for fault in error.faults:
            typer.echo(f"{file}: {fault}" if file else str(fault), err=True)
    except EngineError as error:
        typer.echo(str(error), err=True)
    raise typer.Exit(2)


def _registry(plugins: list[Path] | None, without: list[str] | None) -> Registry:
    return _or_exit(lambda: load_registry(files=plugins or (), blocked=without or ()))


def _laid_out(file: Path, registry: Registry) -> tuple[Building, Layout]:
    def work() -> tuple[Building, Layout]:
        building = registry.read_building(read_json_file(file))
        return building, lay_out(building, registry)

    return _or_exit(work, file)


@app.command()
def layout(file: File, plugin: Plugins = None, without: Without = None) -> None:
    """Print the layout of a building as JSON."""
    _, result = _laid_out(file, _registry(plugin, without))
    sys.stdout.write(layout_json(result).decode())


@app.command()
def check(file: File, plugin: Plugins = None, without: Without = None) -> None:
    """Print the findings of a building; exit 1 where one says stop."""
    _, result = _laid_out(file, _registry(plugin, without))
    for finding in result.findings:
        place = f" {finding.wall}:" if finding.wall else ""
        typer.echo(f"{finding.level}:{place} {finding.message} [{finding.code}; {finding.basis}]")
    for caution in result.cautions:
        typer.echo(f"caution: {caution}")
    if any(finding.level == "stop" for finding in result.findings):
        raise typer.Exit(1)


@app.command()
def rules(plugin: Plugins = None, without: Without = None) -> None:
    """List the installed rules, with their family and plugin."""
    for rule in _registry(plugin, without).rules:
        summary = (rule.model.__doc__ or "").strip().splitlines()[0]
        typer.echo(f"{rule.family:<16} {rule.name:<14} {rule.plugin:<12} {summary}")


@app.command()
def schema(plugin: Plugins = None, without: Without = None) -> None:
    """Print the JSON Schema of the building file."""
    typer.echo(json.dumps(_registry(plugin, without).building_schema(), indent=2, sort_keys=True))


def main() -> None:
    """Run the command line; a reader that goes away early is no fault."""
    try:
        app()
    except BrokenPipeError:
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        sys.exit(2)
