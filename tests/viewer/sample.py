"""Layouts for the viewer's tests: the honey house, one drawn by hand, and one with hostile names."""

from __future__ import annotations

import json
from functools import lru_cache
from typing import Any

from soleplate.engine.layout import (
    BuyingRow,
    Change,
    CutEnd,
    CuttingRow,
    FindingOut,
    Layout,
    Mark,
    OpeningOut,
    Piece,
    PlanOut,
    PlateLength,
    WallOut,
)
from tests.buildings import BARE_HONEY_HOUSE, layout_of

HOSTILE = "</script><script>alert(1)</script>\"'><img src=x onerror=alert(2)>&lt;"
"""Longer than a building file lets a name be; a layout takes it whole."""

SQUARE = (CutEnd(cut="square"), CutEnd(cut="square"))


@lru_cache(maxsize=1)
def honey_house() -> Layout:
    return layout_of(json.loads(BARE_HONEY_HOUSE.read_text()))


def one_piece(name: str, role: str = "stud") -> Layout:
    """A wall of one piece under a gable, everything that a person can name called `name`."""
    piece = Piece(
        mark=name, role=role, section=(45, 70), material=name, length=600.0, short_length=600.0,
        display="600 mm", ends=SQUARE,
        outline=((100.25, 0.0), (145.25, 0.0), (145.25, 600.0), (100.25, 600.0)),
        depth=(0.0, 70.0), grade="straight", weight_kg=0.7,
    )  # fmt: skip
    opening = OpeningOut(
        name=name,
        kind="window",
        left=300.0,
        right=700.0,
        bottom=200.0,
        top=500.0,
        framing=name,
        pieces=(name,),
    )
    wall = WallOut(
        name=name, length=1000.0, display="1000 mm",
        plan=PlanOut(start=(0.0, 0.0), direction=0.0, depth=70.0), views={},
        top_line=((0.0, 600.0), (500.0, 900.0), (1000.0, 600.0)),
        rules={"studs": name}, pieces=(piece,), marks={name: (Mark(at=100.25, display=name, mark=name),)},
        plate_lengths=(
            PlateLength(
                plate=name, mark=name, start=0.0, display=name, alone=False,
                marks=(Mark(at=100.25, display=name, mark=name),),
            ),
        ),
        bays=(), spacers=(), openings=(opening,), weight_kg=0.7,
        changes=(Change(mark=name, what="length", before=1.0, after=2.0, display=name),),
    )  # fmt: skip
    row = CuttingRow(
        section=(45, 70), material=name, grade="straight", role=role, length=600.0, short_length=600.0,
        trim_allowance=0.0, display="600 mm", short_display="600 mm", ends=SQUARE, count=1, gangs=(1,),
        marks=(name,),
    )  # fmt: skip
    bought = BuyingRow(
        section=(45, 70), material=name, pieces=1, total_length=600.0, display=name, longest=600.0,
        volume_m3=0.001, weight_kg=0.7,
    )  # fmt: skip
    finding = FindingOut(level="warn", code="x", message=name, wall=name, pieces=(name,), basis=name)
    return Layout(
        name=name, units="mm", building={}, walls=(wall,), cutting_list=(row,), buying_list=(bought,),
        findings=(finding,), cautions=(name,), weight_kg=0.7,
    )  # fmt: skip


def hostile_building() -> dict[str, Any]:
    """A building file whose names are as hostile as a name may be."""
    return {
        "format": "soleplate.building/1",
        "name": HOSTILE[:60].rstrip(),
        "frame": {"section": [45, 70], "material": "<b>C16</b>"},
        "outline": {
            "walls": [
                {"name": "<script>alert(1)</script>", "length": 2000},
                {"name": '"><img src=x>', "length": 900},
            ]
        },
        "roof": {"form": "level", "height": 2100},
    }
