"""What people lift together, and how much of a wall they carry while they tilt it up."""

from __future__ import annotations

from typing import Final

LIFT_EACH: Final = 25.0
"""kg a person, held close to the body between knuckle and elbow (HSE manual handling guideline filter, as
restated by others; it is no limit)."""

OF_THE_SUM: Final = (1.0, 2 / 3, 1 / 2)
"""What one, two and three people lift together, of the sum of what each can lift (HSE L23, paragraph 120)."""

MOST_TOGETHER: Final = 4
"""More people are unlikely to work well as a team (HSE L23, paragraph 120)."""

HAND_HEIGHT: Final = 1400.0
"""mm. As high as hands hold a wall while it is tilted up (common practice, no source)."""


def team_lift(people: int, each: float = LIFT_EACH) -> float:
    """What so many people lift together, kg.

    For four no figure is published: half of their sum, as for three. More lift no more.

    Args:
        people: how many.
        each: what one of them lifts, kg.
    """
    team = min(people, MOST_TOGETHER)
    return each * team * OF_THE_SUM[min(team, len(OF_THE_SUM)) - 1]


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
