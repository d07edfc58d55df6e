"""The installed command, run as a user runs it, and its server in a process of its own."""

from __future__ import annotations

import signal
import subprocess
import sysconfig
from collections.abc import Iterator, Mapping, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path

BASE = "http://127.0.0.1:8017"
"""What a call in process names as its server."""

COMMAND = Path(sysconfig.get_path("scripts")) / "soleplate"


@dataclass(frozen=True)
class Server:
    process: subprocess.Popen[str]
    address: str
    """With a slash at its end."""


def run(
    *arguments: str | Path,
    folder: Path | None = None,
    variables: Mapping[str, str] | None = None,
    within: Sequence[str] = (),
) -> subprocess.CompletedProcess[str]:
    """The command, to its end; `within` is the command that starts it."""
    return subprocess.run(
        [*within, COMMAND, *arguments],
        capture_output=True,
        encoding="utf-8",
        check=False,
        cwd=folder,
        env=variables,
    )


@contextmanager
def serving(
    *arguments: str | Path,
    command: Path = COMMAND,
    variables: Mapping[str, str] | None = None,
    within: Sequence[str] = (),
    port: int = 0,
) -> Iterator[Server]:
    """`soleplate serve` on a free port, stopped at the end; `within` is the command that starts it."""
    started = [*within, command, "serve", *arguments, "--port", str(port)]
    with subprocess.Popen(
        started, stdout=subprocess.PIPE, stderr=subprocess.PIPE, encoding="utf-8", env=variables
    ) as process:
        assert process.stdout is not None
        assert process.stderr is not None
        line = process.stdout.readline()
        words = line.split()
        assert words[:1] == ["Open"], line + process.stderr.read()
        try:
            yield Server(process, words[1])
        finally:
            if process.poll() is None:
                process.send_signal(signal.SIGINT)
            process.wait(60)
