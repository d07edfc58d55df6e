"""Asking the rules of one wall, so that whatever goes wrong in one names plugin, rule and wall."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace
from typing import TypeVar

from soleplate.engine.errors import RuleError, UnbuildableError
from soleplate.engine.members import Member
from soleplate.engine.registry import Registry
from soleplate.engine.rules import CannotFrame, Rule
from soleplate.engine.setting_out import WallTask

Answer = TypeVar("Answer")


class Asked:
    """Asks rules of one wall, and turns what goes wrong into an error that names plugin, rule and wall."""

    def __init__(self, task: WallTask, registry: Registry) -> None:
        self._task = task
        self._registry = registry

    def __call__(self, rule: Rule, ask: Callable[[], Answer], *, pointer: str | None = None) -> Answer:
        """What the rule answers; `pointer` is of what is asked about, where that is not the rule itself."""
        try:
            return ask()
        except CannotFrame as error:
            if pointer is not None:
                raise UnbuildableError.at(pointer, str(error)) from None
            raise UnbuildableError.at(
                self._task.pointer_to_rule(rule), f"wall {self._task.wall.name}: {error}"
            ) from None
        except Exception as error:
            raise self.fault(rule, f"{type(error).__name__}: {error}") from error

    def fault(self, rule: Rule, message: str) -> RuleError:
        """The error of a rule that returned what cannot be."""
        plugin, name = self.maker(rule)
        return RuleError(plugin, name, message, wall=self._task.wall.name)

    def maker(self, rule: Rule) -> tuple[str, str]:
        """(plugin, rule)."""
        return self._registry.plugin_of(rule), rule.name

    def mark(self, rule: Rule, members: Sequence[Member]) -> tuple[Member, ...]:
        """Members with their maker; those that have one keep it."""
        for member in members:
            if not isinstance(member, Member):
                raise self.fault(rule, f"returned {type(member).__name__} where a Member belongs")
        maker = self.maker(rule)
        return tuple(m if m.made_by != ("", "") else replace(m, made_by=maker) for m in members)
