"""Pictures: the building as a whole in axonometric, its hidden faces removed, cut where that is asked for.

In: a layout and a look. Out: SVG in which each piece can be touched.
"""

from __future__ import annotations

from soleplate.viewer.pictures.look import FOUR_SIDES, PICTURE_LAYERS, Cut, Look, PictureLayer
from soleplate.viewer.pictures.packing import packed
from soleplate.viewer.pictures.picture import picture_svg
from soleplate.viewer.pictures.scene import chosen, scene_of
