"""What can go wrong, and who is at fault.

    EngineError
    ├── BuildingError        the building file: one or more faults, each with its place
    │   ├── UnreadableError  not JSON, or JSON that two readers could read differently
    │   ├── SchemaError      the published JSON Schema says no
    │   └── UnbuildableError well-formed, but it cannot be set out
    │       └── TooManyPiecesError more pieces than this call may have
    └── PluginError          a plugin, by name
        ├── PluginLoadError  it cannot be imported, or what it offers is half made
        │   └── UnknownPluginError  one is to be left out that is not there
        ├── PluginClashError two plugins offer the same name
        └── RuleError        one of its rules failed, or returned what cannot be, while laying out

    KeyboardInterrupt
    └── Interrupted          the user stopped the program while a rule was asked

Each carries data; the text is made from it. Nothing here knows of HTTP.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from pathlib import Path
from typing import Final, Literal, Self

from pydantic import ValidationError


def pointer_to(*steps: str | int) -> str:
    """The JSON pointer (RFC 6901) to where the steps lead; `""` without any."""
    return "".join(f"/{str(step).replace('~', '~0').replace('/', '~1')}" for step in steps)


@dataclass(frozen=True, slots=True)
class Fault:
    """One thing that is wrong in a document.

    `pointer` is a JSON pointer (RFC 6901) into it, `""` for the whole; `message` says what is wrong
    and what would be accepted.
    """

    pointer: str
    message: str

    def __str__(self) -> str:
        return f"{self.pointer or '(the whole file)'}: {self.message}"


class EngineError(Exception):
    """Base of everything that Soleplate raises on purpose."""


class BuildingError(EngineError):
    """The building file, or another document sent in, is at fault."""

    def __init__(self, faults: Iterable[Fault]) -> None:
        self.faults = tuple(faults)
        super().__init__("\n".join(map(str, self.faults)))

    @classmethod
    def at(cls, pointer: str, message: str) -> Self:
        """An error with one fault."""
        return cls([Fault(pointer, message)])


class UnreadableError(BuildingError):
    """Not JSON, or JSON with a doubled key, a number that is none, or too deep a nesting."""


class SchemaError(BuildingError):
    """The document breaks the published JSON Schema."""


class UnbuildableError(BuildingError):
    """The document is well-formed and describes something that cannot be set out."""


class TooManyPiecesError(UnbuildableError):
    """The building has more pieces than are laid out at once."""


HOOKS: Final = frozenset({"check_layout"})
"""Hooks that are asked themselves, and have no rule that could be named."""

Breakage = Literal[
    "outside the wall", "overlap", "unsupported end", "misshapen", "failure", "nonsense", "too slow"
]
"""What a rule can do wrong while it is asked."""


class PluginError(EngineError):
    """A plugin is at fault; `plugin` is its name, `version` its version where it has one."""

    remedy = "mend it, or leave it out (--without {plugin})"

    def __init__(self, plugin: str, message: str, *, version: str = "") -> None:
        self.plugin = plugin
        self.message = message
        self.version = version
        super().__init__(plugin, message)

    def __str__(self) -> str:
        """Which plugin, what is wrong, and what to do."""
        remedy = self.remedy.format(plugin=self.plugin)
        return f"plugin {named(self.plugin, self.version)}: {self.message}; {remedy}"


class PluginLoadError(PluginError):
    """A plugin cannot be imported, or offers something half made."""


class PluginClashError(PluginError):
    """A plugin offers a name that is taken."""


class UnknownPluginError(PluginLoadError):
    """A plugin is to be left out that is not there."""

    remedy = "most likely it is misspelt"


class RuleError(PluginError):
    """A plugin's rule or hook failed, or returned something that cannot be, while laying out."""

    def __init__(
        self,
        plugin: str,
        rule: str,
        message: str,
        *,
        version: str = "",
        wall: str | None = None,
        fault: Breakage = "failure",
    ) -> None:
        self.fault: Breakage = fault
        self.rule = rule
        self.wall = wall
        super().__init__(plugin, f"{_of_rule(rule, wall)}: {message}", version=version)


class Interrupted(KeyboardInterrupt):
    """The user stopped the program while a plugin was loaded, or its rule asked."""

    def __init__(
        self, plugin: str, rule: str | None = None, *, version: str = "", wall: str | None = None
    ) -> None:
        self.plugin = plugin
        self.rule = rule
        self.wall = wall
        asked = f", {_of_rule(rule, wall)}, was asked" if rule is not None else " was loaded"
        super().__init__(
            f"stopped while plugin {named(plugin, version)}{asked}; where it never returns, leave it out"
            f" (--without {plugin})"
        )


def named(plugin: str, version: str) -> str:
    """A plugin by its name, and its version where it has one."""
    return f"{plugin} {version}" if version else plugin


def sentence(error: BaseException) -> str:
    """What another's exception says, by its kind, on one line.

    Where a module or file lies on this machine is left out, for a server tells it to others.
    """
    kind = type(error).__name__
    if isinstance(error, ValidationError):
        first = error.errors(include_url=False, include_context=False, include_input=False)[0]
        place = ".".join(map(str, (error.title, *first["loc"])))
        return f"{kind}: {place}: {first['msg']}"
    if isinstance(error, ImportError):
        said = str(error).removesuffix(f" ({error.path})")
    elif isinstance(error, OSError) and error.filename is not None:
        said = f"{error.strerror}: {Path(str(error.filename)).name!r}"
    else:
        said = " ".join(str(error).split())
    return f"{kind}: {said}" if said else kind


def _of_rule(rule: str, wall: str | None) -> str:
    what = "hook" if rule in HOOKS else "rule"
    return f"{what} {rule} in wall {wall}" if wall is not None else f"{what} {rule}"
