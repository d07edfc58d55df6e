"""Covering: boards, battens and sheets on surfaces, of walls and of whatever else is framed.

In: surfaces, each with its rule. Out: what lies on each, cut, jointed and fixed, and what it is cut from.
"""

from __future__ import annotations

from soleplate.engine.covering.boards import Board
from soleplate.engine.covering.covering import Cladding, Covered, ToCover, cover
from soleplate.engine.covering.findings import KINDS
from soleplate.engine.covering.rod import cladding_out, courses_out, storey_rod
from soleplate.engine.covering.too_long import too_long
from soleplate.engine.covering.wall_surfaces import sheet_edges, surface_of, wall_surfaces
