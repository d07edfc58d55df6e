"""A floor's deck: the surface on its joists, covered by a cladding rule like the face of a wall."""

from __future__ import annotations

from soleplate.engine.covering import ToCover, surface_of
from soleplate.engine.floors.frame import FLOOR, FramedFloor


def deck_of(floor: FramedFloor) -> ToCover | None:
    """What is to be covered of a floor; `None` where it has no deck."""
    rule = floor.frame.deck
    if rule is None:
        return None
    surface = surface_of(
        floor.lying,
        floor.lying.top,
        {(FLOOR, "outside"): rule},
        "outside",
        view=floor.frame.view.name,
        upright=floor.task.called.get("stud", "stud"),
        bounded=True,
    )
    return ToCover(rule, surface, floor.asked, FLOOR)
