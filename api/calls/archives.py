"""The calls that give and take all designs at once."""

from __future__ import annotations

import tempfile
from collections.abc import AsyncIterator
from typing import IO, TYPE_CHECKING, Final

import anyio.to_thread
from starlette.requests import Request
from starlette.responses import Response, StreamingResponse

from soleplate.api.calls.design_messages import ImportedOut
from soleplate.api.calls.keeping import Keeping
from soleplate.api.http import receive, require_type
from soleplate.api.store import FullError, archive_lines, lines_of

if TYPE_CHECKING:
    from soleplate.api.store import DesignStore

JSON_LINES: Final = "application/jsonl"

MOST_BYTES: Final = 256_000_000
"""Of an archive that is sent in."""

PATIENCE_S: Final = 600.0
"""For an archive to come in."""

PART: Final = 1 << 18
"""Bytes sent at a time."""


class ArchiveCalls:
    """Export and import of all designs."""

    def __init__(self, keeping: Keeping) -> None:
        self._keeping = keeping

    async def export(self, request: Request) -> Response:
        """All designs with all revisions, deleted ones too."""
        # Written whole before any of it is sent: what fails is then a problem, not half a file, and a
        # slow caller does not hold the store.
        file, length = await self._keeping.do(_written)
        headers = {
            "Content-Length": str(length),
            "Content-Disposition": 'attachment; filename="designs.jsonl"',
            "Cache-Control": "no-store",
        }
        return StreamingResponse(_parts(file), headers=headers, media_type=JSON_LINES)

    async def import_all(self, request: Request) -> Response:
        """Add the designs of an archive."""
        require_type(request, JSON_LINES)
        with tempfile.TemporaryFile() as file:
            try:
                await receive(request, file.write, largest=MOST_BYTES, patience_s=PATIENCE_S)
                file.seek(0)
            except OSError as error:
                raise FullError("no room is left for what came in; nothing was imported") from error
            done = await self._keeping.do(lambda store: _imported(store, file))
        return Response(done.model_dump_json(), media_type="application/json")


def _written(store: DesignStore) -> tuple[IO[bytes], int]:
    file = tempfile.TemporaryFile()  # noqa: SIM115 - closed once it is sent
    try:
        file.writelines(archive_lines(store.everything()))
        length = file.tell()
        file.seek(0)
    except OSError as error:
        file.close()
        raise FullError("no room is left to write the archive to") from error
    except BaseException:
        file.close()
        raise
    return file, length


async def _parts(file: IO[bytes]) -> AsyncIterator[bytes]:
    with file:
        while part := await anyio.to_thread.run_sync(file.read, PART):
            yield part


def _imported(store: DesignStore, file: IO[bytes]) -> ImportedOut:
    from soleplate.api.store import import_archive

    done = import_archive(store, lines_of(file))
    return ImportedOut(added=done.added, unchanged=done.unchanged)
