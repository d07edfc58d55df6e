"""The documents' models for the installed rules: wherever a rule is picked, among those that there are.

This is the only place that makes models at run time, hence the only one that meets `Any` on its way.
"""

from __future__ import annotations

import types
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Annotated, Any, TypeVar, Union, get_args, get_origin

from pydantic import BaseModel, Field, create_model
from pydantic.fields import FieldInfo
from pydantic.json_schema import JsonSchemaValue
from pydantic_core import PydanticOmit

from soleplate.engine.building_file import Building, Choices, Items, WallBlock, WallRequest
from soleplate.engine.rules import Rule, families

Document = TypeVar("Document", bound=BaseModel)
Models = Mapping[str, Sequence[type[Rule]]]
"""The installed rule classes by family."""


class _InNoSchema:
    """Leaves a member out of every JSON Schema."""

    def __get_pydantic_json_schema__(self, *_: object) -> JsonSchemaValue:
        raise PydanticOmit


@dataclass(frozen=True, slots=True)
class Documents:
    """The narrowed models."""

    building: type[Building]
    wall: type[WallRequest]
    wall_block: type[WallBlock]
    rules: Mapping[type[Rule], type[Rule]]
    """Of each installed rule the model that these have: another one where it picks rules itself."""


def documents(models: Models) -> Documents:
    """The models of all documents that pick rules, for the installed ones."""
    narrowing = _Narrowing(models)
    rules = {model: narrowing.of(model) for every in models.values() for model in every}
    return Documents(narrowing.of(Building), narrowing.of(WallRequest), narrowing.of(WallBlock), rules)


class _Narrowing:
    """Makes each model once: one that picks rules, or that holds another which does."""

    def __init__(self, models: Models) -> None:
        self._models = models
        self._made: dict[type[BaseModel], type[BaseModel]] = {}
        self.met: list[families.Family] = []
        """Families that rules picked from, in members typed by their base classes."""

    def of(self, model: type[Document]) -> type[Document]:
        """The narrowed model; the model itself where no rule is picked anywhere in it."""
        if model not in self._made:
            self._made[model] = self._narrowed(model)
        made: Any = self._made[model]
        narrowed: type[Document] = made
        return narrowed

    def _narrowed(self, model: type[BaseModel]) -> type[BaseModel]:
        fields: dict[str, Any] = {
            pick.member: self._pick(family, pick)
            for family in families.FAMILIES
            for pick in family.picks
            if issubclass(model, pick.within)
        }
        for name, field in model.model_fields.items():
            annotation = self._annotation(field.annotation)
            if annotation is not field.annotation:
                limited: Any = Annotated[(annotation, *field.metadata)] if field.metadata else annotation
                fields[name] = (limited, _again(field, annotation))
        if not fields:
            return model
        # Members of a base come before its own, as they are declared.
        bases = tuple(base for base in map(self._base, model.__bases__) if base is not None)
        made: Any = create_model(model.__name__, __base__=(model, *bases), __doc__=model.__doc__, **fields)
        narrowed: type[BaseModel] = made
        return narrowed

    def _base(self, base: type[Any]) -> type[BaseModel] | None:
        """A base narrowed, where that is another model."""
        if not issubclass(base, BaseModel):
            return None
        narrowed = self.of(base)
        return narrowed if narrowed is not base else None

    def _annotation(self, annotation: Any) -> Any:
        """A type with the models in it narrowed; the same object where there are none."""
        if (family := families.of_base(annotation)) is not None:
            self.met.append(family)
            return self._any_of(family)
        if isinstance(annotation, type) and issubclass(annotation, BaseModel):
            return self.of(annotation)
        arguments = get_args(annotation)
        narrowed = tuple(map(self._annotation, arguments))
        if all(new is old for new, old in zip(narrowed, arguments, strict=True)):
            return annotation
        origin: Any = get_origin(annotation)
        if origin in (Union, types.UnionType):
            if any(families.of_base(argument) is not None for argument in arguments):
                return self._or_others(arguments)
            return Union[narrowed]  # noqa: UP007 - the members are known at run time only
        return Annotated[narrowed] if origin is Annotated else origin[narrowed]

    def _or_others(self, arguments: Sequence[Any]) -> Any:
        """Any rule of a family, or another model that is told apart by `rule` as those are."""
        models: list[type[BaseModel]] = []
        rest: list[Any] = []
        for argument in arguments:
            if (family := families.of_base(argument)) is not None:
                models += map(self.of, self._models.get(family.name, ()))
            elif isinstance(argument, type) and issubclass(argument, BaseModel):
                models.append(self.of(argument))
            else:
                rest.append(argument)
        if not models:
            return Union[tuple(rest)]  # noqa: UP007 - the members are known at run time only
        return Union[(_union(models), *rest)]

    def _any_of(self, family: families.Family) -> Any:
        """Any rule of a family, those that pick others narrowed too; nothing where there is none."""
        models = [self.of(model) for model in self._models.get(family.name, ())]
        return _union(models) if models else None

    def _pick(self, family: families.Family, pick: families.Pick) -> Any:
        """A member that picks a rule of a family.

        Of a family without rules nothing can be picked, and the member is in no schema.
        The rule that stands in where none is picked is published as `x-usual`.
        """
        models = self._models.get(family.name, ())
        rule: Any = self._any_of(family)
        if pick.most is not None and models:
            several: Any = tuple
            rule = Annotated[several[rule, ...], Items(0, pick.most)]
        usual = next((model.model_fields["rule"].default for model in models if model.stands_in), None)
        told: Any = {"x-usual": usual} if usual and pick.within is Choices else None
        field = Field(None, description=pick.description, json_schema_extra=told)
        return (rule | None if models else Annotated[None, _InNoSchema()], field)


def narrowed_rule(model: type[Rule], models: Models) -> type[Rule]:
    """The model of a rule for the installed ones that it may pick."""
    return _Narrowing(models).of(model)


def families_picked(model: type[Rule]) -> tuple[families.Family, ...]:
    """The families of which a rule picks some in its members, at whatever depth."""
    narrowing = _Narrowing({})
    narrowing.of(model)
    return tuple(narrowing.met)


def _union(models: Sequence[type[BaseModel]]) -> Any:
    """A union that is told apart by `rule`; of one model, the model itself."""
    if len(models) == 1:
        return models[0]
    union: Any = Union[tuple(models)]  # noqa: UP007 - the members are known at run time only
    return Annotated[union, Field(discriminator="rule")]


def _again(field: FieldInfo, annotation: Any) -> Any:
    """The rest of a field, its default narrowed too."""
    default: Any = field.default
    if isinstance(default, BaseModel) and isinstance(annotation, type):
        default = annotation()
    if field.default_factory is not None:
        return Field(default_factory=field.default_factory, description=field.description)
    return Field(default, alias=field.alias, description=field.description)
