"""Roles: one table, more by a hook, and soundness that goes by them."""

from __future__ import annotations

import copy
import json
import pickle
from pathlib import Path
from typing import Any

import pytest

from soleplate.engine import PluginError, Registry, contract, lay_out, load_registry
from soleplate.engine.buying import with_saw_plan
from soleplate.engine.contract.rules import asking_for
from soleplate.engine.layout import Piece
from soleplate.engine.registry import RuleError
from soleplate.engine.rules import ROLES
from soleplate.viewer.drawings.elevation import elevation_svg
from soleplate.viewer.drawings.tiers import tiers
from tests.buildings import HONEY_HOUSE, building, honey_house, registry
from tests.floors import floor_with
from tests.roofs import DUO, SOFFIT, duo, frame_with, mono

PROP = """
from typing import Literal
from soleplate.engine.rules import Adjustment, Role, Section, hookimpl, level, upright

class Prop(Adjustment):
    "A prop in a bay."
    rule: Literal["prop"] = "prop"
    examples = ({{"rule": "prop"}},)

    def adjust_wall(self, wall):
        left = wall.bays_at(900.0)[0].left + 100.0
        prop = upright("prop", Section(45.0, 70.0), left, {bottom}, wall.underside)
        return [*wall.members, prop{more}]

@hookimpl
def register_rules(): return [Prop]

{roles}
"""

STANDS = """@hookimpl
def register_roles(): return [Role("prop", "upright", stands=True, full_height=True, tone="stud")]
"""


def with_prop(
    folder: Path, *, bottom: float = 45.0, roles: str = STANDS, more: str = "", name: str = "prop"
) -> Registry:
    file = folder / "props.py"
    text = PROP.format(bottom=bottom, roles=roles, more=more)
    file.write_text(
        text.replace('"prop", Section', f'"{name}", Section').replace('Role("prop"', f'Role("{name}"')
    )
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


WITHOUT_STANDS = STANDS.replace(", stands=True, full_height=True", "")


@pytest.mark.parametrize("name", ["king", "puncheon", "prop"])
@pytest.mark.parametrize("roles", [STANDS, WITHOUT_STANDS], ids=["stands", "says nothing"])
def test_an_upright_has_its_marks_whatever_it_is_called(tmp_path: Path, name: str, roles: str) -> None:
    installed = with_prop(tmp_path, roles=roles, name=name)
    wall = lay_out(installed.read_building(VALUE), installed).walls[2]
    (prop,) = [piece for piece in wall.pieces if piece.role == name]
    places = {
        plate: mark.at for plate, marks in wall.marks.items() for mark in marks if mark.mark == prop.mark
    }
    left = min(x for x, _ in prop.outline)
    assert places == {"sole plate": left, "head plate": left}


@pytest.mark.parametrize("name", ["king", "puncheon", "prop"])
@pytest.mark.parametrize("roles", [STANDS, WITHOUT_STANDS], ids=["stands", "says nothing"])
def test_an_upright_that_hangs_in_the_air_is_refused_whatever_it_is_called(
    tmp_path: Path, name: str, roles: str
) -> None:
    """It meets the top plate, and nothing is under it or beside it."""
    installed = with_prop(tmp_path, bottom=200.0, roles=roles, name=name)
    with pytest.raises(RuleError, match=rf"the foot of a {name} at .* mm stands on nothing") as raised:
        lay_out(installed.read_building(VALUE), installed)
    assert raised.value.fault == "unsupported end"


@pytest.mark.parametrize("roles", [STANDS, WITHOUT_STANDS], ids=["stands", "says nothing"])
@pytest.mark.parametrize(
    ("left", "depth"), [(0.0, (0.0, 70.0)), (-20.0, (50.0, 70.0))], ids=["beside a stud", "flat on a stud"]
)
def test_a_block_may_hang_on_its_neighbour(
    tmp_path: Path, roles: str, left: float, depth: tuple[float, float]
) -> None:
    """One that stands must bear all the same."""
    file = tmp_path / "blocks.py"
    text = PROP.format(bottom=200.0, roles=roles, more="")
    made = f"__import__('dataclasses').replace(prop, depth={depth})"
    text = text.replace("left + 100.0", f"left + {left}").replace("[*wall.members, prop]", f"kept + [{made}]")
    text = text.replace(
        "        return kept",
        "        kept = [__import__('dataclasses').replace(m, depth=(0.0, 50.0)) if m.is_upright else m\n"
        "                for m in wall.members]\n        return kept",
    )
    file.write_text(text)
    installed = load_registry(files=[file])
    if roles == WITHOUT_STANDS:
        layout = lay_out(installed.read_building(VALUE), installed)
        assert sum(piece.role == "prop" for piece in layout.pieces) == len(layout.walls)
    else:
        with pytest.raises(RuleError, match=r"the foot of a prop at .* mm stands on nothing"):
            lay_out(installed.read_building(VALUE), installed)


def test_a_role_that_nobody_offers_is_refused_with_the_list(tmp_path: Path) -> None:
    installed = with_prop(tmp_path, roles="")
    with pytest.raises(
        RuleError, match=r"the role 'prop'; accepted are .*sole plate, .*, sheet, .*; mend it"
    ):
        lay_out(installed.read_building(VALUE), installed)


@pytest.mark.parametrize(
    ("offer", "said"),
    [
        ("'prop'", "offers 'prop', which is no Role"),
        ("Role('stud', 'upright')", "the role 'stud' is taken by those that ship"),
        ("Role('prop', 'upright'), Role('prop', 'level')", "the role 'prop' is taken by props"),
        ("Role('Prop, tall', 'upright')", "the role 'Prop, tall' needs a name of plain words"),
        ("Role('prop', 'level', stands=True)", "the role 'prop' contradicts itself"),
        ("Role('prop', 'upright', full_height=True)", "the role 'prop' contradicts itself"),
        (
            "Role('prop', 'sideways')",
            "offers a Role whose lies is 'sideways', not 'upright', 'level' or 'raked'",
        ),
    ],
)
def test_half_made_roles_stop_the_start(tmp_path: Path, offer: str, said: str) -> None:
    with pytest.raises(PluginError, match=said):
        with_prop(tmp_path, roles=f"@hookimpl\ndef register_roles(): return [{offer}]")


def test_roles_are_sorted_and_copied_and_never_changed(tmp_path: Path) -> None:
    offers = "Role('strut', 'raked'), Role('prop', 'upright')"
    roles = with_prop(tmp_path, roles=f"@hookimpl\ndef register_roles(): return [{offers}]").roles
    assert list(roles) == [*ROLES, "prop", "strut"]
    assert copy.deepcopy(roles) == pickle.loads(pickle.dumps(roles)) == roles
    for each in (roles, ROLES):
        with pytest.raises(TypeError, match="does not support item assignment"):
            each["stud"] = roles["strut"]  # type: ignore[index]


@pytest.mark.parametrize("carries", [True, False])
def test_what_stands_bears_on_what_carries(tmp_path: Path, carries: bool) -> None:
    ledge = ', level("ledge", Section(45.0, 70.0), (left, left + 45.0, 200.0, 245.0), (0.0, 70.0))'
    roles = STANDS.replace("[Role", f"[Role('ledge', 'level', carries={carries}), Role")
    installed = with_prop(tmp_path, bottom=245.0, roles=roles, more=ledge)
    if carries:
        layout = lay_out(installed.read_building(VALUE), installed)
        assert {"ledge", "prop"} <= {piece.role for piece in layout.pieces}
    else:
        with pytest.raises(RuleError, match=r"the foot of a prop at .* mm stands on nothing"):
            lay_out(installed.read_building(VALUE), installed)


PANEL = """
from typing import Literal
from soleplate.engine.rules import Clad, CladdingRule, Role, Section, Span, Strip, hookimpl

class Panels(CladdingRule):
    "One panel over all of a face, and a batten behind."
    rule: Literal["panels"] = "panels"
    examples = ({{"rule": "panels"}},)

    @property
    def build_out(self): return 43.0

    def lay(self, surface, courses):
        whole = Span(surface.left, surface.right, 0.0, surface.highest)
        panel = Strip(
            "panel", Section(18.0, surface.length), "softwood", whole, whole, (-43.0, -25.0), upright=True
        )
        span = Span(surface.left, surface.left + 50.0, 0.0, surface.highest)
        lath = Strip("lath", Section(25.0, 50.0), "softwood", span, span, (-25.0, 0.0), upright=True)
        return Clad((panel,), (lath,))

@hookimpl
def register_rules(): return [Panels]

@hookimpl
def register_roles():
    return [{roles}]
"""
PANEL_ROLES = (
    "Role('panel', 'upright', sheet=True, covers=True, tone='sheet')",
    "Role('lath', 'upright', carries=True, tone='batten')",
)


def with_panels(folder: Path, roles: str) -> Registry:
    file = folder / "panels.py"
    file.write_text(PANEL.format(roles=roles))
    return load_registry(files=[file])


CLAD = building(
    defaults={"cladding": {"rule": "panels"}},
    stock={"stock": [{"section": [45, 70], "lengths": [{"length": 4800, "price": 10}]}]},
)


def test_a_sheet_of_a_plugin_is_bought_whole_and_put_up_like_ours(tmp_path: Path) -> None:
    installed = with_panels(tmp_path, ", ".join(PANEL_ROLES))
    value = installed.read_building(CLAD)
    layout = with_saw_plan(lay_out(value, installed), value)
    panels = {piece.mark for piece in layout.pieces if piece.role == "panel"}
    assert len(panels) == len(layout.walls)
    assert "panel" in {boards.role for boards in layout.boards}
    assert layout.saw_plan is not None
    assert not panels & {cut.mark for length in layout.saw_plan.lengths for cut in length.cuts}
    assert "no-bracing" in {finding.code for finding in layout.findings}
    laid = tiers(layout.walls[0], "outside")
    assert [(tier.role, tier.is_behind, tier.kind.sheet) for tier in laid] == [
        ("lath", True, False),
        ("panel", False, True),
    ]


def test_boards_of_a_plugin_are_checked_like_ours(tmp_path: Path) -> None:
    """An upright panel that its batten alone holds is found loose, whatever its role is called."""
    installed = with_panels(tmp_path, ", ".join(PANEL_ROLES).replace("sheet=True, ", ""))
    codes = {finding.code for finding in lay_out(installed.read_building(CLAD), installed).findings}
    assert {"board-top-free", "cladding-loose"} <= codes


def test_a_strip_of_a_role_that_nobody_offers_is_refused(tmp_path: Path) -> None:
    installed = with_panels(tmp_path, PANEL_ROLES[0])
    with pytest.raises(RuleError, match=r"panels in wall .* the role 'lath'; accepted are .*, panel"):
        lay_out(installed.read_building(CLAD), installed)


def test_a_piece_of_a_plugin_is_drawn_in_the_tone_that_it_names(tmp_path: Path) -> None:
    installed = with_prop(tmp_path, roles=STANDS.replace('"stud"', '"cripple"'))
    layout = lay_out(installed.read_building(VALUE), installed)
    drawing = elevation_svg(layout, layout.walls[0].name)
    assert "cripple" not in {piece.role for piece in layout.walls[0].pieces}
    assert 'data-role="prop"' in drawing
    assert 'fill="url(#tone-cripple)"' in drawing
    assert 'id="tone-cripple"' in drawing


def test_the_contract_knows_the_roles_that_a_rules_plugin_offers(tmp_path: Path) -> None:
    installed = with_prop(tmp_path)
    (prop,) = [rule.model for rule in installed.of_family("adjustments") if rule.name == "prop"]
    unknown = "gave a piece the role 'prop'"
    assert any(unknown in breach.message for breach in contract.breaches(prop, cases=6))
    found = contract.breaches(prop, cases=6, roles=[installed.roles["prop"]])
    assert not any(unknown in breach.message for breach in found)


UNMADE = {"covering"}
"""No rule that ships makes pieces of these: coverings are counted."""


def lined() -> dict[str, Any]:
    """A building with a window that is finished and has two shutters."""
    window: dict[str, Any] = {"name": "window", "kind": "window", "width": 1300, "height": 700, "sill": 950}
    finish = {"rule": "lined", "leaf": {}}
    return building(walls={"front": {"openings": [window | {"at": {"left": 1600}, "finish": finish}]}})


@pytest.fixture(scope="module")
def pieces() -> list[Piece]:
    """Of all examples: of building files, a floor and two duo-pitch roofs too, and of the rules that ship."""
    installed = registry()
    values = [json.loads(path.read_text()) for path in sorted(HONEY_HOUSE.parent.glob("*.json"))]
    values.append(honey_house() | {"floor": floor_with()})
    values.append(mono(frame_with(closing=SOFFIT)))
    ties = {"height": 2500, "section": [45, 95]}
    values.append(duo(frame_with(DUO, ties=ties)))
    values.append(duo(frame_with(DUO, ridge={"rule": "beam", "section": [70, 195]})))
    values.append(lined())
    values += [
        asking_for(building(), rule.family, example, {})
        for rule in installed.rules
        for example in rule.model.examples
    ]
    return [piece for value in values for piece in lay_out(installed.read_building(value), installed).pieces]


def test_the_examples_have_pieces_of_every_role_and_of_no_other(pieces: list[Piece]) -> None:
    assert {piece.role for piece in pieces} == set(ROLES) - UNMADE


def test_every_role_that_ships_is_in_the_table() -> None:
    assert dict(registry().roles) == dict(ROLES)
    assert all(name == role.name for name, role in ROLES.items())
    assert [role.name for role in ROLES.values() if role.full_height and not role.stands] == []
