"""Asking the rules of one part, so that whatever goes wrong in one names plugin, rule and part."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from typing import Final, TypeVar

from soleplate.engine.building_file import UnbuildableError, pointer_to
from soleplate.engine.registry.answers import all_sound
from soleplate.engine.registry.blame import NonsenseError, drawn_out
from soleplate.engine.registry.errors import Breakage, RuleError
from soleplate.engine.registry.registry import Registry
from soleplate.engine.rules import CannotFrame, Rule
from soleplate.engine.shapes import NOBODY, Member

Answer = TypeVar("Answer")

MOST_HELD: Final = 4_000
"""Things in one member of an answer, as the members of an opening; the most that ships has some hundreds."""

CHANGED: Final = "changed what it was given, or its own members; accepted are new ones (dataclasses.replace)"


class Asked:
    """Asks rules of one part, and turns what goes wrong into an error that names plugin, rule and part.

    Args:
        part: its name.
        kind: what it is, in a word: a wall. A floor that is called so needs no other name.
        pointer_to: the JSON pointer of where a rule was chosen for it.
        registry: brings the plugins.
    """

    def __init__(self, part: str, kind: str, pointer_to: Callable[[Rule], str], registry: Registry) -> None:
        self._part = part
        self._kind = kind
        self._pointer_to = pointer_to
        self._registry = registry

    def __call__(
        self, rule: Rule, method: Callable[..., Answer], *given: object, pointer: str | None = None
    ) -> Answer:
        """What the rule answers to what it is given.

        Args:
            rule: the rule.
            method: of it.
            given: its arguments; others see them too, so it leaves them as they are.
            pointer: of what is asked about, where that is not the rule itself.

        Raises:
            UnbuildableError: the rule cannot serve the wall.
            RuleError: it failed, or changed what it was given.
        """
        plugin, name = self.maker(rule)
        before = _state((rule, given))
        with self._registry.blamed(plugin, name, self._part):
            try:
                answer = method(*given)
            except CannotFrame as error:
                refusal = error
            else:
                if _state((rule, given)) != before:
                    fault: Breakage = "changes what it is given"
                    raise self._registry.fault(plugin, name, CHANGED, self._part, fault)
                return answer
        within = pointer_to(*refusal.place)
        if pointer is not None:
            raise UnbuildableError.at(pointer + within, refusal.said)
        place = self._pointer_to(rule) + within
        if self._part == self._kind:
            raise UnbuildableError.at(place, refusal.said)
        raise UnbuildableError.at(place, refusal.said.after(f"{self._kind} {self._part}: "))

    def several(
        self, rule: Rule, method: Callable[..., Iterable[Answer]], *given: object
    ) -> tuple[Answer, ...]:
        """The same of a method that answers with several things."""
        return self(rule, lambda *told: drawn_out(method(*told)), *given)

    def fault(self, rule: Rule, message: str, fault: Breakage = "nonsense") -> RuleError:
        """The error of a rule that returned what cannot be."""
        plugin, name = self.maker(rule)
        return self._registry.fault(plugin, name, message, self._part, fault)

    def whole(self, rule: Rule, answer: object, kind: type[Answer]) -> Answer:
        """The answer, once it is found to be of the kind that was asked for, down to its numbers.

        Raises:
            RuleError: it is not, or one of its members holds more than `MOST_HELD` things.
        """
        return self.all_whole(rule, (answer,), kind)[0]

    def all_whole(self, rule: Rule, answers: Sequence[object], kind: type[Answer]) -> tuple[Answer, ...]:
        """The same of several answers at once, which takes less time than one by one.

        Raises:
            RuleError: one is not of the kind, or one of its members holds more than `MOST_HELD` things.
        """
        for answer in answers:
            for name in kind.__annotations__:
                held = getattr(answer, name, None)
                if isinstance(held, tuple) and len(held) > MOST_HELD and isinstance(answer, kind):
                    many = f"{len(held)} {name}; accepted are up to {MOST_HELD}"
                    raise self.fault(rule, f"returned a {kind.__name__} with {many}")
        try:
            return all_sound(answers, kind)
        except NonsenseError as error:
            raise self.fault(rule, str(error)) from None

    def maker(self, rule: Rule) -> tuple[str, str]:
        """(plugin, rule)."""
        return self._registry.plugin_of(rule), rule.name

    def members(self, rule: Rule, answer: Sequence[Member]) -> tuple[Member, ...]:
        """The members that a rule returned, each with its maker.

        Raises:
            RuleError: they are something else.
        """
        return self.mark(rule, self.all_whole(rule, answer, Member))

    def known_roles(self, rule: Rule, names: Iterable[str]) -> None:
        """Look whether the roles that a rule gave its pieces are offered by anybody.

        Raises:
            RuleError: one is not; it lists those that are.
        """
        roles = self._registry.roles
        for name in names:
            if name not in roles:
                known = ", ".join(roles)
                raise self.fault(rule, f"gave a piece the role {name!r}; accepted are {known}")

    def mark(self, rule: Rule, members: Sequence[Member]) -> tuple[Member, ...]:
        """Members that are known to be such, with their maker; those that have one keep it.

        Raises:
            RuleError: one has a role that nobody offers.
        """
        maker = self.maker(rule)
        self.known_roles(rule, (member.role for member in members))
        return tuple(member if member.made_by != NOBODY else member.by(maker) for member in members)


def _state(values: tuple[object, ...]) -> int | str:
    """What tells whether frozen values have changed; a rule may have a list among its members."""
    try:
        return hash(values)
    except TypeError:
        return repr(values)
