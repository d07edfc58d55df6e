"""What pieces, openings and exports are called, by the names that the engine and the exporters give them.

A plugin's own names, which are not in here, are shown as the plugin gives them.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

from soleplate.engine.shapes import ROLES

RAKED_PLATES: Final = ("raked plate left", "raked plate right")
"""In running marks, of a wall under a ridge."""

RIM_JOISTS: Final = ("front rim joist", "back rim joist", "left rim joist", "right rim joist")
"""In running marks, of a floor by its sides."""

PLATES: Final = ("front plate", "back plate", "left plate", "right plate")
"""In running marks of rafters, by the wall that the plate is on."""

ROLE_NAMES: Final[Mapping[str, str]] = {name: name for name in (*ROLES, *RAKED_PLATES, *RIM_JOISTS, *PLATES)}
"""Of pieces, in English as the trade calls them, and of plates in running marks."""

OPENING_KINDS: Final[Mapping[str, str]] = {"door": "door", "window": "window", "gap": "gap"}

EXPORT_NAMES: Final[Mapping[str, str]] = {
    "buying-list": "buying list",
    "courses": "courses",
    "cutting-list": "cutting list",
    "fixings": "fixings",
    "gltf": "model in space (glTF)",
    "ifc": "model for building programs (IFC4)",
    "job-book": "job book",
    "running-marks": "running marks",
    "saw-plan": "saw plan",
    "sheets": "sheets",
}
