"""What can go wrong with a plugin."""

from __future__ import annotations

from pathlib import Path
from typing import Final, Literal

from pydantic import PydanticUserError, ValidationError

from soleplate.engine.building_file import EngineError

HOOKS: Final = frozenset({"check_layout"})
"""Hooks that are asked themselves, and have no rule that could be named."""


Breakage = Literal[
    "outside the wall",
    "overlap",
    "unsupported end",
    "misshapen",
    "failure",
    "nonsense",
    "changes what it is given",
    "too slow",
]
"""What a plugin can do wrong while it is asked."""


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
    if isinstance(error, PydanticUserError) and error.code == "model-field-missing-annotation":
        member = str(error).split("`")[1]
        name, _, value = member.partition(" = ")
        return (
            f"`{member}` has no type; accepted is one as in `{name}: float = {value}`, or `ClassVar[float]`"
            " where it is no parameter"
        )
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
