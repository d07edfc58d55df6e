"""Which members a document may have at a place, to be told where there is one that it may not have."""

from __future__ import annotations

import types
from collections.abc import Iterator, Sequence
from typing import Annotated, Any, Literal, Union, get_args, get_origin

from pydantic import BaseModel


def accepted_members(model: type[BaseModel], location: Sequence[str | int]) -> tuple[str, ...]:
    """The names of the members of the object that `location` lies in, sorted.

    Args:
        model: of the document.
        location: pydantic's, of a member of that object; it names the arms of unions too.
    """
    places: list[Any] = [model]
    for step in location[:-1]:
        places = [inner for place in places for inner in _into(place, step)]
    models = [place for each in places for place in _arms(each) if _is_model(place)]
    names = {field.alias or name for each in models for name, field in each.model_fields.items()}
    return tuple(sorted(names))


def _is_model(place: Any) -> bool:
    return isinstance(place, type) and issubclass(place, BaseModel)


def _arms(place: Any) -> list[Any]:
    """The arms of a union, those of unions in it too; anything else by itself."""
    if get_origin(place) is Annotated:
        return _arms(get_args(place)[0])
    if get_origin(place) in (Union, types.UnionType):
        return [arm for each in get_args(place) for arm in _arms(each)]
    return [place]


def _into(place: Any, step: str | int) -> Iterator[Any]:
    """What one step of a location leads to: an arm of a union, a member, or an item."""
    # Where there is one arm beside none, a location does not name it.
    arms = [arm for arm in _arms(place) if arm is not types.NoneType]
    named = [arm for arm in arms if _is_model(arm) and step in _tags(arm)]
    if len(arms) > 1 and named:
        yield from named
        return
    for arm in arms:
        if _is_model(arm):
            yield from (
                field.annotation for name, field in arm.model_fields.items() if step == (field.alias or name)
            )
        elif get_origin(arm) is tuple and isinstance(step, int):
            items = [item for item in get_args(arm) if item is not Ellipsis]
            yield items[min(step, len(items) - 1)]
        elif get_origin(arm) is dict:
            yield get_args(arm)[1]


def _tags(model: type[BaseModel]) -> set[str]:
    """What a location may call an arm by: its name, or the literal that tells it apart."""
    literals = [
        value
        for field in model.model_fields.values()
        if get_origin(field.annotation) is Literal
        for value in get_args(field.annotation)
    ]
    return {model.__name__, *map(str, literals)}
