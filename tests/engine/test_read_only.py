"""What plugins are shown cannot be changed: a layout's dicts and lists, and those of the building."""

from __future__ import annotations

import copy
import json
import pickle
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest
from pydantic import BaseModel

from soleplate.api.work.drawing import draw
from soleplate.api.work.exports import export
from soleplate.engine import lay_out, load_registry
from soleplate.engine.building_file import ReadOnlyError, read_only
from soleplate.engine.buying import with_saw_plan
from soleplate.engine.registry import RuleError
from tests.api import plugin_files
from tests.buildings import HONEY_HOUSE, building, registry

EXAMPLES = sorted(HONEY_HOUSE.parent.glob("*.json"))

CHECK = """
from soleplate.engine.rules import hookimpl
@hookimpl
def check_layout(layout, building):
    {body}
    return []
"""

MEDDLING = [
    "layout.building['name'] = 'mine'",
    "layout.building.clear()",
    "layout.building['frame']['section'].append(3)",
    "layout.building['frame']['section'] += [3]",
    "layout.walls[0].marks.pop('sole plate')",
    "layout.walls[0].rules.update(studs='mine')",
    "del layout.walls[0].views['face']",
    "layout.walls[0].spacers[0].worst.popitem()",
    "building.walls.setdefault('front', None)",
    "building.site.room.update(front=3.0)",
]


def mutable(value: object, place: str = "") -> Iterator[str]:
    """The places of all dicts, lists and sets in a value that can be changed."""
    inner: Any = {}
    if type(value) in (dict, list, set):
        yield place
    if isinstance(value, BaseModel):
        inner = vars(value)
    elif isinstance(value, dict):
        inner = value
    elif isinstance(value, list | tuple):
        inner = dict(enumerate(value))
    for name, each in inner.items():
        yield from mutable(each, f"{place}/{name}")


@pytest.mark.parametrize("file", EXAMPLES, ids=lambda file: file.stem)
def test_nothing_in_a_layout_or_building_can_be_changed(file: Path) -> None:
    asked = registry().read_building(json.loads(file.read_text()))
    layout = lay_out(asked, registry())
    assert list(mutable(layout)) == []
    assert list(mutable(asked)) == []


@pytest.mark.parametrize("body", MEDDLING)
def test_a_check_that_tries_is_named(tmp_path: Path, body: str) -> None:
    file = tmp_path / "meddler.py"
    file.write_text(CHECK.format(body=body))
    installed = load_registry(files=[file])
    asked = installed.read_building(building())
    with pytest.raises(RuleError, match="tried to change what others see as well") as raised:
        lay_out(asked, installed)
    assert (raised.value.plugin, raised.value.fault) == ("meddler", "changes what it is given")
    # Nothing was changed by it: the same building is laid out as ever.
    assert lay_out(asked, registry()) == lay_out(registry().read_building(building()), registry())


@pytest.mark.parametrize("body", MEDDLING[:8])
def test_a_check_that_catches_it_has_changed_nothing(tmp_path: Path, body: str) -> None:
    file = tmp_path / "meddler.py"
    file.write_text(CHECK.format(body=f"try:\n        {body}\n    except TypeError: pass"))
    installed = load_registry(files=[file])
    asked = installed.read_building(building())
    assert lay_out(asked, installed) == lay_out(asked, registry())


def test_layers_and_exporters_that_try_are_named(tmp_path: Path) -> None:
    file = tmp_path / "meddler.py"
    meddle = "layout.building.clear()"
    file.write_text(plugin_files.layer(draw=meddle, export=meddle))
    installed = load_registry(files=[file])
    layout = lay_out(installed.read_building(building()), installed)
    tried: list[Callable[[], object]] = [
        lambda: draw(layout, "front", installed),
        lambda: export(layout, installed, "wall-names"),
    ]
    for each in tried:
        with pytest.raises(RuleError, match=r"plugin meddler: .* tried to change what others see"):
            each()


def test_a_plain_copy_may_be_changed() -> None:
    value = read_only({"a": [1]})
    mine = {**value, "a": [*value["a"], 3]}
    assert (mine, value) == ({"a": [1, 3]}, {"a": [1]})
    assert list(mutable(pickle.loads(pickle.dumps(value)))) == list(mutable(copy.deepcopy(value))) == []


@pytest.mark.parametrize(
    "change",
    [
        lambda value: value.__setitem__("a", 1), lambda value: value.__delitem__("a"),
        lambda value: value.__ior__({}), lambda value: value.clear(), lambda value: value.pop("a"),
        lambda value: value.popitem(), lambda value: value.setdefault("b", 1),
        lambda value: value.update(b=1), lambda value: value["a"].__setitem__(0, 1),
        lambda value: value["a"].__delitem__(0), lambda value: value["a"].__iadd__([1]),
        lambda value: value["a"].__imul__(2), lambda value: value["a"].append(1),
        lambda value: value["a"].clear(), lambda value: value["a"].extend([1]),
        lambda value: value["a"].insert(0, 1), lambda value: value["a"].pop(),
        lambda value: value["a"].remove(3), lambda value: value["a"].reverse(),
        lambda value: value["a"].sort(),
    ],
)  # fmt: skip
def test_every_way_to_change_one_is_refused(change: Callable[[Any], object]) -> None:
    value = read_only({"a": [3]})
    with pytest.raises(ReadOnlyError):
        change(value)
    assert value == {"a": [3]}


def test_a_layout_with_its_saw_plan_tells_the_same_as_ever() -> None:
    value = building(stock={"stock": [{"section": [45, 70], "lengths": [{"length": 4800, "price": 10}]}]})
    asked = registry().read_building(value)
    layout = with_saw_plan(lay_out(asked, registry()), asked)
    told = json.loads(layout.model_dump_json(exclude_none=True))["building"]
    assert told["stock"]["stock"] == [
        {
            "section": [45, 70],
            "lengths": [{"length": 4800.0, "price": 10.0, "grade": "straight"}],
            "on_hand": [],
        }
    ]
