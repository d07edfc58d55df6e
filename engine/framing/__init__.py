"""Framing: from a building file to framed walls.

In: a building and the registry. Out: each wall's plates, uprights, openings' timbers and noggins, found
sound.
"""

from __future__ import annotations

from soleplate.engine.framing.filling import FilledRun
from soleplate.engine.framing.findings import KINDS
from soleplate.engine.framing.frame import Frame, frame_wall
from soleplate.engine.framing.part import Part
from soleplate.engine.framing.setting_out import LAPS_WITHIN, WallTask, set_out
