"""The generated buildings on which plugins are tried: building files, the same ones every time.

They bring what a rule has to stand up to: short and long walls, level, sloping and gable tops, thin and
square timber, openings to the floor and under the plate, corners of each kind, tees and laps.
"""

from __future__ import annotations

import random
from collections.abc import Mapping
from typing import Any, Final

SEED: Final = 1850
"""Of the drawn buildings; any number would do, and it stays."""

DRAWN: Final = 8
"""Buildings drawn by chance, besides those that are written below."""

DOOR: Final[dict[str, Any]] = {
    "name": "door", "kind": "door", "width": 900, "height": 1850, "at": {"left": 500},
}  # fmt: skip
WINDOW: Final[dict[str, Any]] = {
    "name": "window", "kind": "window", "width": 1100, "height": 600, "sill": 950, "at": {"right": 500},
}  # fmt: skip
MIDDLE: Final[dict[str, Any]] = {**WINDOW, "at": {"centre": 2250}}
OVER_DOOR: Final[dict[str, Any]] = {
    "name": "fanlight", "kind": "window", "width": 900, "height": 400, "sill": 2000, "at": {"left": 520},
}  # fmt: skip
HATCH: Final[dict[str, Any]] = {
    "name": "hatch", "kind": "gap", "width": 350, "height": 400, "sill": 300, "at": {"centre": 1300},
}  # fmt: skip


def building(
    name: str,
    *,
    section: tuple[float, float] = (45, 70),
    outline: Mapping[str, Any] | None = None,
    roof: Mapping[str, Any] | None = None,
    walls: Mapping[str, Any] | None = None,
) -> dict[str, Any]:
    """A building file that chooses no rules."""
    return {
        "format": "soleplate.building/1",
        "name": name,
        "frame": {"section": list(section)},
        "outline": dict(outline or {"length": 4500, "width": 2700, "through": "front-back"}),
        "roof": dict(roof or {"form": "level", "height": 2300}),
        "walls": dict(walls or {}),
    }


def buildings() -> list[dict[str, Any]]:
    """All of them, the usual ones first."""
    mono = {"form": "mono-pitch", "high_side": "front", "low_height": 1960, "pitch": 6}
    steep = {"form": "mono-pitch", "high_side": "left", "low_height": 700, "pitch": 45}
    gable = {"form": "duo-pitch", "ridge": "front-back", "low_height": 2000, "pitch": 35}
    offset = {**gable, "ridge": "left-right", "pitch": 20, "ridge_offset": 400}
    plan_l = {"corners": [[0, 0], [5000, 0], [5000, 4000], [2400, 4000], [2400, 2200], [0, 2200]]}
    narrow = {"length": 1800, "width": 2400, "through": "left-right"}
    tees = {
        "length": 4200, "width": 3000, "through": "pinwheel",
        "partitions": [{"name": "inside", "runs": "front-back", "at": 1700}],
    }  # fmt: skip
    return [
        building(
            "a shed under a mono-pitch roof",
            roof=mono,
            walls={"front": {"openings": [DOOR, WINDOW]}, "left": {"openings": [HATCH]}},
        ),
        building("one level wall of 3.6 m", outline=_alone(3600)),
        building(
            "a gabled hut with a window in each gable",
            section=(38, 89),
            roof=gable,
            walls={"front": {"openings": [WINDOW]}, "back": {"openings": [MIDDLE]}},
        ),
        building("a pinwheel with a partition", outline=tees),
        building("an L with a re-entrant corner", outline=plan_l, section=(47, 97)),
        building("one very short wall", outline=_alone(400)),
        building("one wall of 12 m", outline=_alone(12_000), section=(47, 147)),
        building("a low lean-to at 45 degrees", outline=narrow,
                 roof=steep),
        building("a hut with its ridge off centre", roof=offset, section=(95, 95)),
        building("a wall with a window over its door", outline=_alone(3000),
                 roof={"form": "level", "height": 2700},
                 walls={"partition": {"openings": [DOOR, OVER_DOOR]}}),
        *_drawn(),
    ]  # fmt: skip


def _alone(length: float) -> dict[str, Any]:
    return {"walls": [{"name": "partition", "length": length}]}


def _drawn() -> list[dict[str, Any]]:
    draw = random.Random(SEED)  # noqa: S311 - the same every time is wanted
    made: list[dict[str, Any]] = []
    for number in range(1, DRAWN + 1):
        roof = draw.choice(
            [
                {"form": "level", "height": draw.randint(900, 2700)},
                {"form": "mono-pitch", "high_side": draw.choice(["front", "right", "back", "left"]),
                 "low_height": draw.randint(900, 2300), "pitch": draw.randint(2, 40)},
                {"form": "duo-pitch", "ridge": draw.choice(["left-right", "front-back"]),
                 "low_height": draw.randint(900, 2300), "pitch": draw.randint(5, 50)},
            ]
        )  # fmt: skip
        opening = {
            **draw.choice([DOOR, WINDOW, HATCH]),
            "width": draw.randint(300, 1200),
            "height": draw.randint(200, 700),
            "at": {draw.choice(["left", "right"]): draw.randint(150, 900)},
        }
        made.append(
            building(
                f"drawn building {number}",
                section=draw.choice([(45, 70), (38, 63), (63, 38), (47, 145)]),
                outline={
                    "length": draw.randint(1500, 6500),
                    "width": draw.randint(1500, 4500),
                    "through": draw.choice(["front-back", "left-right", "pinwheel"]),
                },
                roof=roof,
                walls={"front": {"openings": [opening]}},
            )
        )
    return made
