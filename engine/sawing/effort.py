"""How much work may be done: a number of steps, and a timeout."""

from __future__ import annotations

import time
from collections.abc import Callable
from typing import Final, Literal

STEPS_PER_SECOND: Final = 4000
"""Steps allowed for each second of the time budget.

A step is one pricing round (a knapsack and a linear program). Most machines do fewer a second on jobs of
ordinary size, so that a long search mostly ends by the timeout.
"""

Ended = Literal["proven", "steps", "clock"]


class Effort:
    """A budget of steps and seconds that a search draws on."""

    def __init__(self, seconds: float, clock: Callable[[], float] = time.monotonic) -> None:
        self._clock = clock
        self._seconds = seconds
        self._deadline = clock() + seconds
        self.steps = self._allowed = round(seconds * STEPS_PER_SECOND)
        """Steps that may still be taken."""
        self.ended: Ended = "proven"

    @property
    def seconds_left(self) -> float:
        """Seconds until the timeout; never negative."""
        return max(self._deadline - self._clock(), 0.0)

    @property
    def half_spent(self) -> bool:
        """Whether half of the steps or of the seconds are used up."""
        return 2 * self.steps <= self._allowed or 2 * self.seconds_left <= self._seconds

    def spent(self) -> bool:
        """Whether the work must end; `ended` then says what ended it first."""
        if self.ended == "proven":
            if self.steps <= 0:
                self.ended = "steps"
            elif self._clock() >= self._deadline:
                self.ended = "clock"
        return self.ended != "proven"

    def take(self, steps: int = 1) -> None:
        """Count work done."""
        self.steps -= steps
