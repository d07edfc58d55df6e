"""From the installed rules to the models that read documents, and from a value to a document or its faults.

This is the only place that makes models at run time, hence the only one that meets `Any` on its way.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Annotated, Any, Final, TypeVar, Union

from pydantic import BaseModel, Field, ValidationError, create_model

from soleplate.engine.building import MOST_OPENINGS, Building, Choices, Opening, WallBlock
from soleplate.engine.document_faults import document_error
from soleplate.engine.model import ByName, Items
from soleplate.engine.rules import Rule
from soleplate.engine.single_wall import WallRequest
from soleplate.engine.told_lengths import telling
from soleplate.engine.units import Units

Document = TypeVar("Document", bound=BaseModel)
Models = Mapping[str, Sequence[type[Rule]]]

MEMBERS: Final[dict[str, str]] = {
    "studs": "stud_rules",
    "noggins": "noggin_rules",
    "top_plates": "top_plate_rules",
    "corners": "corner_rules",
    "openings_framing": "opening_rules",
    "cladding": "cladding_rules",
    "lining": "cladding_rules",
}
"""The members of `Choices`, each with the family that it picks from."""


def _union(models: Sequence[type[Rule]]) -> Any:
    """A union that is told apart by `rule`; of one model, the model itself."""
    if len(models) == 1:
        return models[0]
    union: Any = Union[tuple(models)]  # noqa: UP007 - the members are known at run time only
    return Annotated[union, Field(discriminator="rule")]


def _picks(models: Models, base: type[BaseModel]) -> dict[str, Any]:
    """The narrowed members of a model with `Choices`; a family without rules can't be picked from.

    The rule that stands in where none is picked is published as `x-usual`.
    """
    fields: dict[str, Any] = {}
    for member, family in MEMBERS.items():
        picked = _union(models[family]) | None if models[family] else None
        usual = next(
            (model.model_fields["rule"].default for model in models[family] if model.stands_in), None
        )
        told: Any = {"x-usual": usual} if usual else None
        fields[member] = (
            picked,
            Field(None, description=base.model_fields[member].description, json_schema_extra=told),
        )
    adjustments = models["adjustments"]
    item: Any = _union(adjustments) if adjustments else None
    fields["adjustments"] = (
        Annotated[tuple[item, ...], Items(0, 20)] | None if adjustments else None,
        Field(None, description=base.model_fields["adjustments"].description),
    )
    return fields


def _narrowed(models: Models) -> tuple[Any, Any]:
    """Narrowed `Choices` and a narrowed opening."""
    framing: Any = _union(models["opening_rules"]) | None if models["opening_rules"] else None
    opening: Any = create_model(
        "Opening",
        __base__=Opening,
        __doc__=Opening.__doc__,
        framing=(framing, Field(None, description=Opening.model_fields["framing"].description)),
    )
    choices: Any = create_model(
        "Choices", __base__=Choices, __doc__=Choices.__doc__, **_picks(models, Choices)
    )
    return choices, opening


def _openings(opening: Any, base: type[BaseModel]) -> Any:
    return (
        Annotated[tuple[opening, ...], Items(0, MOST_OPENINGS)],
        Field((), description=base.model_fields["openings"].description),
    )


def narrowed_building(models: Models) -> type[Building]:
    """The building file's model for the installed rules; `models` are the rule classes by family."""
    choices, opening = _narrowed(models)
    block: Any = create_model(
        "WallBlock",
        __base__=WallBlock,
        __doc__=WallBlock.__doc__,
        openings=_openings(opening, WallBlock),
        **_picks(models, WallBlock),
    )
    described = Building.model_fields
    building: Any = create_model(
        "Building",
        __base__=Building,
        __doc__=Building.__doc__,
        defaults=(choices, Field(choices(), description=described["defaults"].description)),
        walls=(
            ByName[block],
            Field(default_factory=dict, max_length=1000, description=described["walls"].description),
        ),
    )
    narrowed: type[Building] = building
    return narrowed


def narrowed_wall(models: Models) -> type[WallRequest]:
    """The model of one wall on its own for the installed rules."""
    _, opening = _narrowed(models)
    wall: Any = create_model(
        "WallRequest",
        __base__=WallRequest,
        __doc__=WallRequest.__doc__,
        openings=_openings(opening, WallRequest),
        **_picks(models, WallRequest),
    )
    narrowed: type[WallRequest] = wall
    return narrowed


def read_document(model: type[Document], value: Any) -> Document:
    """A document from the value of a JSON text.

    Raises:
        SchemaError: the published JSON Schema says no.
        UnbuildableError: it is well-formed, and nothing that can be built is like that.
    """
    units: Units = "in" if isinstance(value, dict) and value.get("units") == "in" else "mm"
    with telling(units):
        try:
            return model.model_validate(value, context={"units": units})
        except ValidationError as error:
            raise document_error(error, value, model) from None
