"""The base of what comes out."""

from __future__ import annotations

from pydantic import ConfigDict

from soleplate.engine.building_file import Model


class Result(Model):
    """Base of what comes out; built by the engine alone, hence not strict about lists and tuples."""

    model_config = ConfigDict(strict=False)


PointOut = tuple[float, float]
