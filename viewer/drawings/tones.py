"""How pieces are told apart: by tone and by pattern as well as by colour.

The colours are tints of the colour-blind-safe set of Okabe and Ito (Color Universal Design, 2008). Each
role's pattern lays its ink over its ground, so that grey prints and dim screens still tell them apart.
"""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Final, Literal

import svg

from soleplate.engine.layout import Piece

Strokes = Literal["plain", "along", "rising", "falling", "crossed", "dots", "upright", "bars", "ticks"]


@dataclass(frozen=True, slots=True)
class Tone:
    """A ground colour, an ink colour, and the strokes that the ink makes."""

    ground: str
    ink: str
    strokes: Strokes


TONES: Final[Mapping[str, Tone]] = {
    "sole plate": Tone("#9cc4de", "#0b4a72", "along"),
    "head plate": Tone("#c9e3f4", "#2f7ea8", "along"),
    "raked plate": Tone("#c9e3f4", "#2f7ea8", "rising"),
    "stud": Tone("#f6e3bd", "#b98a2e", "plain"),
    "corner stud": Tone("#f6e3bd", "#8a6212", "dots"),
    "king stud": Tone("#e5b14e", "#6e4a00", "rising"),
    "backing stud": Tone("#e0c48c", "#8a6212", "plain"),
    "trimmer": Tone("#f1b48f", "#8a3a00", "falling"),
    "cripple": Tone("#f5efa9", "#7d7410", "upright"),
    "bearer": Tone("#c3b4a1", "#54422c", "crossed"),
    "rim joist": Tone("#7eb2d4", "#0b4a72", "along"),
    "joist": Tone("#f3dbab", "#b98a2e", "upright"),
    "trimmer joist": Tone("#f7d6c2", "#8a3a00", "bars"),
    "post": Tone("#e5b24f", "#6e4a00", "dots"),
    "rafter": Tone("#f9ecd3", "#b98a2e", "rising"),
    "fly rafter": Tone("#f6e3bc", "#8a6212", "falling"),
    "brace": Tone("#c8dca8", "#46611c", "falling"),
    "let-in brace": Tone("#bcd496", "#46611c", "dots"),
    "blocking": Tone("#cfe8df", "#00694d", "crossed"),
    "rung": Tone("#dbefe9", "#00694d", "bars"),
    "ridge board": Tone("#d87e49", "#5c2600", "along"),
    "ridge beam": Tone("#d98452", "#5c2600", "bars"),
    "tie": Tone("#c9e3f4", "#2f7ea8", "ticks"),
    "fascia": Tone("#d9cfb7", "#6d5f40", "along"),
    "barge board": Tone("#d8ceb5", "#6d5f40", "rising"),
    "soffit": Tone("#faf6ec", "#948a75", "crossed"),
    "threshold": Tone("#d7a1c1", "#6b2350", "ticks"),
    "covering": Tone("#c1bdb1", "#55524a", "upright"),
    "lintel": Tone("#d98350", "#5c2600", "crossed"),
    "head": Tone("#e4b6cf", "#7b3560", "ticks"),
    "sill": Tone("#d8a3c2", "#6b2350", "bars"),
    "noggin": Tone("#a5d8c7", "#00694d", "bars"),
    "packer": Tone("#d2cfc6", "#55524a", "crossed"),
    "batten": Tone("#dfd6c4", "#7a6a48", "upright"),
    "starter strip": Tone("#e7dcc0", "#7a6a48", "dots"),
    "board": Tone("#ece4d4", "#948a75", "along"),
    "corner board": Tone("#d8cdb4", "#6d5f40", "upright"),
    "jamb lining": Tone("#f1ebdb", "#7a6a48", "dots"),
    "head lining": Tone("#e9dfc6", "#7a6a48", "along"),
    "sill board": Tone("#c1a35c", "#54422c", "dots"),
    "cover strip": Tone("#f4efe2", "#6d5f40", "ticks"),
    "stop": Tone("#c6ab6a", "#54422c", "falling"),
    "meeting strip": Tone("#f3eee0", "#6d5f40", "along"),
    "leaf board": Tone("#e3d6b6", "#8a7443", "plain"),
    "leaf ledge": Tone("#ccb378", "#6e4a00", "plain"),
    "leaf brace": Tone("#bd9d51", "#6e4a00", "plain"),
    "sheet": Tone("#e3e6e6", "#7f8a8c", "dots"),
}
"""By role. A role that is not here, from a plugin, is drawn in `OTHER`."""

SAW_TONES: Final[Mapping[str, Tone]] = {
    "bought": Tone("#f6e3bd", "#b98a2e", "plain"),
    "on-hand": Tone("#a5d8c7", "#00694d", "bars"),
    "offcut": Tone("#f4f2ec", "#55524a", "falling"),
}
"""Of a saw plan's lengths and of what is left of them."""

OTHER: Final = Tone("#e6e4de", "#6d6a62", "dots")

_SIZE: Final = 36.0
"""Of a pattern's tile, mm."""

_ENDS: Final[Mapping[Strokes, Sequence[tuple[float, float, float, float]]]] = {
    "plain": (),
    "along": ((0, 9, 36, 9), (0, 27, 36, 27)),
    "upright": ((9, 0, 9, 36), (27, 0, 27, 36)),
    "rising": ((-2, 38, 38, -2), (-2, 2, 2, -2), (34, 38, 38, 34)),
    "falling": ((-2, -2, 38, 38), (-2, 34, 2, 38), (34, -2, 38, 2)),
    "crossed": ((-2, 38, 38, -2), (-2, -2, 38, 38)),
    "bars": ((6, 9, 30, 9), (-6, 27, 12, 27), (24, 27, 42, 27)),
    "ticks": ((9, 4, 9, 16), (27, 22, 27, 34)),
    "dots": ((9, 9, 13, 9), (27, 27, 31, 27)),
}


def drawn_as(piece: Piece) -> str:
    """The role in whose tone a piece is drawn: its own, or that which its plugin names."""
    return piece.tone or piece.role


def role_class(role: str) -> str:
    """The class of a role: `sole-plate`; `other` for one that only a plugin knows."""
    return _slug(role) if role in TONES else "other"


def tone_of(role: str) -> Tone:
    """The tone in which a role is drawn."""
    return TONES.get(role, OTHER)


def fill_of(role: str) -> str:
    """The fill that refers to a role's pattern, or its ground where that is plain."""
    return _fill(role_class(role), tone_of(role))


def saw_fill(name: str) -> str:
    """The fill of one of `SAW_TONES`."""
    return _fill(name, SAW_TONES[name])


def _fill(name: str, tone: Tone) -> str:
    # No pattern for what is plain: between the tiles of one, paper shows as a grid.
    return tone.ground if tone.strokes == "plain" else f"url(#tone-{name})"


def tone_patterns(roles: Sequence[str]) -> svg.Defs:
    """The patterns of some roles, each once, to stand in the document whose pieces refer to them."""
    classes = {role_class(role): tone_of(role) for role in roles}
    return _patterns({name: classes[name] for name in sorted(classes)})


def saw_patterns() -> svg.Defs:
    """The patterns of a saw plan: `tone-on-hand` and `tone-offcut`."""
    return _patterns(SAW_TONES)


def _patterns(tones: Mapping[str, Tone]) -> svg.Defs:
    return svg.Defs(
        elements=[_pattern(name, tone) for name, tone in tones.items() if tone.strokes != "plain"]
    )


def _pattern(name: str, tone: Tone) -> svg.Pattern:
    ground = svg.Rect(x=0, y=0, width=_SIZE, height=_SIZE, fill=tone.ground)
    strokes: list[svg.Element] = [
        svg.Line(x1=x1, y1=y1, x2=x2, y2=y2, stroke=tone.ink, stroke_width=3.5, stroke_opacity=0.55)
        for x1, y1, x2, y2 in _ENDS[tone.strokes]
    ]
    return svg.Pattern(
        id=f"tone-{name}",
        width=_SIZE,
        height=_SIZE,
        patternUnits="userSpaceOnUse",
        elements=[ground, *strokes],
    )


def _slug(role: str) -> str:
    return re.sub(r"[^a-z0-9]+", "-", role.lower()).strip("-")
