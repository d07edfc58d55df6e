"""What the command line says: sentences without control characters, faults with their file, no traceback."""

from __future__ import annotations

import os
import re
import sys
import traceback
from collections.abc import Callable, Iterator
from contextlib import contextmanager, redirect_stdout
from contextvars import ContextVar
from pathlib import Path
from typing import Final, NoReturn, TextIO

import typer

FAULT: Final = 2
"""Exit code for what the user can mend, as for a wrong option."""

OUR_FAULT: Final = 70
"""Exit code for a fault of Soleplate itself (EX_SOFTWARE of sysexits.h)."""

INTERRUPTED: Final = 130
"""Exit code of a program that was stopped by Ctrl+C (128 and the number of SIGINT)."""

_CONTROL: Final = re.compile("[\x00-\x08\x0b-\x1f\x7f-\x9f\u2028-\u202e\u2066-\u2069]")
"""What a terminal obeys or reorders by; names in a building file are anybody's."""


_data: ContextVar[TextIO | None] = ContextVar("data", default=None)


def data() -> TextIO:
    """The stdout of the command: what is asked of it goes here, and nothing else does.

    While a command works, what anything else prints, such as a plugin, goes to stderr.
    """
    return _data.get() or sys.stdout


def say(text: str, *, error: bool = False) -> None:
    """Print a sentence to stdout or stderr."""
    typer.echo(_CONTROL.sub("\N{REPLACEMENT CHARACTER}", text), file=sys.stderr if error else data())


def fail(text: str) -> NoReturn:
    """Say what is wrong, and exit."""
    say(text, error=True)
    raise typer.Exit(FAULT)


def at_last(error: Exception) -> NoReturn:
    """Say what a plugin did that cannot be stopped, and end the process where it is."""
    say(str(error), error=True)
    sys.stderr.flush()
    os._exit(FAULT)


@contextmanager
def about(file: Path) -> Iterator[None]:
    """Tell of faults in a file by the file's name, each with its place in it."""
    from soleplate.engine.building_file import BuildingError

    try:
        yield
    except BuildingError as error:
        fail("\n".join(f"{file}: {fault}" for fault in error.faults))


@contextmanager
def told() -> Iterator[None]:
    """Tell in a sentence of all else that can go wrong while a command works; see `data` for its output."""
    from soleplate.engine.building_file import EngineError
    from soleplate.engine.registry import Interrupted

    before = _data.set(data())
    try:
        with redirect_stdout(sys.stderr):
            yield
    except (typer.Exit, typer.Abort, BrokenPipeError):
        raise
    except Interrupted as error:
        say(str(error), error=True)
        raise typer.Exit(INTERRUPTED) from None
    except EngineError as error:
        fail(str(error))
    except OSError as error:
        fail(f"{error.filename or ''}: {reason(error)}".removeprefix(": "))
    except Exception as error:
        frame = traceback.extract_tb(error.__traceback__)[-1]
        place = f"{Path(frame.filename).name}, line {frame.lineno}"
        say(
            f"a fault of Soleplate itself: {type(error).__name__}: {error} ({place});"
            " please report it with the building file",
            error=True,
        )
        raise typer.Exit(OUR_FAULT) from None
    finally:
        _data.reset(before)


@contextmanager
def working(what: str) -> Iterator[None]:
    """Show on a terminal that work goes on; elsewhere nothing is written."""
    if not sys.stderr.isatty():
        yield
        return
    from rich.console import Console

    with Console(stderr=True).status(what):
        yield


def reason(error: OSError) -> str:
    """The system's reason, in lower case as within a sentence."""
    return (error.strerror or str(error) or type(error).__name__).lower()


def run(command: Callable[[], object]) -> NoReturn:
    """Run a command to its end; a reader that goes away early is no fault worth a word."""
    for stream in (sys.stdout, sys.stderr):
        stream.reconfigure(errors="backslashreplace")  # type: ignore[union-attr]
    try:
        command()
        sys.stdout.flush()
    except BrokenPipeError:
        # What is still to be flushed at exit has nowhere to go either.
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        sys.exit(FAULT)
    sys.exit(0)
