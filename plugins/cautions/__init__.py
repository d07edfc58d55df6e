"""Checks of a finished layout: what a builder should look at again. Advisory, never an approval."""

from __future__ import annotations

import itertools
from collections.abc import Iterable, Iterator, Sequence
from typing import Final

from soleplate.engine.rules import (
    NAILING_ROOM,
    PRACTICE,
    UNKNOWN_DENSITY,
    BayOut,
    Building,
    Count,
    Finding,
    FindingKind,
    FloorOut,
    Layout,
    Mm,
    OpeningOut,
    PartOut,
    Piece,
    Rule,
    SingleWalls,
    Timber,
    WallOut,
    all_picked,
    at_most,
    hookimpl,
    said,
)
from soleplate.plugins.cautions.heights import KINDS as HEIGHT_KINDS
from soleplate.plugins.cautions.heights import tall
from soleplate.plugins.cautions.lifting import HEAVY_WALL, heavy
from soleplate.plugins.cautions.limits import SAME
from soleplate.plugins.cautions.lintels import KINDS as LINTEL_KINDS
from soleplate.plugins.cautions.lintels import lintels
from soleplate.plugins.cautions.panels import (
    BOARDS_OVER_BREAKS,
    PLATES_NOT_TIED,
    panels,
)
from soleplate.plugins.cautions.tees import TEE_NAILED, TEE_UNPACKED, tees
from soleplate.plugins.cautions.thresholds import KINDS as THRESHOLDS
from soleplate.plugins.cautions.thresholds import thresholds

__all__ = ["check_layout", "register_finding_kinds"]

WIDEST_CENTRES: Final = 600.0
"""mm (NHBC Standards 6.3.9 Table 3: studs at most 600 mm apart)."""

WIDEST_UNDER_ROOF: Final = ((89.0, 600.0), (64.0, 400.0))
"""mm. Depth of a stud and its widest centres in an outside wall under a roof alone (National Building Code
of Canada, Table 9.23.10.1)."""

WIDE_BAY: Final = FindingKind(
    "wide-bay",
    "warn",
    "NHBC Standards 6.3.9 Table 3 (studs of partitions at most 600 mm apart)",
    "{count} wider than {widest_centres} from centre to centre, up to {spacing}; check what"
    " the lining and the cladding can span",
)

WIDE_FOR_STUD: Final = FindingKind(
    "wide-for-stud",
    "note",
    "National Building Code of Canada, Table 9.23.10.1, roof load alone",
    "studs {depth} deep stand up to {spacing} apart from centre to centre under a roof; by"
    " one building code's table {allowed}: ask what holds where you are",
)

NARROW_BAY: Final = FindingKind(
    "narrow-bay",
    "warn",
    PRACTICE,
    "{count} too narrow to nail in, the one at {place} {clear} wide; move a {upright}, or nail"
    " these before the {what} is closed",
)

LOOSE_WALLS: Final = FindingKind(
    "no-bracing",
    "note",
    PRACTICE,
    "nothing in the layout braces this frame: fix it to what stands at its ends, above and"
    " below, and prop it until then",
)

NO_BRACING: Final = FindingKind(
    "no-bracing",
    "warn",
    "Miller, Carpenters' Guide (temporary braces stay until the frame is sheathed)",
    "nothing in the layout keeps the walls from racking: brace them with diagonals or sheets, and keep"
    " temporary braces on until they are sheathed or braced for good",
)

NO_LINTEL: Final = FindingKind(
    "no-lintel",
    "warn",
    "NHBC Standards 6.3.5 (a lintel at each opening of a loadbearing wall that changes the stud spacing)",
    "{name} has no lintel, and the roof rests on this wall: the top plate has no stud under"
    " it for {spacing} from centre to centre; give it a lintel known to be enough",
)

DENSITY_UNKNOWN: Final = FindingKind(
    "unknown-density",
    "note",
    PRACTICE,
    "{material} is of unknown density and weighed at {density:.0f} kg/m3, in"
    " {walls}; give its density for true weights",
)


@hookimpl
def check_layout(layout: Layout, building: Building) -> Iterable[Finding]:
    """Return findings on bays, openings, bracing, weights and materials."""
    found: list[Finding] = []
    for wall in layout.walls:
        studs = [piece for piece in wall.pieces if layout.role_of(piece).full_height]
        found += _wide_bays(wall, studs)
        found += _narrow_bays(wall, "stud")
        if _carries_roof(wall, building):
            found += _wide_for_the_stud(wall, studs)
            found += _openings_without_lintel(wall, studs)
            found += lintels(wall, layout)
            found += tall(wall, studs)
        found += heavy(wall, building)
        found += panels(wall, layout)
        if wall.faces is not None:
            found += tees(wall, layout)
    for floor in layout.floors:
        found += _narrow_bays(floor, "joist")
    for slope in layout.roofs:
        found += _narrow_bays(slope, "rafter")
    found += _unbraced(layout, building)
    found += _unknown_densities(layout, building)
    found += thresholds(layout, building)
    return found


def _left(piece: Piece) -> float:
    """Along its part; of a rafter, whose outline is its side, along the eaves."""
    return piece.depth[0] if piece.view == "side" else min(x for x, _ in piece.outline)


def _right(piece: Piece) -> float:
    return piece.depth[1] if piece.view == "side" else max(x for x, _ in piece.outline)


def _beside(wall: PartOut, bay: BayOut) -> tuple[str, ...]:
    """The marks of the uprights at both sides of a bay, as the first plate or rim joist has them."""
    feet = {mark.mark for mark in next(iter(wall.marks.values()), ())}
    return tuple(
        piece.mark
        for piece in wall.pieces
        if piece.mark in feet and (abs(_right(piece) - bay.from_) < SAME or abs(_left(piece) - bay.to) < SAME)
    )


def _in_opening(wall: WallOut, bay: BayOut, breadth: float) -> bool:
    return any(
        bay.from_ > opening.left - SAME - breadth and bay.to < opening.right + SAME + breadth
        for opening in wall.openings
    )


def _breadth(studs: Sequence[Piece]) -> float:
    """Of the studs of a wall, mm."""
    return _right(studs[0]) - _left(studs[0]) if studs else 0.0


def _wide_bays(wall: WallOut, studs: Sequence[Piece]) -> Iterator[Finding]:
    """The widest bay that the lining or cladding has to span, once for each wall.

    `studs` are what runs from plate to plate.
    """
    breadth = _breadth(studs)
    wide = [
        bay
        for bay in wall.bays
        if bay.clear + breadth > WIDEST_CENTRES + SAME and not _in_opening(wall, bay, breadth)
    ]
    if not wide:
        return
    widest = max(wide, key=lambda bay: bay.clear)
    spacing = round(widest.clear + breadth, 3)
    yield WIDE_BAY.of(
        part=wall.name,
        pieces=_beside(wall, widest),
        value=spacing,
        limit=WIDEST_CENTRES,
        count=Count(len(wide), "bay is", "bays are"),
        widest_centres=Mm(WIDEST_CENTRES, ".0f"),
        spacing=at_most(spacing, ".0f"),
    )


def _wide_for_the_stud(wall: WallOut, studs: Sequence[Piece]) -> Iterator[Finding]:
    """The widest bay between studs too shallow to carry a roof so far apart, once for each wall."""
    across = _breadth(studs)
    open_bays = [bay for bay in wall.bays if not _in_opening(wall, bay, across)]
    if not studs or not open_bays:
        return
    breadth, depth = min((stud.section for stud in studs), key=lambda section: section[1])
    limit = next((widest for least, widest in WIDEST_UNDER_ROOF if depth >= least - SAME), 0.0)
    widest = max(open_bays, key=lambda bay: bay.clear)
    spacing = round(widest.clear + breadth, 3)
    # Over the widest of the table the bay is too wide for the lining already, which says enough.
    if not limit < spacing - SAME or limit >= WIDEST_CENTRES:
        return
    allowed = (
        said("they may stand {limit} apart there", limit=Mm(limit, ".0f"))
        if limit
        else "they are not in the table"
    )
    yield WIDE_FOR_STUD.of(
        part=wall.name,
        pieces=_beside(wall, widest),
        value=spacing,
        limit=limit,
        depth=Mm(depth),
        spacing=at_most(spacing, ".0f"),
        allowed=allowed,
    )


def _narrow_bays(part: PartOut, upright: str) -> Iterator[Finding]:
    """The narrowest bay that a hammer has no room in, once for each wall, floor or slope."""
    narrow = [bay for bay in part.bays if bay.clear < NAILING_ROOM]
    if not narrow:
        return
    narrowest = min(narrow, key=lambda bay: bay.clear)
    yield NARROW_BAY.of(
        part=part.name,
        pieces=_beside(part, narrowest),
        value=narrowest.clear,
        limit=NAILING_ROOM,
        count=Count(len(narrow), "bay is", "bays are"),
        place=Mm(narrowest.from_, ".0f"),
        clear=Mm(narrowest.clear, ".0f"),
        upright=upright,
        what="floor" if isinstance(part, FloorOut) else "wall" if isinstance(part, WallOut) else "roof",
    )


def _carries_roof(wall: WallOut, building: Building) -> bool:
    """Whether rafters rest on a wall: on those that say so, else on every one with a level top."""
    if isinstance(building.outline, SingleWalls):
        return any(single.name == wall.name and single.carries_roof for single in building.outline.walls)
    heights = [z for _, z in wall.top_line]
    return max(heights) - min(heights) < SAME


def _openings_without_lintel(wall: WallOut, studs: Sequence[Piece]) -> Iterator[Finding]:
    breadth = _breadth(studs)
    roles = {piece.mark: piece.role for piece in wall.pieces}
    for opening in wall.openings:
        spacing = _widest_gap(studs, opening) + breadth
        if spacing <= WIDEST_CENTRES + SAME or any(roles.get(mark) == "lintel" for mark in opening.pieces):
            continue
        yield NO_LINTEL.of(
            part=wall.name,
            pieces=opening.pieces,
            value=round(spacing, 3),
            limit=WIDEST_CENTRES,
            name=opening.name,
            spacing=Mm(spacing, ".0f"),
        )


def _widest_gap(studs: Sequence[Piece], opening: OpeningOut) -> float:
    """The widest gap in an opening between studs that run from plate to plate, mm."""
    edges = [opening.left, opening.right]
    for piece in studs:
        if _left(piece) < opening.right and _right(piece) > opening.left:
            edges += [_left(piece), _right(piece)]
    edges.sort()
    return max(right - left for left, right in itertools.pairwise(edges))


def _unbraced(layout: Layout, building: Building) -> Iterator[Finding]:
    if any(layout.role_of(piece).braces and piece.face != "inside" for piece in layout.pieces):
        return
    if any(wall.braces for wall in layout.walls):
        return
    outline = building.outline
    if isinstance(outline, SingleWalls) and not any(wall.carries_roof for wall in outline.walls):
        yield LOOSE_WALLS.of()
        return
    yield NO_BRACING.of()


def _unknown_densities(layout: Layout, building: Building) -> Iterator[Finding]:
    frames = [building.frame, *(block.frame for block in building.walls.values() if block.frame is not None)]
    known = {frame.material for frame in frames if frame.density is not None}
    told = (rule for rule in all_picked(building, Rule) if getattr(rule, "density", None) is not None)
    known |= {getattr(rule, "material", "") for rule in told}
    used: dict[str, list[str]] = {}
    for part in layout.parts:
        for material in {piece.material for piece in part.pieces} - known:
            if not Timber.named(material).known:
                used.setdefault(material, []).append(part.name)
    for material, walls in sorted(used.items()):
        yield DENSITY_UNKNOWN.of(
            value=UNKNOWN_DENSITY,
            material=material,
            density=UNKNOWN_DENSITY,
            walls=", ".join(walls[:12]),
        )


@hookimpl
def register_finding_kinds() -> list[FindingKind]:
    """Offer the kinds of findings."""
    return [
        WIDE_BAY,
        WIDE_FOR_STUD,
        NARROW_BAY,
        HEAVY_WALL,
        BOARDS_OVER_BREAKS,
        PLATES_NOT_TIED,
        TEE_NAILED,
        TEE_UNPACKED,
        LOOSE_WALLS,
        NO_BRACING,
        NO_LINTEL,
        DENSITY_UNKNOWN,
        *LINTEL_KINDS,
        *THRESHOLDS,
        *HEIGHT_KINDS,
    ]
