"""Covering: boards, battens and sheets on framed walls.

In: frames. Out: what lies on each face, cut, jointed and fixed, and what it is cut from.
"""

from __future__ import annotations

from soleplate.engine.covering.boards import Board
from soleplate.engine.covering.rod import cladding_out, courses_out, storey_rod
from soleplate.engine.covering.stage import Cladding, clad_walls
from soleplate.engine.covering.too_long import too_long

__all__ = ["Board", "Cladding", "clad_walls", "cladding_out", "courses_out", "storey_rod", "too_long"]
