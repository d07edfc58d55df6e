"""What can go wrong, and who is at fault.

    EngineError
    ├── BuildingError        the building file: one or more faults, each with its place
    │   ├── UnreadableError  not JSON, or JSON that two readers could read differently
    │   ├── SchemaError      the published JSON Schema says no
    │   └── UnbuildableError well-formed, but it cannot be set out
    │       └── TooManyPiecesError more pieces than this call may have
    └── PluginError          a plugin, by name
        ├── PluginLoadError  it cannot be imported, or what it offers is half made
        │   └── UnknownPluginError  one is to be left out that is not there
        ├── PluginClashError two plugins offer the same name
        └── RuleError        one of its rules failed, or returned what cannot be, while laying out

    KeyboardInterrupt
    └── Interrupted          the user stopped the program while a rule was asked

Each carries data; the text is made from it. Nothing here knows of HTTP.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass, replace
from typing import Self

from soleplate.engine.building_file.figures import Figure, Said, said
from soleplate.engine.building_file.units import Units


def pointer_to(*steps: str | int) -> str:
    """The JSON pointer (RFC 6901) to where the steps lead; `""` without any."""
    return "".join(f"/{str(step).replace('~', '~0').replace('/', '~1')}" for step in steps)


@dataclass(frozen=True, slots=True)
class Fault:
    """One thing that is wrong in a document.

    `pointer` is a JSON pointer (RFC 6901) into it, `""` for the whole; `said` says what is wrong and what
    would be accepted. It is told in the `units` of the document.
    """

    pointer: str
    said: Said | str
    units: Units = "mm"

    @property
    def message(self) -> str:
        """In words."""
        return self.told({})

    def told(self, sentences: Mapping[str, str]) -> str:
        """In the words of another language: `sentences` are its own, by ours."""
        if isinstance(self.said, str):
            return self.said
        return self.said.translated(sentences).told(self.units)

    def __str__(self) -> str:
        return f"{self.pointer or '(the whole file)'}: {self.message}"


class EngineError(Exception):
    """Base of everything that Soleplate raises on purpose."""


class BuildingError(EngineError):
    """The building file, or another document sent in, is at fault."""

    def __init__(self, faults: Iterable[Fault]) -> None:
        self.faults = tuple(faults)
        super().__init__("\n".join(map(str, self.faults)))

    @classmethod
    def at(cls, pointer: str, sentence: str | Said, **figures: Figure) -> Self:
        """An error with one fault: a sentence and its figures."""
        return cls([Fault(pointer, said(sentence, **figures) if isinstance(sentence, str) else sentence)])


@contextmanager
def telling(units: Units) -> Iterator[None]:
    """Faults that are raised within are told in this unit.

    Raises:
        BuildingError: as it was raised.
    """
    try:
        yield
    except BuildingError as error:
        raise type(error)(replace(fault, units=units) for fault in error.faults) from None


class UnreadableError(BuildingError):
    """Not JSON, or JSON with a doubled key, a number that is none, or too deep a nesting."""


class SchemaError(BuildingError):
    """The document breaks the published JSON Schema."""


class UnbuildableError(BuildingError):
    """The document is well-formed and describes something that cannot be set out."""


class TooManyPiecesError(UnbuildableError):
    """The building has more pieces than are laid out at once."""
