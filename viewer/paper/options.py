"""What can be asked of the sheets."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Annotated, Final

from pydantic import Field

from soleplate.engine.rules import ExportOptions
from soleplate.viewer.paper.sizes import PaperName

LONGEST: Final[Mapping[str, int]] = {"owner": 40, "creator": 40, "revision": 6, "date": 16}
"""Characters that a field of the title block has room for."""

Entry = Annotated[str, Field(pattern=r"^[^\x00-\x1f\x7f-\x9f]*$")]
"""What stands in a field of the title block, on one line; nothing leaves it to be written in by hand."""


class SheetOptions(ExportOptions):
    """The paper, and what the title block says; fields left empty are there to be filled in by hand."""

    paper: PaperName | None = None
    """A4 or Letter; unless told, A4 for a building in millimetres and Letter for one in inches."""
    owner: Annotated[Entry, Field(max_length=LONGEST["owner"])] = ""
    """Legal owner of the sheets."""
    creator: Annotated[Entry, Field(max_length=LONGEST["creator"])] = ""
    """Who made the layout."""
    revision: Annotated[Entry, Field(max_length=LONGEST["revision"])] = ""
    """Revision index."""
    date: Annotated[Entry, Field(max_length=LONGEST["date"])] = ""
    """Date of issue, as it is to stand there; the same layout gives the same bytes, so none is filled in."""
