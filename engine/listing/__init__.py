"""Listing: from members to pieces with marks, and the lists of them.

In: frames and what covers them. Out: pieces, running marks, bays, spacers, changes, cutting and buying lists,
and goods.
"""

from __future__ import annotations

from soleplate.engine.listing.changes import changes, laps_lost, layout_changes, off_the_drawing, run_off
from soleplate.engine.listing.findings import KINDS
from soleplate.engine.listing.floors import PREFIX, BuiltFloor, floor_out
from soleplate.engine.listing.goods import goods_list, of_floor, of_slope, of_wall
from soleplate.engine.listing.lists import buying_list, cutting_list, panel_names
from soleplate.engine.listing.numbering import prefixes
from soleplate.engine.listing.slopes import BuiltSlope, slope_out, slope_prefix
from soleplate.engine.listing.walls import BuiltWall, wall_out
