"""Names of a package that are loaded at their first use, so that what is not used costs no time."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from importlib import import_module
from typing import Any


def on_first_use(package: str, names: Mapping[str, Sequence[str]]) -> Callable[[str], Any]:
    """The `__getattr__` of a package; `names` are those that each module in it has."""
    homes = {name: module for module, offered in names.items() for name in offered}

    def load(name: str) -> Any:
        if name not in homes:
            raise AttributeError(f"module {package!r} has no attribute {name!r}")
        return getattr(import_module(f"{package}.{homes[name]}"), name)

    return load
