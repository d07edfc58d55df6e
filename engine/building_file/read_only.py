"""Dicts and lists that nobody can change: what many are shown is the same for all of them."""

from __future__ import annotations

from typing import Any, Never, TypeVar

Key = TypeVar("Key")
Value = TypeVar("Value")


class ReadOnlyError(TypeError):
    """Somebody tried to change what others see as well."""

    def __init__(self) -> None:
        super().__init__(
            "tried to change what others see as well; accepted is a copy: dict(...) or list(...)"
        )


def _refuse(*_: object, **__: object) -> Never:
    raise ReadOnlyError


class ReadOnlyDict(dict[Key, Value]):
    """A dict that cannot be changed, nor can a copy of it; `dict(...)` makes a plain one."""

    __setitem__ = __delitem__ = __ior__ = _refuse
    clear = pop = popitem = setdefault = update = _refuse

    def __reduce__(self) -> tuple[Any, ...]:
        """Pickled and copied whole, since it cannot be filled afterwards."""
        return type(self), (dict(self),)


class ReadOnlyList(list[Value]):
    """A list that cannot be changed, nor can a copy of it; `list(...)` makes a plain one."""

    __setitem__ = __delitem__ = __iadd__ = __imul__ = _refuse
    append = clear = extend = insert = pop = remove = reverse = sort = _refuse

    def __reduce__(self) -> tuple[Any, ...]:
        """Pickled and copied whole, since it cannot be filled afterwards."""
        return type(self), (list(self),)


def read_only(value: Any) -> Any:
    """The same with all dicts and lists in it made read-only, as deep as they lie in each other."""
    if isinstance(value, dict):
        return ReadOnlyDict({key: read_only(each) for key, each in value.items()})
    if isinstance(value, list):
        return ReadOnlyList(map(read_only, value))
    return value
