"""Crown, bow and datum: which way a piece goes that is not straight, and which face all lie flush with."""

from __future__ import annotations

from soleplate.engine.layout import PRACTICE, Layout, WallOut
from soleplate.viewer.sheets.blocks import Block, head, listed
from soleplate.viewer.words import Texts


def crowns(wall: WallOut, layout: Layout, texts: Texts) -> list[Block]:
    """What is told of them for a wall, or for a floor or slope that is told like one."""
    said = texts.sheets
    is_lined_with_sheets = any(
        piece.face == "inside" and layout.role_of(piece).sheet for piece in wall.pieces
    )
    told = [said.crown_to_sheets if is_lined_with_sheets else said.crown, said.bow, said.datum]
    if any(piece.grade == "short" for piece in wall.pieces):
        told.append(said.crooked)
    return [head(said.crowns), listed([*told, texts.basis.format(basis=PRACTICE)])]
