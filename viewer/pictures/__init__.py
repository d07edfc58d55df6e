"""Pictures: the building as a whole in axonometric, its hidden faces removed, cut where that is asked for.

In: a layout and a look. Out: SVG in which each piece can be touched.
"""

from __future__ import annotations

from soleplate.viewer.pictures.look import (
    FOUR_SIDES,
    MOST_PICTURED,
    PICTURE_LAYERS,
    CutPlane,
    Look,
    PictureLayer,
    sections_of,
)
from soleplate.viewer.pictures.packing import packed
from soleplate.viewer.pictures.picture import painting_of, picture_svg, seen_from
from soleplate.viewer.pictures.scene import chosen, layer_of, scene_of
from soleplate.viewer.pictures.standing import Raised, raised
