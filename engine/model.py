"""The base of every document model, and the types of its numbers.

A model is frozen, refuses unknown members and refuses `NaN` and infinities. Lengths are floats in mm
once read; while reading, a bare number is in the building file's own unit, and a text carries its unit.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Annotated, Any, Final

from pydantic import BaseModel, BeforeValidator, ConfigDict, Field, GetCoreSchemaHandler, GetJsonSchemaHandler
from pydantic import ValidationInfo as Info
from pydantic.json_schema import JsonSchemaValue
from pydantic_core import CoreSchema, PydanticCustomError, core_schema

from soleplate.engine.units import ACCEPTED, LENGTH_PATTERN, LONGEST_TEXT, MM_PER_UNIT, parse_length

LONGEST: Final = 100_000.0
"""No length in a building file is over 100 m: more is a slip of the unit, not a small building."""

UNBUILDABLE: Final = "unbuildable"
"""The error type of a value that the JSON Schema lets through and that no building can have."""


class Model(BaseModel):
    """Base of every document model: frozen, strict, no unknown members."""

    model_config = ConfigDict(
        frozen=True,
        extra="forbid",
        strict=True,
        allow_inf_nan=False,
        use_attribute_docstrings=True,
        validate_by_name=True,
        validate_by_alias=True,
        serialize_by_alias=True,
    )


def unbuildable(message: str) -> PydanticCustomError:
    """An error, to be raised in a validator, for something well-formed that cannot be set out."""
    return PydanticCustomError(UNBUILDABLE, "{message}", {"message": message})


def _read_length(value: object, info: Info) -> float:
    if isinstance(value, str):
        try:
            return parse_length(value)
        except ValueError as error:
            raise PydanticCustomError("length", "{message}", {"message": str(error)}) from None
    if isinstance(value, bool) or not isinstance(value, int | float):
        raise PydanticCustomError("length", "not a length; accepted is {accepted}", {"accepted": ACCEPTED})
    unit = info.context.get("units", "mm") if isinstance(info.context, dict) else "mm"
    return float(value) * MM_PER_UNIT[unit]


_LENGTH_SCHEMA: Final[JsonSchemaValue] = {
    "anyOf": [
        {"type": "number", "minimum": -LONGEST, "maximum": LONGEST},
        {"type": "string", "maxLength": LONGEST_TEXT, "pattern": LENGTH_PATTERN},
    ],
}


@dataclass(frozen=True, slots=True)
class Limits:
    """The least and greatest value, in mm, of a length; stated in the schema's description."""

    least: float
    most: float = LONGEST

    def __get_pydantic_core_schema__(self, source: Any, handler: GetCoreSchemaHandler) -> CoreSchema:
        """Check the limits once the length is in mm."""
        return core_schema.no_info_after_validator_function(self._check, handler(source))

    def __get_pydantic_json_schema__(
        self, schema: CoreSchema, handler: GetJsonSchemaHandler
    ) -> JsonSchemaValue:
        """Publish the limits as `x-least-mm` and `x-most-mm`: a bare number may be in inches."""
        return handler(schema) | {"x-least-mm": self.least, "x-most-mm": self.most}

    def _check(self, value: float) -> float:
        if not self.least <= value <= self.most:
            raise unbuildable(f"{value:g} mm; accepted is {self.least:g} to {self.most:g} mm")
        return value


class _LengthSchema:
    """Publishes a length as a number or a text with its unit."""

    def __get_pydantic_json_schema__(
        self, schema: CoreSchema, handler: GetJsonSchemaHandler
    ) -> JsonSchemaValue:
        return dict(_LENGTH_SCHEMA)


Coordinate = Annotated[float, BeforeValidator(_read_length), _LengthSchema()]
"""A position in mm, of either sign."""

Length = Annotated[Coordinate, Limits(0.001)]
"""A length in mm, over zero and at most 100 m."""

Distance = Annotated[Coordinate, Limits(0.0)]
"""A length in mm that may be zero."""

Name = Annotated[str, Field(min_length=1, max_length=60, pattern=r"^\S(.*\S)?$")]
"""What a person calls a thing: 1 to 60 characters, no space at either end."""
