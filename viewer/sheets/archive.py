"""Several files in one: a zip archive whose bytes depend on the files alone."""

from __future__ import annotations

import io
import zipfile
from collections.abc import Mapping
from typing import Final

_WHEN: Final = (1980, 1, 1, 0, 0, 0)
"""The earliest time that the format can tell: none is told."""


def zipped(files: Mapping[str, bytes]) -> bytes:
    """A zip of files by name, in their order."""
    archive = io.BytesIO()
    with zipfile.ZipFile(archive, "w", zipfile.ZIP_DEFLATED) as out:
        for name, content in files.items():
            out.writestr(zipfile.ZipInfo(name, _WHEN), content, zipfile.ZIP_DEFLATED)
    return archive.getvalue()
