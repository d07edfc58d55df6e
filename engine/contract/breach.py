"""What breaks the contract, told so that its author can see it happen again."""

from __future__ import annotations

import json
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Any, Final, Literal, get_args

from soleplate.engine.registry import Breakage

Unkept = Literal[
    "not the same twice",
    "refuses everything",
    "half made",
    "undocumented field",
    "no limits",
    "no example",
]
"""What is found only where a rule is tried, or read."""

Fault = Literal[Breakage, Unkept]
"""What breaks the contract: what a rule does wrong while it is asked, and what is found besides."""

REMEDIES: Final[Mapping[Fault, str]] = {
    "outside the wall": "keep every piece between 0 and wall.length, under wall.top and within wall.depth",
    "overlap": "look at what stands there already, and leave room for it",
    "unsupported end": "let the foot stand on a piece and the top meet one",
    "misshapen": "give every outline counter-clockwise, in finite numbers, with an area and a thickness",
    "failure": "mend what it says; where a wall cannot be served, raise CannotFrame, with what would do",
    "nonsense": "return what the method's docstring and types say",
    "not the same twice": "use no chance, clock, environment or memory of earlier calls",
    "changes what it is given": "make new values (dataclasses.replace) and leave the given ones alone",
    "too slow": "bound every loop by the wall, and refuse with CannotFrame what would take too long",
    "refuses everything": "see whether CannotFrame is raised too early, or the limits are out of reach",
    "half made": "see the hook's description",
    "undocumented field": "put a docstring under it: what it means, and its unit",
    "no limits": "bound it, as with Annotated[AnyLength, Limits(50.0, 3_000.0)] or Field(ge=0, le=20)",
    "no example": "give `examples`: members as a building file would have them",
}  # fmt: skip
"""What to do about each fault."""

assert set(REMEDIES) == set(get_args(Fault))  # noqa: S101 - both are written above


@dataclass(frozen=True, slots=True)
class Breach:
    """One thing that breaks the contract.

    `parameters` are those of the rule, as a building file has them, and `building` is a whole building file
    with them; both are `None` where the fault needs neither.
    """

    fault: Fault
    message: str
    parameters: Mapping[str, Any] | None = None
    building: Mapping[str, Any] | None = None

    def __str__(self) -> str:
        """In the author's terms: what is wrong, with what, where, and what to do."""
        lines = [f"{self.fault}: {self.message}"]
        if self.parameters is not None:
            lines.append(f"  with {json.dumps(dict(self.parameters))}")
        if self.building is not None:
            lines.append(f"  in {self.building['name']}")
        return "\n".join([*lines, f"  {REMEDIES[self.fault]}"])


class ContractBroken(AssertionError):  # noqa: N818 - it is a verdict on a plugin
    """What a plugin offers breaks the contract; `breaches` are all that was found."""

    def __init__(self, name: str, breaches: Iterable[Breach]) -> None:
        self.name = name
        self.breaches = tuple(breaches)
        told = "\n".join(map(str, self.breaches))
        super().__init__(f"{name} breaks the contract:\n{told}")
