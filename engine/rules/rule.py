"""Rules: one base class for each family, and what a rule is told of the wall.

A rule is a frozen model. Its `rule` member, a literal, is the name by which a building file picks it; its
other members are its parameters; and one method does the work. A rule sees only what it is given here,
changes nothing, and returns the same for the same. All lengths are mm; x runs along the wall from its left
end seen from outside, z up from the underside of the sole plate, y in from the outer face.
"""

from __future__ import annotations

from abc import ABC
from collections.abc import Mapping, Sequence
from typing import Any, ClassVar, Self

from pydantic import ConfigDict

from soleplate.engine.building_file import Figure, Model, said


def _require_rule(schema: dict[str, Any], model: type[Any]) -> None:
    """In a file `rule` must be given, although in Python it has a default; its examples are published."""
    schema["required"] = sorted({*schema.get("required", []), "rule"})
    schema["examples"] = [dict(example) for example in model.examples]


class Rule(Model, ABC):
    """Base of every rule.

    A subclass declares `rule: Literal["its-name"] = "its-name"`, in kebab-case, describes itself and each
    parameter in docstrings, and gives `examples`: members as a building file would have them.
    """

    model_config = ConfigDict(json_schema_extra=_require_rule)

    family: ClassVar[str]
    examples: ClassVar[Sequence[Mapping[str, Any]]] = ()
    stands_in: ClassVar[bool] = False
    """Whether this rule is used where a building file chooses none of its family."""

    @property
    def name(self) -> str:
        """The name by which a building file picks it."""
        return str(getattr(self, "rule", ""))


class CannotFrame(Exception):  # noqa: N818 - it is a verdict on the building, not a fault of the rule
    """Raised by a rule for what it cannot serve: a sentence and its figures, which say what would do.

    It goes to the builder: `CannotFrame("{wide} is too wide", wide=Mm(900.0))`. Where one member of the rule
    is to blame, `.at("openings", 0)` says which.
    """

    def __init__(self, sentence: str, **figures: Figure) -> None:
        self.said = said(sentence, **figures)
        self.place: tuple[str | int, ...] = ()
        super().__init__(self.said.told("mm"))

    def at(self, *place: str | int) -> Self:
        """The same, with the place within the rule's members that it is about."""
        self.place = place
        return self
