"""What the framing of a slope asks of the rule that frames the roof."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property
from typing import Final

from soleplate.engine.building_file import Building, LengthYield, Timber, pointer_to
from soleplate.engine.framing import Chosen
from soleplate.engine.rules import FramedSlope, RafterRun, RoofFrame

POINTER: Final = "/roof/frame"


@dataclass(frozen=True)
class SlopeTask:
    """A slope to be framed, as the roof's rule returned it; `run` says what spaces its rafters."""

    building: Building
    frame: RoofFrame
    slope: FramedSlope
    run: RafterRun | None

    @cached_property
    def rules(self) -> Chosen:
        """Those that the roof's rule picked."""
        picked = {"studs": self.run.rule if self.run is not None else None, "noggins": self.slope.noggins}
        return Chosen(
            {member: (rule,) if rule is not None else () for member, rule in picked.items()},
            tuple(window.framing for window in self.slope.windows if window.framing is not None),
        )

    @cached_property
    def called(self) -> Mapping[str, str]:
        """As the roof's rule calls the pieces."""
        return dict(self.slope.called)

    @property
    def timber(self) -> Timber:
        """What its pieces are of that do not say."""
        frame = self.building.frame
        name = self.frame.timber or frame.material
        return Timber.named(name, frame.density if name == frame.material else None)

    @property
    def longest(self) -> LengthYield:
        """What the longest length of its rafters' timber yields."""
        return self.building.stock.longest_of(self.slope.lying.section, self.timber.name)

    def pointer(self, opening: int) -> str:
        """The JSON pointer of one of its windows."""
        return POINTER + pointer_to("openings", self.slope.windows[opening].index)

    def pointer_to_height(self, opening: int) -> str:
        """The JSON pointer of what makes a window reach as high as it does."""
        return self.pointer(opening)
