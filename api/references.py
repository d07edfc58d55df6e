"""The references of hooks and rules, written from the code: `python -m soleplate.api.references [FOLDER]`.

In a clone the folder is its root, and `engine/HOOKS.md`, `plugins/RULES.md` and the drawings beside it are
written. A test holds them to the code.
"""

from __future__ import annotations

import inspect
import json
import sys
from collections.abc import Iterator, Mapping, Sequence
from pathlib import Path
from typing import Any, Final

from soleplate.api.document import first_sentence, hooks_text, members, plain
from soleplate.engine.buying import with_saw_plan
from soleplate.engine.contract.buildings import building
from soleplate.engine.contract.rules import asking_for
from soleplate.engine.finding_kinds import finding_kinds
from soleplate.engine.laying_out import lay_out
from soleplate.engine.layout import Layout
from soleplate.engine.registry import RegisteredRule, Registry, load_registry
from soleplate.engine.rules import FloorRule, RaisingRule, RoofRule, families
from soleplate.engine.work_order import with_work_order
from soleplate.viewer.drawings import elevation_svg

HOOKS: Final = "engine/HOOKS.md"
RULES: Final = "plugins/RULES.md"
FINDINGS: Final = "engine/FINDINGS.md"
DRAWINGS: Final = "plugins/drawings"

HEAD: Final = "<!-- Written by python -m soleplate.api.references; change the code, not this. -->\n\n"

WINDOW: Final[Mapping[str, Any]] = {
    "name": "window", "kind": "window", "width": 900, "height": 600, "sill": 900, "at": {"centre": 1500},
}  # fmt: skip
OUTLINE: Final[Mapping[str, Any]] = {"length": 3000, "width": 1800, "through": "front-back"}
ROOF: Final[Mapping[str, Any]] = {
    "form": "mono-pitch", "high_side": "right", "low_height": 1900, "pitch": 10,
}  # fmt: skip


def references(registry: Registry) -> dict[str, str]:
    """Every file of the references by its path from the root of a clone, for what is installed."""
    drawings = {
        f"{DRAWINGS}/{_file(rule)}": drawing(rule, registry) for rule in registry.rules if _is_drawn(rule)
    }
    hooks = hooks_text(registry, lambda rule: f"../{DRAWINGS}/{_file(rule)}" if _is_drawn(rule) else "")
    written = {HOOKS: f"{HEAD}{hooks}", RULES: rules_text(registry), FINDINGS: findings_text(registry)}
    return {**written, **drawings}


def rules_text(registry: Registry) -> str:
    """The reference of rules: each with what it takes, its examples, and the first of them drawn."""
    parts = [
        f"{HEAD}# Rules\n\nWhat ships with Soleplate, by family. A building file picks a rule by its name;"
        " lengths are in mm unless a text says otherwise. Each drawing is of the first example.\n"
    ]
    for family in families.FAMILIES:
        rules = registry.of_family(family.name)
        parts.append(f"## {family.name.replace('_', ' ').capitalize()}\n\n{first_sentence(family.base)}\n")
        parts += [_rule_text(rule) for rule in rules] or ["None ship with Soleplate.\n"]
    return "\n".join(parts)


def findings_text(registry: Registry) -> str:
    """The catalogue of findings: each kind with its sentence and one case of it."""
    told = {(each.code, each.level): each.message for layout in cases(registry) for each in layout.findings}
    parts = [
        f"{HEAD}# Findings\n\nWhat is told of a layout: advice, never an approval. Codes are stable. `stop`"
        " says do not build it so, `warn` think again, `note` is good to know. Names in braces are the"
        " figures of a case.\n"
    ]
    for who, kind in finding_kinds(registry):
        said = f"{kind.level}, told by `{who}`. Basis: {kind.basis}."
        parts.append(f"## {kind.code}\n\n{said}\n\n> {kind.sentence}\n")
        case = told.pop((kind.code, kind.level), None)
        parts += [f"For example: {case}\n"] if case else []
    return "\n".join(parts)


def cases(registry: Registry) -> Iterator[Layout]:
    """Layouts of small buildings, each made so that something is found."""
    for value in json.loads((Path(__file__).parent / "finding_cases.json").read_text(encoding="utf-8")):
        building_read = registry.read_building(value)
        planned = with_saw_plan(lay_out(building_read, registry), building_read)
        yield with_work_order(planned, building_read, registry)


def _rule_text(rule: RegisteredRule) -> str:
    schema = rule.model.model_json_schema(by_alias=True)
    bases = {family.base.__name__: family.name for family in families.FAMILIES}
    lines = [f"### {rule.name}\n\n{inspect.getdoc(rule.model)} From plugin `{rule.plugin}`.\n"]
    rows = list(_rows(schema, ""))
    for name, definition in sorted(schema.get("$defs", {}).items()):
        if definition.get("properties") and name not in bases:
            rows += _rows(definition, f"{name}: ")
    if rows:
        lines.append(
            "| member | what | needed, or else | meaning |\n|---|---|---|---|\n" + "\n".join(rows) + "\n"
        )
    shown = "\n".join(json.dumps(dict(example)) for example in rule.model.examples)
    lines.append(f"```json\n{shown}\n```\n")
    if _is_drawn(rule):
        lines.append(f"![The first example in a wall](drawings/{_file(rule)})\n")
    return "\n".join(lines)


def _rows(schema: Mapping[str, Any], before: str) -> Iterator[str]:
    for name, kind, without, meaning in members(schema):
        if name != "rule":
            cells = (f"{before}`{name}`", plain(kind), without, meaning)
            yield "| " + " | ".join(cell.replace("|", "\\|").replace("\n", " ") for cell in cells) + " |"


def _is_drawn(rule: RegisteredRule) -> bool:
    """Whether a rule shows in a wall: how one is raised does not."""
    return rule.family != RaisingRule.family


def _file(rule: RegisteredRule) -> str:
    return f"{rule.family.replace('_', '-')}-{rule.name}.svg"


def drawing(rule: RegisteredRule, registry: Registry) -> str:
    """The first example of a rule as SVG: in a wall with a window, or the floor or slope that it lays."""
    value = building(rule.name, outline=OUTLINE, roof=ROOF, walls={"front": {"openings": [dict(WINDOW)]}})
    asked = asking_for(value, rule.family, rule.model.examples[0], {})
    layout = lay_out(registry.read_building(asked), registry)
    if rule.family == FloorRule.family:
        return elevation_svg(layout, layout.floors[0].name, layers=("frame", "openings"))
    if rule.family == RoofRule.family:
        return elevation_svg(layout, layout.roofs[0].name, layers=("frame", "openings"))
    return elevation_svg(layout, "front", layers=("frame", "openings", "cladding"))


def main(arguments: Sequence[str]) -> int:
    """Write the references into a clone; the exit code."""
    root = Path(arguments[0] if arguments else ".")
    if not (root / "plugins").is_dir():
        print(f"{root} is no clone of Soleplate: accepted is a folder with plugins/ in it", file=sys.stderr)
        return 2
    (root / DRAWINGS).mkdir(exist_ok=True)
    written = references(shipped())
    for old in (root / DRAWINGS).glob("*.svg"):
        if f"{DRAWINGS}/{old.name}" not in written:
            old.unlink()
    for path, text in written.items():
        (root / path).write_text(text, encoding="utf-8")
    print(f"{len(written)} files written in {root}")
    return 0


def shipped() -> Registry:
    """What ships with Soleplate alone, so that the references are the same in every environment."""
    registry = load_registry()
    ours = [plugin.name for plugin in registry.plugins if plugin.distribution == "soleplate"]
    return load_registry(only=ours)


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
