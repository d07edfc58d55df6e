"""What pieces, openings and exports are called, by the names that the engine and the exporters give them.

A plugin's own names, which are not in here, are shown as the plugin gives them.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

ROLE_NAMES: Final[Mapping[str, str]] = {
    "sole plate": "sole plate",
    "head plate": "head plate",
    "raked plate": "raked plate",
    "raked plate left": "raked plate left",
    "raked plate right": "raked plate right",
    "stud": "stud",
    "corner stud": "corner stud",
    "king stud": "king stud",
    "trimmer": "trimmer",
    "cripple": "cripple",
    "bearer": "bearer",
    "rim joist": "rim joist",
    "front rim joist": "front rim joist",
    "back rim joist": "back rim joist",
    "left rim joist": "left rim joist",
    "right rim joist": "right rim joist",
    "joist": "joist",
    "trimmer joist": "trimmer joist",
    "post": "post",
    "rafter": "rafter",
    "fly rafter": "fly rafter",
    "rung": "rung",
    "ridge board": "ridge board",
    "ridge beam": "ridge beam",
    "tie": "tie",
    "threshold": "threshold",
    "fascia": "fascia",
    "barge board": "barge board",
    "soffit": "soffit",
    "covering": "covering",
    "lintel": "lintel",
    "head": "head",
    "sill": "sill",
    "noggin": "noggin",
    "packer": "packer",
    "batten": "batten",
    "board": "board",
    "corner board": "corner board",
    "sheet": "sheet",
}
"""Of pieces, and of plates in running marks: a wall under a ridge has two raked ones."""

OPENING_KINDS: Final[Mapping[str, str]] = {"door": "door", "window": "window", "gap": "gap"}

EXPORT_NAMES: Final[Mapping[str, str]] = {
    "buying-list": "buying list",
    "courses": "courses",
    "cutting-list": "cutting list",
    "job-book": "job book",
    "running-marks": "running marks",
    "saw-plan": "saw plan",
    "sheets": "sheets",
}
