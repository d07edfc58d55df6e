"""The reference of hooks, written from the code: each hook, what it collects, what passes through it."""

from __future__ import annotations

import inspect
import re
from collections.abc import Iterator
from dataclasses import fields
from typing import Any

from soleplate.api.document.author_reference import base_text, described, names_text, signature
from soleplate.engine.registry import Registry, deprecation
from soleplate.engine.rules import ROLES, Exporter, ExportOptions, Rule, families, hookspecs


def hook_functions() -> dict[str, Any]:
    """The specification of every hook by its name, in the order of `hookspecs`."""
    return {
        name: value
        for name, value in vars(hookspecs).items()
        if inspect.isfunction(value) and hasattr(value, f"{hookspecs.PROJECT}_spec")
    }


def hooks_text(registry: Registry, drawn: Any) -> str:
    """Every hook with its description and the base classes that it offers classes of, then all other names.

    `drawn` tells the place of a rule's drawing, and is empty where there is none.
    """
    guide = "How to write a plugin: [plugins/GUIDE.md](../plugins/GUIDE.md)."
    imported = "Every name on this page is imported from `soleplate.engine.rules`."
    parts = [f"# Hooks\n\n{inspect.getdoc(hookspecs)}\n\n{imported} {guide}\n"]
    for name, function in hook_functions().items():
        parts.append(f"## {name}\n\n```python\n{signature(name, function)}\n```\n\n{described(function)}\n")
        for base in _bases(function):
            parts.append(base_text(base))
            parts += _picked_in(base)
            shown = registry.of_family(getattr(base, "family", ""))
            parts += [
                f"For example `{each.name}`:\n\n![{each.name}]({place})\n"
                for each in shown[:1]
                if (place := drawn(each))
            ]
        parts += [_roles_text()] if "Role]" in signature(name, function) else []
    versions = (inspect.getdoc(deprecation) or "").split("\n\n", 1)[1]
    parts.append(f"## Versions\n\n{versions}\n")
    parts += [
        f"- `{name}`: {told.instead}; gone in {told.gone_in}\n"
        for name, told in deprecation.DEPRECATED.items()
    ]
    parts += [f"## What every rule has\n\n{base_text(Rule)}", names_text()]
    return "\n".join(parts)


def _picked_in(base: type[Any]) -> Iterator[str]:
    """Where a building file picks a rule of a family."""
    for family in families.FAMILIES:
        if family.base is base:
            members = ", ".join(f"`{pick.member}`" for pick in family.picks)
            yield f"A building file picks one in {members}.\n"


def _roles_text() -> str:
    """The roles that ship, in the order of their rows."""
    told = {
        each: [f"`{one.name}`" for one in fields(each) if getattr(each, one.name) is True]
        for each in ROLES.values()
    }
    shown = "\n".join(f"| {each.name} | {each.lies} | {', '.join(is_)} |" for each, is_ in told.items())
    return f"Those that ship:\n\n| role | lies | is |\n|---|---|---|\n{shown}\n"


def _bases(function: Any) -> Iterator[type[Any]]:
    """The classes that a `register_*` hook collects subclasses of."""
    found = re.search(r"type\[(\w+)\]", str(inspect.signature(function)))
    if found and found[1] == Rule.__name__:
        yield from (family.base for family in families.FAMILIES)
    elif found:
        yield getattr(hookspecs, found[1])
        if found[1] == Exporter.__name__:
            yield ExportOptions
