"""Floors: from a building and its framed walls to the floor that they stand on.

In: a building, its walls, the registry. Out: the framed floor, found sound, and its deck to be laid.
"""

from __future__ import annotations

from soleplate.engine.floors.decking import deck_of
from soleplate.engine.floors.findings import KINDS
from soleplate.engine.floors.frame import FLOOR, FramedFloor, frame_floor
