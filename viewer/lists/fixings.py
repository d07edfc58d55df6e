"""Fixings as they are asked for."""

from __future__ import annotations

from soleplate.engine.building_file import Units
from soleplate.engine.layout import FixingsRow, JointFixingOut
from soleplate.viewer.words import Texts, sizes_text


def fixing_size(each: FixingsRow | JointFixingOut, units: Units, texts: Texts) -> str:
    """What it is called, how thick and long it is, and what its shank is like: `nail 3.1 × 90 mm, ringed`."""
    name = texts.goods_names.get(each.kind, each.kind)
    size = sizes_text((each.diameter, each.length), units)
    return f"{name} {size}, {texts.raising.shanks[each.shank]}"
