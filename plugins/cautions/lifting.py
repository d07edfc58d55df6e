"""What people lift together, and how much of a wall they carry while they tilt it up."""

from __future__ import annotations

import itertools
from collections.abc import Iterator, Sequence
from typing import Final

from soleplate.engine.rules import Building, Finding, FindingKind, Point, TopLine, WallOut

LIFT_EACH: Final = 25.0
"""kg a person, held close to the body between knuckle and elbow (HSE manual handling guideline filter, as
restated by others; it is no limit)."""

OF_THE_SUM: Final = (1.0, 2 / 3, 1 / 2)
"""What one, two and three people lift together, of the sum of what each can lift (HSE L23, paragraph 120)."""

MOST_TOGETHER: Final = 4
"""More people are unlikely to work well as a team (HSE L23, paragraph 120)."""

HAND_HEIGHT: Final = 1400.0
"""mm. As high as hands hold a wall while it is tilted up (common practice, no source)."""

ROOM_TO_STAND: Final = 600.0
"""mm outside a wall; with less, its boards go on before it is raised (common practice, no source)."""

HEAVY_WALL: Final = FindingKind(
    "heavy-wall",
    "warn",
    "HSE manual handling filter, as restated (no limit); HSE L23 paragraphs 119, 120 for two and three",
    "the {what} {weight:.0f} kg, over {most:g} kg for {who} (25 kg each, held close between knuckle and"
    " elbow; less from the deck); tilting it up takes {tilting:.0f} kg: get help, make it in parts, or"
    " frame it standing",
)

PUBLISHED_FOR_THREE: Final = "; no figure is published for four: half is taken, and more are no help"


def team_lift(people: int) -> float:
    """What so many people lift together, kg.

    For four no figure is published: half of their sum, as for three. More lift no more.
    """
    team = min(people, MOST_TOGETHER)
    return LIFT_EACH * team * OF_THE_SUM[min(team, len(OF_THE_SUM)) - 1]


def tilting_share(centre: float, height: float, hands: float = HAND_HEIGHT) -> float:
    """The most of a wall's weight that is carried while it is tilted up from lying, its foot on the deck.

    At an angle a the weight turns about the foot at `centre` cos a, and hands hold it at its head, or where
    it passes their own height, whichever is nearer along it. The share centre cos a / min(height, hands /
    sin a) is largest lying, where it is centre / height, or at 45 degrees, where it is centre / (2 hands).

    Args:
        centre: height of the centre of gravity of the standing wall, mm.
        height: of the standing wall, mm.
        hands: how high hands hold it, mm.
    """
    return max(centre / height, centre / (2 * hands))


def heavy(wall: WallOut, building: Building) -> Iterator[Finding]:
    """Whether a wall is too heavy to lift.

    Boards count where they must go on first; what finishes openings is fitted once it stands.
    """
    people = building.site.people
    most = team_lift(people)
    clad_first = building.site.room.get(wall.name, ROOM_TO_STAND) < ROOM_TO_STAND
    fitted = {mark for opening in wall.openings if opening.finish for mark in opening.finish.pieces}
    lifted = [
        piece
        for piece in wall.pieces
        if piece.is_frame or (clad_first and piece.face == "outside" and piece.mark not in fitted)
    ]
    weight = round(sum(piece.weight_kg for piece in lifted), 3)
    if weight <= most:
        return
    x, z = _centre([(_middle(piece.outline), piece.weight_kg) for piece in lifted])
    share = tilting_share(z, TopLine(wall.top_line).at(x))
    yield HEAVY_WALL.of(
        part=wall.name,
        value=weight,
        limit=round(most, 3),
        basis=HEAVY_WALL.basis + (PUBLISHED_FOR_THREE if people > len(OF_THE_SUM) else ""),
        what="frame and its cladding weigh" if clad_first and wall.cladding else "frame weighs",
        weight=weight,
        most=round(most, 1),
        who="one person" if people == 1 else f"{people} people",
        tilting=share * weight,
    )


def _centre(weights: Sequence[tuple[Point, float]]) -> Point:
    """The centre of gravity of weights at points, mm."""
    total = sum(weight for _, weight in weights)
    return (
        sum(x * weight for (x, _), weight in weights) / total,
        sum(z * weight for (_, z), weight in weights) / total,
    )


def _middle(outline: Sequence[Point]) -> Point:
    """The centroid of an outline, mm."""
    x0, z0 = outline[0]
    triangles = []
    for (x1, z1), (x2, z2) in itertools.pairwise(outline[1:]):
        area = (x1 - x0) * (z2 - z0) - (x2 - x0) * (z1 - z0)
        triangles.append((((x0 + x1 + x2) / 3, (z0 + z1 + z2) / 3), area))
    return _centre(triangles)
