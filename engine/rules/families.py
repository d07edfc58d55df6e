"""The families of rules, one row each: its base class, and where a building file picks one."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from functools import cache
from typing import Final, TypeVar

from soleplate.engine.building_file import (
    Building,
    Choices,
    DuoPitchRoof,
    Model,
    MonoPitchRoof,
    Opening,
)
from soleplate.engine.rules.adjustments import Adjustment
from soleplate.engine.rules.bracing import BracingRule
from soleplate.engine.rules.cladding import CladdingRule
from soleplate.engine.rules.corners import CornerRule
from soleplate.engine.rules.finishes import FinishRule
from soleplate.engine.rules.fixings import FixingRule
from soleplate.engine.rules.floors import FloorRule
from soleplate.engine.rules.holding_down import HoldingDownRule
from soleplate.engine.rules.noggins import NogginRule
from soleplate.engine.rules.openings import OpeningRule
from soleplate.engine.rules.raising import RaisingRule
from soleplate.engine.rules.roofs import RoofRule
from soleplate.engine.rules.rule import Rule
from soleplate.engine.rules.studs import StudRule
from soleplate.engine.rules.top_plates import TopPlateRule

AnyRule = TypeVar("AnyRule", bound=Rule)


@dataclass(frozen=True, slots=True)
class Pick:
    """A member of the building file in which a rule is picked: its name and what it says, in a schema.

    It goes `within` each model derived from this one, or from one of these. Where `most` is given, so many
    may be picked, in order.
    """

    member: str
    description: str
    within: type[Model] | tuple[type[Model], ...] = Choices
    most: int | None = None


@dataclass(frozen=True, slots=True)
class Family:
    """A family: the base class of its rules and where one is picked.

    Where `needs_one`, a wall without a choice gets the rule that stands in. `left_out` is the role of the
    pieces that the engine leaves out where they have no room, if it does. Where it `picks_others`, its rules
    may have members that pick rules of families that do not.
    """

    base: type[Rule]
    picks: tuple[Pick, ...]
    needs_one: bool = False
    left_out: str | None = None
    picks_others: bool = False

    @property
    def name(self) -> str:
        """As it is told."""
        return self.base.family


FAMILIES: Final = (
    Family(StudRule, (Pick("studs", "How studs are spaced."),), needs_one=True),
    Family(NogginRule, (Pick("noggins", "How noggins are set; none without it."),), left_out="noggin"),
    Family(TopPlateRule, (Pick("top_plates", "How the top of the wall is made."),), needs_one=True),
    Family(CornerRule, (Pick("corners", "How corners and tees are made."),), needs_one=True),
    Family(
        OpeningRule,
        (
            Pick("openings_framing", "How openings are framed that do not say."),
            Pick("framing", "How it is framed; else by the wall's `openings_framing`.", within=Opening),
        ),
        needs_one=True,
    ),
    Family(
        CladdingRule,
        (
            Pick(
                "cladding",
                "How the outside is clad; not at all without it. In `defaults` it holds for all walls but"
                " partitions. A\npartition's own is that of its outer face, as its elevation is drawn,"
                " which is indoors too.",
            ),
            Pick(
                "lining",
                "How the inside is lined, by the same rules; not at all without it. In `defaults` it holds"
                " for all\nwalls, and for both faces of partitions.",
            ),
        ),
    ),
    Family(
        FinishRule,
        (
            Pick(
                "openings_finish",
                "How openings are lined and trimmed that do not say; not at all without it.",
            ),
            Pick(
                "finish",
                "How it is lined and trimmed; else by the wall's `openings_finish`.",
                within=Opening,
            ),
        ),
    ),
    Family(
        HoldingDownRule,
        (
            Pick(
                "holding_down",
                "How sole plates are fixed to what lies below, and kept dry; not told without it.",
            ),
        ),
    ),
    Family(
        BracingRule,
        (Pick("bracing", "What keeps the wall from racking, in this order; none without it.", most=5),),
    ),
    Family(
        Adjustment, (Pick("adjustments", "What is changed in the finished frame, in this order.", most=20),)
    ),
    Family(
        RaisingRule,
        (Pick("raising", "How the wall is raised; in the best way that comes into question without it."),),
    ),
    Family(
        FloorRule,
        (Pick("floor", "The floor that the walls stand on; none without it.", within=Building),),
        picks_others=True,
    ),
    Family(
        RoofRule,
        (
            Pick(
                "frame",
                "What the roof is framed with; without it the roof gives the walls their tops alone.",
                within=(MonoPitchRoof, DuoPitchRoof),
            ),
        ),
        picks_others=True,
    ),
    Family(
        FixingRule,
        (
            Pick(
                "fixings",
                "How joints are fixed: by the first of these rules that answers, then by those that are"
                " installed, so that an\nempty list asks for these alone. Not told without it.",
                within=Building,
                most=20,
            ),
        ),
    ),
)
"""The one list of them: documents, what a wall is asked, the contract and the references follow from it."""


def family_of(rule: type[Rule]) -> Family | None:
    """The family of a rule class, by its base class."""
    return next((family for family in FAMILIES if issubclass(rule, family.base)), None)


def of_base(annotation: object) -> Family | None:
    """The family whose base class a type is: a member of a rule that has it picks one of that family."""
    return next((family for family in FAMILIES if family.base is annotation), None)


@cache
def choices() -> tuple[tuple[Family, Pick], ...]:
    """What a wall is asked, in the order of the file: each family with its picks for whole walls."""
    return tuple((family, pick) for family in FAMILIES for pick in family.picks if pick.within is Choices)


def picked(base: type[AnyRule], *holders: Model | None, member: str | None = None) -> tuple[AnyRule, ...]:
    """The rules of a family that hold: those of the first part of the building file that picks any.

    Of some families several may be picked, in their order.

    Args:
        base: of the family.
        holders: an opening, a wall's block, the defaults, in the order in which they are asked.
        member: which of the family's members, where the holders have several.
    """
    names = (
        [member] if member is not None else [p.member for f in FAMILIES if f.base is base for p in f.picks]
    )
    for holder in holders:
        for name in names:
            choice = getattr(holder, name, None)
            if choice is not None:
                return choice if isinstance(choice, tuple) else (choice,)
    return ()


def all_picked(holder: object, base: type[AnyRule]) -> Iterator[AnyRule]:
    """The rules of a family that are picked anywhere in a part of the building file, by other rules too."""
    if isinstance(holder, base):
        yield holder
    if isinstance(holder, dict | Model):
        members: Iterable[object] = (holder if isinstance(holder, dict) else vars(holder)).values()
    else:
        members = holder if isinstance(holder, tuple) else ()
    for each in members:
        # Most members are figures and names, which hold nothing.
        if isinstance(each, dict | Model | tuple):
            yield from all_picked(each, base)
