"""A rule in one file: give it to any command with `--plugin`."""

from math import ceil
from typing import Annotated, Literal

from soleplate.engine.rules import AnyLength, Limits, Run, StudRule, hookimpl


class EvenBays(StudRule):
    """An even number of equal bays, so that a stud stands in the middle: under the ridge of a gable."""

    examples = ({"rule": "even-bays", "largest_bay": 600},)
    rule: Literal["even-bays"] = "even-bays"
    largest_bay: Annotated[AnyLength, Limits(100.0, 3_000.0)] = 600.0
    """The widest clear bay."""

    def place_studs(self, run: Run) -> list[float]:
        """Return left faces, mm: bays of C clear and n - 1 studs of breadth b are (C + b) / n - b wide."""
        breadth = run.breadth
        bays = 2 * ceil((run.clear + breadth) / (self.largest_bay + breadth) / 2)
        step = (run.clear + breadth) / bays
        return [run.left + k * step - breadth for k in range(1, bays)]


@hookimpl
def register_rules() -> list[type[StudRule]]:
    """Offer the rule."""
    return [EvenBays]
