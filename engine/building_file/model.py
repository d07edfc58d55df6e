"""The base of every document model, and the types of its numbers.

A model is frozen, refuses unknown members and refuses `NaN` and infinities. Lengths are floats in mm
once read; while reading, a bare number is in the building file's own unit, and a text carries its unit.
Written as JSON they are in the file's own unit again, so that what is written reads back as the same.
"""

from __future__ import annotations

import sys
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Annotated, Any, Final, TypeVar

from pydantic import (
    AfterValidator,
    BaseModel,
    BeforeValidator,
    ConfigDict,
    Field,
    GetCoreSchemaHandler,
    GetJsonSchemaHandler,
    PlainSerializer,
    SerializationInfo,
    ValidationInfo,
)
from pydantic.json_schema import JsonSchemaValue
from pydantic_core import CoreSchema, PydanticCustomError, PydanticKnownError, core_schema

from soleplate.engine.building_file.figures import Figure, Form, Mm, Reach, Said, said
from soleplate.engine.building_file.read_only import ReadOnlyDict
from soleplate.engine.building_file.units import (
    ACCEPTED,
    LENGTH_PATTERN,
    LONGEST_TEXT,
    MM_PER_UNIT,
    parse_length,
)

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


def unbuildable(sentence: str, **figures: Figure) -> PydanticCustomError:
    """An error, to be raised in a validator, for something well-formed that cannot be set out."""
    told = said(sentence, **figures)
    return PydanticCustomError(UNBUILDABLE, "{message}", {"message": told.told("mm"), "said": told})


def said_of(context: Mapping[str, Any]) -> Said | None:
    """What an error by `unbuildable` says, by its context; `None` of others."""
    found = context.get("said")
    return found if isinstance(found, Said) else None


def _unit(context: object) -> float:
    """The file's own unit in mm, from the context that a document is read or written with."""
    return MM_PER_UNIT[context.get("units", "mm") if isinstance(context, dict) else "mm"]


def _read_length(value: object, info: ValidationInfo) -> float:
    if isinstance(value, str):
        try:
            return parse_length(value)
        except ValueError as error:
            raise PydanticCustomError("length", "{message}", {"message": str(error)}) from None
    if isinstance(value, bool) or not isinstance(value, int | float):
        raise PydanticCustomError("length", "not a length; accepted is {accepted}", {"accepted": ACCEPTED})
    # Feet of what is almost infinite would be: the limits then refuse it as what it is, too large.
    return min(max(float(value) * _unit(info.context), -sys.float_info.max), sys.float_info.max)


def _write_length(mm: float, info: SerializationInfo) -> float:
    """In the file's own unit; what multiplying by it has rounded off in the last digits comes back."""
    return round(mm / _unit(info.context), 9)


_LENGTH_SCHEMA: Final[JsonSchemaValue] = {
    "anyOf": [
        {"type": "number"},
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
            form: Form = "g" if abs(value) > LONGEST * 1_000 else ".3f"
            raise unbuildable(
                "{value}; accepted is {accepted}",
                value=Mm(value, form),
                accepted=Reach(self.least, self.most),
            )
        return value


@dataclass(frozen=True, slots=True)
class Items:
    """The least and greatest count of a list's items.

    All are counted, the faulty ones too: pydantic by itself counts those that it can read.
    """

    least: int
    most: int

    def __get_pydantic_core_schema__(self, source: Any, handler: GetCoreSchemaHandler) -> CoreSchema:
        """A list as JSON has it, of so many items."""
        least = {"min_length": self.least} if self.least else {}
        counted: Any = {**handler(source), "max_length": self.most, "strict": False, **least}
        return core_schema.no_info_before_validator_function(self._check, counted)

    def _check(self, value: object) -> object:
        if isinstance(value, list | tuple) and len(value) > self.most:
            raise PydanticKnownError(
                "too_long",
                {"field_type": "Tuple", "max_length": self.most, "actual_length": len(value)},
            )
        return value


class _LengthSchema:
    """Publishes a length as a number or a text with its unit."""

    def __get_pydantic_json_schema__(
        self, schema: CoreSchema, handler: GetJsonSchemaHandler
    ) -> JsonSchemaValue:
        return dict(_LENGTH_SCHEMA)


AnyLength = Annotated[
    float,
    BeforeValidator(_read_length),
    PlainSerializer(_write_length, when_used="json"),
    _LengthSchema(),
]
"""A length in mm without limits, to put limits of its own on: `Annotated[AnyLength, Limits(50.0, 300.0)]`."""

Coordinate = Annotated[AnyLength, Limits(-LONGEST)]
"""A position in mm, of either sign, at most 100 m away."""

Length = Annotated[AnyLength, Limits(0.001)]
"""A length in mm, over zero and at most 100 m."""

Distance = Annotated[AnyLength, Limits(0.0)]
"""A length in mm that may be zero."""

NAME_PATTERN: Final = r"^[^\s\x00-\x1f\x7f-\x9f]([^\x00-\x1f\x7f-\x9f]*[^\s\x00-\x1f\x7f-\x9f])?$"

Name = Annotated[str, Field(min_length=1, max_length=60, pattern=NAME_PATTERN)]
"""What a person calls a thing: 1 to 60 characters on one line, no space at either end."""


class _NoOtherNames:
    """Publishes that an object's members have such names and no others; a pattern alone lets others pass."""

    def __get_pydantic_json_schema__(
        self, schema: CoreSchema, handler: GetJsonSchemaHandler
    ) -> JsonSchemaValue:
        published = handler(schema)
        ((pattern, value),) = published.pop("patternProperties").items()
        names = {**published.pop("propertyNames", {}), "pattern": pattern}
        return {**published, "propertyNames": names, "additionalProperties": value}


Value = TypeVar("Value")

ByName = Annotated[dict[Name, Value], AfterValidator(ReadOnlyDict), _NoOtherNames()]
"""An object whose members have names that a person gave."""
