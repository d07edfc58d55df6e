"""A PostgreSQL server of its own for the tests: in a temporary folder, on a socket in it."""

from __future__ import annotations

import os
import pwd
import shutil
import subprocess
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

ACCOUNT = "postgres"


def lacking() -> str | None:
    """Why no server can be started here, or none."""
    if _programs() is None:
        return "PostgreSQL is not installed (Debian's package postgresql)"
    if os.geteuid() == 0:
        if shutil.which("runuser") is None:
            return "PostgreSQL does not run as root, and runuser is not installed"
        if ACCOUNT not in {account.pw_name for account in pwd.getpwall()}:
            return f"PostgreSQL does not run as root, and there is no account {ACCOUNT}"
    return None


@contextmanager
def postgresql() -> Iterator[str]:
    """The start of the URLs of its databases; the name of one comes in for `{}`."""
    programs = _programs()
    assert programs is not None
    folder = Path(tempfile.mkdtemp(prefix="soleplate-pg-"))
    try:
        if os.geteuid() == 0:
            shutil.chown(folder, ACCOUNT, ACCOUNT)
        data = folder / "data"
        _run(programs / "initdb", "-D", data, "-A", "trust", "-U", ACCOUNT, "-E", "UTF8", "--no-sync")
        options = f"-c listen_addresses= -c unix_socket_directories={folder} -c fsync=off"
        _run(programs / "pg_ctl", "start", "-w", "-D", data, "-l", folder / "log", "-o", options)
        try:
            yield f"postgresql://{ACCOUNT}@/{{}}?host={folder}"
        finally:
            _run(programs / "pg_ctl", "stop", "-w", "-m", "fast", "-D", data)
    finally:
        shutil.rmtree(folder)


def _programs() -> Path | None:
    found = sorted(Path("/usr/lib/postgresql").glob("*/bin/initdb"), key=lambda path: int(path.parts[4]))
    if found:
        return found[-1].parent
    initdb = shutil.which("initdb")
    return Path(initdb).parent if initdb else None


def _run(*command: str | Path) -> None:
    """Run a program of the server's, never as root, with its words shown only where it fails."""
    as_account = ["runuser", "-u", ACCOUNT, "--"] if os.geteuid() == 0 else []
    # To a file: the server inherits it, so that a pipe would never end.
    with tempfile.TemporaryFile() as said:
        done = subprocess.run([*as_account, *command], stdout=said, stderr=said, check=False, cwd="/tmp")
        said.seek(0)
        assert done.returncode == 0, said.read().decode()
