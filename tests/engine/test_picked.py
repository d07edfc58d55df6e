"""Which rules of a building file hold: those of the innermost part that picks any."""

from __future__ import annotations

from soleplate.engine.building_file import Choices
from soleplate.engine.rules import Adjustment, CladdingRule, OpeningRule, StudRule, picked
from soleplate.engine.rules.rule import Rule
from tests.buildings import building, registry

WINDOW = {"kind": "window", "width": 600, "height": 600, "sill": 900}
OPENINGS = [
    WINDOW | {"name": "own", "at": {"left": 600}, "framing": {"rule": "single-studs"}},
    WINDOW | {"name": "wall's", "at": {"left": 1500}},
]


class Several(Choices):
    """Choices as they are where somebody offers adjustments."""

    adjustments: tuple[Rule, ...] | None = None


def test_the_first_holder_that_picks_any_says_what_holds() -> None:
    value = building(
        defaults={"studs": {"rule": "equal-bays"}, "openings_framing": {"rule": "trimmed"}},
        walls={"front": {"openings": OPENINGS, "openings_framing": {"rule": "panes", "panes": 2}}},
    )
    read = registry().read_building(value)
    front = read.walls["front"]
    chosen = [picked(OpeningRule, each, front, read.defaults) for each in (*front.openings, None)]
    names = [rule.name for rules in chosen for rule in rules]
    assert names == ["single-studs", "panes", "panes"]
    assert [rule.name for rule in picked(StudRule, front, read.defaults)] == ["equal-bays"]
    assert picked(CladdingRule, front, read.defaults, member="cladding") == ()


def test_a_wall_may_want_none_of_the_usual_adjustments() -> None:
    usual = Several.model_construct(adjustments=(1, 2))
    assert picked(Adjustment, Several(), usual) == (1, 2)
    assert picked(Adjustment, Several(adjustments=()), usual) == ()
