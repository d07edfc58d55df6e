"""The command line. What is wrong goes to stderr with its place, and exits 2; never a traceback."""

from __future__ import annotations

import os
from contextlib import nullcontext
from enum import Enum
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Final, NoReturn

import typer

from soleplate.api.limits import GRACE_S
from soleplate.api.terminal import (
    Designs,
    about,
    at_last,
    data,
    designs_app,
    fail,
    opened_place,
    reason,
    run,
    say,
    told,
    working,
)

if TYPE_CHECKING:
    from soleplate.engine.building_file import Building
    from soleplate.engine.layout import Layout
    from soleplate.engine.registry import Registry

# The engine, the viewer and the server are imported where they are used: `--help` needs none of them.

app: Final = typer.Typer(
    add_completion=False, no_args_is_help=True, pretty_exceptions_enable=False, rich_markup_mode=None
)
app.add_typer(designs_app, name="designs")

PORT: Final = 8017

File = Annotated[Path, typer.Argument(metavar="BUILDING.json", help="The building file.")]
Plugins = Annotated[
    list[Path] | None, typer.Option("--plugin", metavar="FILE.py", help="A plugin in one file; repeatable.")
]
Without = Annotated[
    list[str] | None, typer.Option("--without", metavar="NAME", help="Leave a plugin out; repeatable.")
]
Keep = Annotated[
    bool, typer.Option("--without-broken", help="Leave broken plugins out, and say so, in place of stopping.")
]


class LogForm(Enum):
    """How calls are logged."""

    OFF = "off"
    TEXT = "text"
    JSON = "json"


def _print_version(asked: bool) -> None:
    if asked:
        from importlib.metadata import version

        say(f"soleplate {version('soleplate')}")
        raise typer.Exit


@app.callback()
def soleplate(
    version: Annotated[
        bool,
        typer.Option("--version", callback=_print_version, is_eager=True, help="Print the version."),
    ] = False,
) -> None:
    """Set out small timber-framed buildings: every piece, mark, cut and list from one building file."""


@app.command()
@told()
def serve(
    building: Annotated[
        Path | None, typer.Argument(metavar="[BUILDING.json]", help="The building that the page shows.")
    ] = None,
    host: Annotated[
        str, typer.Option(help="Where to listen; off loopback SOLEPLATE_TOKEN must be set.")
    ] = "127.0.0.1",
    port: Annotated[int, typer.Option(min=0, max=65535, help="0 takes a free one.")] = PORT,
    *,
    workers: Annotated[
        int | None,
        typer.Option(min=1, max=64, help="Buildings and plans worked on at a time; one a processor."),
    ] = None,
    grace: Annotated[
        int,
        typer.Option(min=0, max=600, metavar="SECONDS", help="For calls under way to end in at a stop."),
    ] = GRACE_S,
    token_for_reading: Annotated[
        bool, typer.Option("--token-for-reading", help="Ask for SOLEPLATE_TOKEN in every call.")
    ] = False,
    allow_origin: Annotated[
        list[str] | None,
        typer.Option(metavar="SITE", help="A site whose pages may call, as https://x.example; repeatable."),
    ] = None,
    public_url: Annotated[
        str | None,
        typer.Option(metavar="URL", help="Where others find the server, if a proxy stands before it."),
    ] = None,
    log: Annotated[LogForm, typer.Option(help="A line on stderr for each call.")] = LogForm.OFF,
    designs: Designs = None,
    plugin: Plugins = None,
    without: Without = None,
    without_broken: Keep = False,
) -> None:
    """Serve the page and the HTTP API; opens on the building."""
    from soleplate.api import serving
    from soleplate.api.app import create_app
    from soleplate.api.guard import TOKEN_VARIABLE, Access, access_log
    from soleplate.api.work import PluginChoice, Workshop

    try:
        origins = frozenset(allow_origin or ())
        access = Access(host, os.environ.get(TOKEN_VARIABLE), token_for_reading, origins, public_url)
    except ValueError as error:
        fail(f"serve: {error}")
    place = opened_place(designs)
    registry = _registry(plugin, without, without_broken)
    chosen = PluginChoice(tuple(plugin or ()), tuple(without or ()), without_broken)
    shown = _building(building, registry) if building else None
    with about(building) if building else nullcontext():
        web = create_app(
            registry,
            building=shown,
            access=access,
            workshop=Workshop.in_processes(chosen, workers),
            log=access_log(log.value),
            designs=place,
        )
    try:
        listener = serving.listen(host, port)
    except OSError as error:
        fail(
            f"cannot listen on {host}, port {port}: {reason(error)};"
            " accepted is an address of this machine and a free port (--port)"
        )
    address = serving.address_of(listener, host)
    serving.run(web, listener, grace_s=grace, when_up=lambda: say(f"Open {address} (Ctrl+C stops it)"))


@app.command()
@told()
def layout(
    file: File,
    out: Annotated[
        Path | None,
        typer.Option(metavar="DIR", help="The folder to write; named after the file unless given."),
    ] = None,
    *,
    as_json: Annotated[
        bool, typer.Option("--json", help="Print the layout as JSON; write a folder only if --out is given.")
    ] = False,
    paper: Annotated[
        str | None, typer.Option(help="Of the job book: A4, or Letter, which is usual with inches.")
    ] = None,
    owner: Annotated[str, typer.Option(help="Legal owner, in the title block.")] = "",
    creator: Annotated[str, typer.Option(help="Created by, in the title block.")] = "",
    revision: Annotated[str, typer.Option(help="Revision, in the title block.")] = "",
    date: Annotated[str, typer.Option(help="Date of issue, in the title block.")] = "",
    plugin: Plugins = None,
    without: Without = None,
    without_broken: Keep = False,
) -> None:
    """Lay a building out: page, drawings, lists and job book in a folder."""
    from soleplate.api.work import left_out
    from soleplate.api.written import PAGE, folder_files, require_folder, write_folder
    from soleplate.engine.laying_out import layout_json

    folder = Path(f"{file.stem}-layout") if out is None else out
    is_written = out is not None or not as_json
    if is_written:
        require_folder(folder)
    registry = _registry(plugin, without, without_broken)
    result = _layout(file, registry)
    if is_written:
        asked = {"paper": paper, "owner": owner, "creator": creator, "revision": revision, "date": date}
        try:
            files = folder_files(result, registry, {name: said for name, said in asked.items() if said})
        except ValueError as error:
            fail(f"--{error}")
        write_folder(files, folder)
        for line in left_out(registry):
            say(line, error=True)
        say(f"{len(files)} files in {folder}: open {folder / PAGE} in a browser", error=as_json)
    if as_json:
        data().buffer.write(layout_json(result))


@app.command()
@told()
def check(file: File, plugin: Plugins = None, without: Without = None, without_broken: Keep = False) -> None:
    """Print the findings of a building; exit 1 where one says stop."""
    result = _layout(file, _registry(plugin, without, without_broken))
    for finding in result.findings:
        place = f" {finding.part}:" if finding.part else ""
        say(f"{finding.level}:{place} {finding.message} [{finding.code}; {finding.basis}]")
    for caution in result.cautions:
        say(f"caution: {caution}")
    if any(finding.level == "stop" for finding in result.findings):
        raise typer.Exit(1)


@app.command()
@told()
def rules(plugin: Plugins = None, without: Without = None, without_broken: Keep = False) -> None:
    """List the installed rules, with their family and plugin."""
    for rule in _registry(plugin, without, without_broken).rules:
        summary = (rule.model.__doc__ or "").strip().splitlines()[0]
        say(f"{rule.family:<16} {rule.name:<14} {rule.plugin:<12} {summary}")


@app.command()
@told()
def schema(plugin: Plugins = None, without: Without = None, without_broken: Keep = False) -> None:
    """Print the JSON Schema of the building file."""
    import json

    described = _registry(plugin, without, without_broken).building_schema()
    typer.echo(json.dumps(described, indent=2, sort_keys=True), file=data())


@app.command("saw-plan")
@told()
def saw_plan(
    file: Annotated[Path, typer.Argument(metavar="REQUEST.json", help="Parts and stock, lengths in mm.")],
    *,
    as_json: Annotated[bool, typer.Option("--json", help="Print the plan as JSON.")] = False,
) -> None:
    """Plan the sawing of any parts from any stock."""
    from soleplate.api.written import saw_plan_lines
    from soleplate.engine.building_file import read_json_file
    from soleplate.engine.sawing import plan_sawing, read_request

    with about(file):
        request = read_request(read_json_file(file))
        with working(f"planning, for {request.time_budget_s:g} s at the most"):
            plan = plan_sawing(request)
    if as_json:
        typer.echo(plan.model_dump_json(indent=1, exclude_none=True), file=data())
    else:
        for line in saw_plan_lines(plan):
            say(line)


@app.command("what-if")
@told()
def what_if(
    file: File,
    *,
    as_json: Annotated[bool, typer.Option("--json", help="Print the variants as JSON.")] = False,
    length: Annotated[float, typer.Option(min=0, max=1000, help="How far the length may change, mm.")] = 150,
    width: Annotated[float, typer.Option(min=0, max=1000, help="How far the width may change, mm.")] = 150,
    height: Annotated[float, typer.Option(min=0, max=500, help="How far the height may change, mm.")] = 100,
    step: Annotated[float, typer.Option(min=5, max=500, help="Between the sizes tried, mm.")] = 50,
    plugin: Plugins = None,
    without: Without = None,
    without_broken: Keep = False,
) -> None:
    """Compare a building at other stud rules and sizes, by what its timber takes."""
    from soleplate.api.written import what_if_lines
    from soleplate.engine import what_if as variants

    registry = _registry(plugin, without, without_broken)
    building = _building(file, registry)
    ranges = variants.Ranges(length=length, width=width, height=height, step=step)
    with about(file), working("planning each variant"):
        answer = variants.what_if(building, registry, ranges)
    if as_json:
        typer.echo(answer.model_dump_json(indent=1, exclude_none=True), file=data())
    else:
        for line in what_if_lines(answer, building.units):
            say(line)


@app.command("order-of-work")
@told()
def order_of_work(
    file: File,
    *,
    as_json: Annotated[bool, typer.Option("--json", help="Print the order as JSON.")] = False,
    plugin: Plugins = None,
    without: Without = None,
    without_broken: Keep = False,
) -> None:
    """Find the order in which a building is put up, or what is in the way; exit 1 where there is none."""
    from soleplate.api.work import order_answer
    from soleplate.api.written import order_lines
    from soleplate.engine.laying_out import lay_out

    registry = _registry(plugin, without, without_broken)
    building = _building(file, registry)
    with about(file), working("looking for the order of work"):
        answer = order_answer(building, lay_out(building, registry), registry)
    if as_json:
        typer.echo(answer.model_dump_json(indent=1), file=data())
    else:
        for line in order_lines(answer):
            say(line)
    if answer.order_of_work is not None and answer.order_of_work.possible is False:
        raise typer.Exit(1)


def main() -> NoReturn:
    """Run the command line."""
    run(app)


def _registry(plugins: list[Path] | None, without: list[str] | None, keep_going: bool) -> Registry:
    from soleplate.engine.registry import Patience, load_registry, named, quietly

    with quietly():
        registry = load_registry(
            files=plugins or (),
            blocked=without or (),
            keep_going=keep_going,
            patience=Patience(at_last=at_last),
        )
    for plugin in registry.plugins:
        for notice in plugin.notices:
            say(f"note: {notice}", error=True)
        if plugin.problem is not None:
            say(f"left out: plugin {named(plugin.name, plugin.version)}: {plugin.problem}", error=True)
    return registry


def _building(file: Path, registry: Registry) -> Building:
    from soleplate.engine.building_file import read_json_file

    with about(file):
        return registry.read_building(read_json_file(file))


def _layout(file: Path, registry: Registry) -> Layout:
    from soleplate.engine.buying import with_saw_plan
    from soleplate.engine.laying_out import lay_out
    from soleplate.engine.work_order import with_work_order

    building = _building(file, registry)
    with about(file), working("laying out, and planning the sawing and the work"):
        planned = with_saw_plan(lay_out(building, registry), building)
        return with_work_order(planned, building, registry)
