"""Checks of cladding against weather and site: what to look at again. Advisory, never an approval."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import Final

from soleplate.engine.rules import (
    PRACTICE,
    Building,
    CladdingRule,
    Finding,
    FindingKind,
    Layout,
    Mm,
    Piece,
    Rectangle,
    WallOut,
    at_most,
    board_movement,
    hookimpl,
    movement_finding,
    picked,
)

SAME: Final = 0.5
"""mm. Over or under a limit by less than this is neither."""

CLEAR_OF_GROUND: Final = {"soil": 175.0, "paving": 100.0, "deck": 35.0}
GROUND_BASIS: Final = "E2/AS1 Table 18, as restated in appraisals (cladding over soil, paving and decks)"

SLIMMEST: Final = 6.0
WIDTH_BASIS: Final = "BS 8605-1:2014, as restated by the TDCA"

BATTEN_TO_BOARD: Final = 2.0
BATTEN_BASIS: Final = "TDCA drawing 2a (support battens at least twice as thick as the boards)"

LEAST_CAVITY: Final = 21.0
CAVITY_BASIS: Final = "TDCA (a clear cavity of 21 mm, ventilated and drained)"

ROOM_TO_STAND: Final = 600.0
"""mm that a person needs to swing a hammer or hold a driver to a wall (common practice, no source)."""


GROUND_UNKNOWN: Final = FindingKind(
    "ground-unknown",
    "note",
    GROUND_BASIS,
    "the building file does not say how high the sole plate stands over the ground; keep"
    " the lowest boards {least} and more over {surface}, out of the splash",
)

CLADDING_NEAR_GROUND: Final = FindingKind(
    "cladding-near-ground",
    "warn",
    GROUND_BASIS,
    "the lowest boards are {clear} over the {surface}; {least} and more keeps them out"
    " of the splash: raise the sole plate, or drop the first course less",
)

SHORT_LAP: Final = FindingKind(
    "short-lap", "warn", PRACTICE, "boards lap by {lap} on {names}; {least} and more keeps the weather out"
)

SHALLOW_CAVITY: Final = FindingKind(
    "shallow-cavity",
    "note",
    CAVITY_BASIS,
    "the cavity behind the boards is {cavity} deep on {names}; {least_cavity} and more dries and drains",
)

THIN_BATTEN: Final = FindingKind(
    "thin-batten",
    "note",
    BATTEN_BASIS,
    "battens {thick} thick hold upright boards on {names}; {wanted} and more, twice the"
    " boards' thickness, holds their fixings",
)

NO_ROOM_TO_CLAD: Final = FindingKind(
    "no-room-to-clad",
    "warn",
    PRACTICE,
    "there are {room} to stand in outside this wall, too few to fix boards: they must go on"
    " before it is raised, and make it heavier to lift",
)

WIDE_BOARD: Final = FindingKind(
    "wide-board",
    "note",
    WIDTH_BASIS,
    "boards {width} wide on {names} cup and split more easily than boards up to {widest}",
)

THIN_BOARD: Final = FindingKind(
    "thin-board",
    "warn",
    WIDTH_BASIS,
    "boards of {thickness} x {width} on {names} are {times:.1f} times as wide as thick;"
    " up to {slimmest:.0f} keeps them flat",
)


@hookimpl
def check_layout(layout: Layout, building: Building) -> Iterable[Finding]:
    """Return findings on what is out of doors: ground clearance, laps, widths, cavities, movement, room."""
    outline = building.outline
    inside = {each.name for each in outline.partitions} if isinstance(outline, Rectangle) else set()
    clad = [wall for wall in layout.walls if wall.cladding is not None and wall.name not in inside]
    found: list[Finding] = []
    found += _near_ground(clad, building)
    for walls in _alike(clad):
        own = building.walls.get(walls[0].name)
        for rule in picked(CladdingRule, own, building.defaults, member="cladding"):
            found += _short_laps(walls, rule)
            found += _wide_boards(walls, rule)
        found += _shallow_cavity(walls)
        found += _thin_battens(walls)
        found += _movement(walls, building.site.moisture_swing)
    for wall in clad:
        found += _no_room(wall, building)
    return found


def _alike(walls: Iterable[WallOut]) -> list[list[WallOut]]:
    """Walls in groups with the same rule and the same boards, so that what holds of all is said once."""
    groups: dict[object, list[WallOut]] = {}
    for wall in walls:
        assert wall.cladding is not None  # noqa: S101 - only clad walls come here
        sections = tuple(sorted({piece.section for piece in _boards(wall)}))
        key = (wall.cladding.rule, wall.cladding.cavity, wall.cladding.gap, sections)
        groups.setdefault(key, []).append(wall)
    return list(groups.values())


def _boards(wall: WallOut) -> list[Piece]:
    return [piece for piece in wall.pieces if piece.role == "board" and piece.face == "outside"]


def _names(walls: Iterable[WallOut]) -> str:
    return ", ".join(wall.name for wall in walls)


def _near_ground(walls: list[WallOut], building: Building) -> Iterator[Finding]:
    site = building.site
    limit = CLEAR_OF_GROUND[site.surface]
    if not walls:
        return
    lowest = min(wall.cladding.bottom for wall in walls if wall.cladding)
    if site.ground is None:
        yield GROUND_UNKNOWN.of(limit=limit, least=Mm(limit, ".0f"), surface=site.surface)
        return
    clear = site.ground + lowest
    if clear < limit - SAME:
        yield CLADDING_NEAR_GROUND.of(
            value=round(clear, 3),
            limit=limit,
            clear=Mm(clear, ".0f"),
            surface=site.surface,
            least=Mm(limit, ".0f"),
        )


def _short_laps(walls: list[WallOut], rule: CladdingRule) -> Iterator[Finding]:
    whole = any(piece.rip is None for wall in walls for piece in _boards(wall))
    if rule.weather_lap is None or not whole:
        return
    limit, basis = rule.weather_lap
    lap = min((wall.cladding.lap or 0.0 for wall in walls if wall.cladding), default=0.0)
    if lap < limit - SAME:
        yield SHORT_LAP.of(
            value=lap,
            limit=limit,
            basis=basis,
            lap=Mm(lap, ".0f"),
            names=_names(walls),
            least=Mm(limit, ".0f"),
        )


def _wide_boards(walls: list[WallOut], rule: CladdingRule) -> Iterator[Finding]:
    widest = rule.widest_board
    for thickness, width in sorted({piece.section for piece in _boards(walls[0])}):
        if width > widest + SAME:
            yield WIDE_BOARD.of(
                value=width,
                limit=widest,
                width=Mm(width, ".0f"),
                names=_names(walls),
                widest=at_most(widest, ".0f"),
            )
        if width / thickness > SLIMMEST + 0.01:
            yield THIN_BOARD.of(
                value=round(width / thickness, 3),
                limit=SLIMMEST,
                thickness=Mm(thickness, ".0f", bare=True),
                width=Mm(width, ".0f"),
                names=_names(walls),
                times=width / thickness,
                slimmest=SLIMMEST,
            )


def _shallow_cavity(walls: list[WallOut]) -> Iterator[Finding]:
    cladding = walls[0].cladding
    if cladding is not None and 0.0 < cladding.cavity < LEAST_CAVITY - SAME:
        yield SHALLOW_CAVITY.of(
            value=cladding.cavity,
            limit=LEAST_CAVITY,
            cavity=Mm(cladding.cavity, ".0f"),
            names=_names(walls),
            least_cavity=Mm(LEAST_CAVITY, ".0f"),
        )


def _thin_battens(walls: list[WallOut]) -> Iterator[Finding]:
    """Upright boards pull at their battens as they move: these want twice the boards' thickness."""
    boards = [piece for piece in _boards(walls[0]) if piece.course is None]
    battens = [piece for piece in walls[0].pieces if piece.role == "batten" and piece.face == "outside"]
    if not boards or not battens:
        return
    thick = max(battens, key=lambda piece: -piece.depth[0]).section[0]
    wanted = BATTEN_TO_BOARD * max(piece.section[0] for piece in boards)
    if thick < wanted - SAME:
        yield THIN_BATTEN.of(
            value=thick, limit=wanted, thick=Mm(thick, ".0f"), names=_names(walls), wanted=Mm(wanted, ".0f")
        )


def _movement(walls: list[WallOut], swing: float) -> Iterator[Finding]:
    """How much the widest boards swell and shrink, beside the gap that is left for it."""
    boards = _boards(walls[0])
    if walls[0].cladding is not None and boards:
        widest = max(boards, key=lambda piece: piece.section[1])
        movement = board_movement(widest.section[1], swing, walls[0].cladding.gap, widest.material)
        if len(walls) == 1:
            yield movement_finding(movement, walls[0].name, "")
        else:
            yield movement_finding(movement, None, f"{_names(walls)}: ")


def _no_room(wall: WallOut, building: Building) -> Iterator[Finding]:
    room = building.site.room.get(wall.name)
    if room is not None and room < ROOM_TO_STAND - SAME:
        yield NO_ROOM_TO_CLAD.of(part=wall.name, value=room, limit=ROOM_TO_STAND, room=Mm(room, ".0f"))


@hookimpl
def register_finding_kinds() -> list[FindingKind]:
    """Offer the kinds of findings."""
    return [
        GROUND_UNKNOWN,
        CLADDING_NEAR_GROUND,
        SHORT_LAP,
        SHALLOW_CAVITY,
        THIN_BATTEN,
        NO_ROOM_TO_CLAD,
        WIDE_BOARD,
        THIN_BOARD,
    ]
