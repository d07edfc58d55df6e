"""Plugins in one file, sound and faulty, as their authors would write them."""

from __future__ import annotations

STUDS = '''
from typing import Literal

from soleplate.engine.rules import hookimpl
from soleplate.engine.rules import StudRule


class Lonely(StudRule):
    """One stud in the middle."""

    examples = ({"rule": "lonely"},)
    rule: Literal["lonely"] = "lonely"

    def place_studs(self, run):
        BODY


@hookimpl
def register_rules():
    return [Lonely]
'''

SOUND = STUDS.replace("BODY", "return [run.left + (run.clear - run.breadth) / 2]")
FAILING = STUDS.replace("BODY", "return 1 / 0")
OVERLAPPING = STUDS.replace("BODY", "return [run.left + 100.0, run.left + 110.0]")
NOT_A_NUMBER = STUDS.replace("BODY", "return [float('nan')]")

LAYER = '''
from soleplate.engine.rules import DrawingLayer, DrawnLine, Exporter
from soleplate.engine.rules import hookimpl


class Level(DrawingLayer):
    """A line at 1 m."""

    name = "level-line"

    def draw(self, wall, layout):
        LAYER


class Names(Exporter):
    """The names of the walls."""

    name = "wall-names"
    media_type = "text/plain"
    suffix = ".txt"

    def export(self, layout):
        EXPORT


@hookimpl
def register_drawing_layers():
    return [Level]


@hookimpl
def register_exporters():
    return [Names]
'''

DRAWN = 'return [DrawnLine(((0.0, 1000.0), (wall.length, 1000.0)), "level line")]'
NAMES = 'return " ".join(wall.name for wall in layout.walls).encode()'


def layer(*, draw: str = DRAWN, export: str = NAMES) -> str:
    return LAYER.replace("LAYER", draw).replace("EXPORT", export)
