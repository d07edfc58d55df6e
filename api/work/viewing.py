"""Pictures of the whole building, within what a call may take."""

from __future__ import annotations

import json
from typing import Literal

from soleplate.engine.building_file import UnbuildableError
from soleplate.engine.layout import Layout
from soleplate.viewer.pictures import MOST_PICTURED, Look, chosen, packed, picture_svg


def view(layout: Layout, look: Look, form: Literal["svg", "tree"]) -> bytes:
    """A picture as SVG, or as the JSON that a script turns.

    Raises:
        UnbuildableError: it has no part of that name, at `/part`; or more pieces than a picture may have, at
            `/layers`.
    """
    names = [part.name for part in layout.parts]
    if look.part is not None and look.part not in names:
        raise UnbuildableError.at(
            "/part", f"no part is called {look.part!r}; accepted are {', '.join(names)}"
        )
    if (count := len(chosen(layout, look))) > MOST_PICTURED:
        raise UnbuildableError.at(
            "/layers",
            f"a picture of {count} pieces takes too long; accepted are {MOST_PICTURED} at the most:"
            " ask for fewer layers, or for one part",
        )
    if form == "tree":
        return json.dumps(packed(layout, look), ensure_ascii=True, separators=(",", ":")).encode()
    return picture_svg(layout, look).encode()
