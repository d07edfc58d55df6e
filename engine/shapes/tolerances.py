"""Tolerances: how near two places must be to be one."""

from __future__ import annotations

from typing import Final

TOUCH: Final = 0.01
"""mm. Surfaces closer than this touch, and overlaps thinner than this are none."""


STRAIGHT: Final = 5e-6
"""mm. A point this near to the line between its neighbours is no corner: coordinates may be held at a
millionth of a mm."""
