"""What a plugin may add besides rules: layers on a drawing, and exports of a layout."""

from __future__ import annotations

from abc import ABC, abstractmethod
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import ClassVar

from soleplate.engine.building_file import Model
from soleplate.engine.layout import Layout, WallOut
from soleplate.engine.shapes import Outline, Point


@dataclass(frozen=True, slots=True)
class DrawnLine:
    """A line through points of the wall's face, mm; `title` says what it is."""

    points: tuple[Point, ...]
    title: str = ""


@dataclass(frozen=True, slots=True)
class DrawnArea:
    """A closed area of the wall's face, mm."""

    outline: Outline
    title: str = ""


@dataclass(frozen=True, slots=True)
class DrawnText:
    """A text centred on a place of the wall's face, mm."""

    at: Point
    text: str


Drawn = DrawnLine | DrawnArea | DrawnText
"""What a layer draws."""


class DrawingLayer(ABC):
    """A layer of the elevations, switched on and off by its name."""

    name: ClassVar[str]
    """In kebab-case, and new."""

    @abstractmethod
    def draw(self, wall: WallOut, layout: Layout) -> Sequence[Drawn]:
        """Return what to draw on a wall, in its own x and z, mm."""


class ExportOptions(Model):
    """What can be asked of an exporter. Each field has a default and a docstring, and is a simple value."""


class Exporter(ABC):
    """An export of a layout to a file."""

    name: ClassVar[str]
    """In kebab-case, and new."""
    media_type: ClassVar[str]
    suffix: ClassVar[str]
    """Of the file's name, with its dot."""
    options: ClassVar[type[ExportOptions]] = ExportOptions
    """The model of its options; none unless it says so."""

    def wants(self) -> str | None:
        """What is to be installed before anything can be exported, in a sentence; `None` if it is there."""
        return None

    def lacking(self, layout: Layout) -> str | None:
        """Why there is nothing to export, in a sentence; `None` where there is something."""
        return self.wants()

    @abstractmethod
    def export(self, layout: Layout) -> bytes:
        """Return the file; the same bytes for the same layout."""

    def export_with(self, layout: Layout, options: ExportOptions) -> bytes:
        """Return the file as asked for; `options` is an instance of this exporter's own model."""
        return self.export(layout)

    def files(self, layout: Layout, options: ExportOptions) -> Mapping[str, bytes]:
        """Return what goes into a layout's folder, by file name: the one file, unless there are several."""
        return {f"{self.name}{self.suffix}": self.export_with(layout, options)}
