"""Drawings: a wall, the plan, a storey rod, the bars of a saw plan, and the ends of a piece, as SVG to scale.

In: a layout, and what of it to show. Out: SVG, and the parts from which the sheets make their own.
"""

from __future__ import annotations

from soleplate.viewer.drawings.anchor_marks import anchor_marks
from soleplate.viewer.drawings.cladding import draw_boards
from soleplate.viewer.drawings.covering import covering_svg, draw_covering
from soleplate.viewer.drawings.cut_ends import CutEnds
from soleplate.viewer.drawings.cut_through import CutThrough, cuts_through
from soleplate.viewer.drawings.dimensions import apex_mark, level_string, rows_below
from soleplate.viewer.drawings.elevation import INK, PAPER, draw_tape, draw_wall, elevation_svg
from soleplate.viewer.drawings.face import Face, Side
from soleplate.viewer.drawings.frame import (
    TAG_INK,
    TAG_PAPER,
    draw_openings,
    draw_pieces,
    label_openings,
    label_pieces,
    piece_place,
)
from soleplate.viewer.drawings.joint import WINDOW as JOINT_WINDOW
from soleplate.viewer.drawings.joint import PlacedPiece, draw_joint, placed_pieces, views_of
from soleplate.viewer.drawings.laid import LaidFloor, drawn_parts, told_of
from soleplate.viewer.drawings.laid_slopes import LaidSlope, verges
from soleplate.viewer.drawings.layers import (
    BEHIND,
    BOARDED,
    FINDINGS,
    FIXINGS,
    LAYERS,
    OFF_AT_FIRST,
    SHOWN,
    WHOLE,
    WallSheet,
)
from soleplate.viewer.drawings.lettering import (
    LetteringBox,
    Places,
    lettering,
    shortened,
    spread,
    text_width,
    wrapped,
)
from soleplate.viewer.drawings.no_order import draw_blocked, draw_change
from soleplate.viewer.drawings.panels import PANEL_ROOM, break_lines, breaks_of, panel_numbers
from soleplate.viewer.drawings.plan import fragment, plan_svg, wall_points, wall_rectangle
from soleplate.viewer.drawings.raising_figure import blocked_svg, change_svg, step_svg
from soleplate.viewer.drawings.saw_bar import BarSheet, draw_bar, figures_width, words_of
from soleplate.viewer.drawings.saw_bars import (
    TIMBER,
    saw_key,
    saw_plan_parts,
    saw_plan_svg,
    stacked,
    timber_of,
)
from soleplate.viewer.drawings.section import SectionDrawing
from soleplate.viewer.drawings.site_view import SiteView, extent_of
from soleplate.viewer.drawings.step_plan import draw_step, raise_of
from soleplate.viewer.drawings.storey_rod import Rod, notches_of, rods_of, storey_rod_svg
from soleplate.viewer.drawings.strap_marks import strap_marks
from soleplate.viewer.drawings.tape import Tape
from soleplate.viewer.drawings.tiers import Tier, kind_of, left_edge, tiers
from soleplate.viewer.drawings.tones import (
    Tone,
    drawn_as,
    fill_of,
    role_class,
    saw_patterns,
    tone_of,
    tone_patterns,
)
