"""Framing: from a building file to framed walls.

In: a building and the registry. Out: each wall's plates, uprights, openings' timbers and noggins, found
sound.
"""

from __future__ import annotations

from soleplate.engine.framing.bracing import BracedBy
from soleplate.engine.framing.filling import FilledRun, places_in
from soleplate.engine.framing.findings import KINDS
from soleplate.engine.framing.frame import FilledWall, Frame, fill_wall, frame_filled, frame_wall
from soleplate.engine.framing.hatches import framed_by_one, refuse_rules_of_walls
from soleplate.engine.framing.holding import HeldSole
from soleplate.engine.framing.infill import fill, found_of
from soleplate.engine.framing.joint_choice import Layer, choose_joints
from soleplate.engine.framing.jointing import cut_at, stretch_of
from soleplate.engine.framing.meeting import Placed, in_one_place
from soleplate.engine.framing.noggins import noggins_among
from soleplate.engine.framing.openings import frame_openings
from soleplate.engine.framing.part import Part, Stretch, panel_at, timber_of, weight_of
from soleplate.engine.framing.plating import jointed_plates
from soleplate.engine.framing.roof_shape import roof_frame_of, roof_shape, slope_name, slope_names
from soleplate.engine.framing.setting_out import LAPS_WITHIN, WallTask, roof_over, set_out
from soleplate.engine.framing.soundness import Envelope, misshapen, refuse_unsound
from soleplate.engine.framing.tasks import Chosen
