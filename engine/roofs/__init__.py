"""Roofs: from a building and its framed walls to the slopes over them.

In: a building, its walls, the registry. Out: framed slopes, found sound, and their decks to be laid.
"""

from __future__ import annotations

from soleplate.engine.roofs.decking import slope_deck
from soleplate.engine.roofs.findings import KINDS
from soleplate.engine.roofs.frame import FramedRoof, frame_roof
from soleplate.engine.roofs.slope import SlopeFrame
