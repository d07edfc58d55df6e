"""How near to a limit counts as on it."""

from __future__ import annotations

from typing import Final

SAME: Final = 0.5
"""mm. What is over a limit by less than this is not over it."""
