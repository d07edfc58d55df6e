"""Roles: one table, more by a hook, and soundness that goes by them."""

from __future__ import annotations

from pathlib import Path

import pytest

from soleplate.engine import PluginError, Registry, lay_out, load_registry
from soleplate.engine.registry import RuleError
from soleplate.engine.rules import ROLES
from tests.buildings import building, registry

PROP = """
from typing import Literal
from soleplate.engine.rules import Adjustment, Role, Section, hookimpl, upright

class Prop(Adjustment):
    "A prop in a bay."
    rule: Literal["prop"] = "prop"
    examples = ({{"rule": "prop"}},)

    def adjust_wall(self, wall):
        left = wall.bays_at(900.0)[0].left + 100.0
        prop = upright("prop", Section(45.0, 70.0), left, {bottom}, wall.underside)
        return [*wall.members, prop]

@hookimpl
def register_rules(): return [Prop]

{roles}
"""

STANDS = """@hookimpl
def register_roles(): return [Role("prop", "upright", stands=True, full_height=True, tone="stud")]
"""


def with_prop(folder: Path, *, bottom: float = 45.0, roles: str = STANDS) -> Registry:
    file = folder / "props.py"
    file.write_text(PROP.format(bottom=bottom, roles=roles))
    return load_registry(files=[file])


VALUE = building(defaults={"adjustments": [{"rule": "prop"}]})


def test_an_upright_of_a_plugin_is_numbered_and_marked_like_ours(tmp_path: Path) -> None:
    installed = with_prop(tmp_path)
    layout = lay_out(installed.read_building(VALUE), installed)
    for wall in layout.walls:
        (prop,) = [piece for piece in wall.pieces if piece.role == "prop"]
        assert prop.mark in {mark.mark for mark in wall.marks["sole plate"]}
        numbers = [int(piece.mark.lstrip("FRBL")) for piece in wall.pieces if layout.role_of(piece).stands]
        assert sorted(numbers) == list(range(min(numbers), min(numbers) + len(numbers)))
        assert prop.tone == "stud"
    assert layout.roles == (installed.roles["prop"],)


def test_one_that_hangs_in_the_air_is_refused_like_ours(tmp_path: Path) -> None:
    installed = with_prop(tmp_path, bottom=200.0)
    with pytest.raises(RuleError, match=r"the foot of a prop at .* mm stands on nothing") as raised:
        lay_out(installed.read_building(VALUE), installed)
    assert raised.value.fault == "unsupported end"


def test_a_role_that_nobody_offers_is_refused_with_the_list(tmp_path: Path) -> None:
    installed = with_prop(tmp_path, roles="")
    with pytest.raises(RuleError, match=r"the role 'prop'; accepted are sole plate, .*, sheet; mend it"):
        lay_out(installed.read_building(VALUE), installed)


@pytest.mark.parametrize(
    ("offer", "said"),
    [
        ("'prop'", "offers str where Role belongs"),
        ("Role('stud', 'upright')", "the role 'stud' is taken by those that ship"),
        ("Role('prop', 'upright'), Role('prop', 'level')", "the role 'prop' is taken by props"),
        (
            "Role('prop', 'sideways')",
            "offers a Role whose lies is 'sideways', not 'upright', 'level' or 'raked'",
        ),
    ],
)
def test_half_made_roles_stop_the_start(tmp_path: Path, offer: str, said: str) -> None:
    with pytest.raises(PluginError, match=said):
        with_prop(tmp_path, roles=f"@hookimpl\ndef register_roles(): return [{offer}]")


def test_every_role_that_ships_is_in_the_table() -> None:
    assert dict(registry().roles) == dict(ROLES)
    assert all(name == role.name for name, role in ROLES.items())
    assert [role.name for role in ROLES.values() if role.full_height and not role.stands] == []
