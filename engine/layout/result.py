"""The bases of what comes out."""

from __future__ import annotations

from typing import ClassVar

from pydantic import ConfigDict

from soleplate.engine.building_file import Model


def is_empty(held: tuple[object, ...]) -> bool:
    """Whether there is nothing in it: a member that few layouts have is left out of the others."""
    return not held


class Result(Model):
    """Base of what comes out as a whole; built by us alone, hence not strict about lists and tuples."""

    model_config = ConfigDict(strict=False)


class Record:
    """Base of what a result is made of: a plain dataclass, since a layout has thousands."""

    __slots__ = ()
    __pydantic_config__: ClassVar[ConfigDict] = {**Model.model_config, "strict": False}
