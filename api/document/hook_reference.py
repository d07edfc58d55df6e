"""The reference of hooks, written from the code: each hook, what it collects, what passes through it."""

from __future__ import annotations

import ast
import dataclasses
import inspect
import re
import sys
import textwrap
from collections.abc import Iterator
from typing import Any, Final, get_args

from pydantic import BaseModel
from pydantic.fields import FieldInfo

from soleplate.engine import rules
from soleplate.engine.building_file import model
from soleplate.engine.layout import FindingOut, Layout, Piece, WallOut
from soleplate.engine.registry import Registry, deprecation
from soleplate.engine.rules import FAMILIES, DrawingLayer, Drawn, Exporter, ExportOptions, hookspecs

TOLD: Final[tuple[type[Any], ...]] = (FindingOut, Layout, WallOut, Piece)
"""What checks, layers and exporters are given or return; the rest of a layout is in `/openapi.json`."""

LIMITED: Final = (
    ("AnyLength", "a length in mm, to put limits of its own on: `Annotated[AnyLength, Limits(50.0, 300.0)]`"),
    ("Limits", inspect.getdoc(model.Limits)),
    ("Items", inspect.getdoc(model.Items)),
    ("Length", "a length in mm, over zero"),
    ("Distance", "a length in mm that may be zero"),
    ("Name", "a text of 1 to 60 characters on one line"),
)
"""Types for a rule's members, from `soleplate.engine.rules`."""


def hook_functions() -> dict[str, Any]:
    """The specification of every hook by its name, in the order of `hookspecs`."""
    return {
        name: value
        for name, value in vars(hookspecs).items()
        if inspect.isfunction(value) and hasattr(value, f"{hookspecs.PROJECT}_spec")
    }


def hooks_text(registry: Registry, drawn: Any) -> str:
    """Every hook with its description and the base class that it offers classes of, then the values.

    `drawn` tells the place of a rule's drawing.
    """
    guide = "How to write a plugin: [plugins/GUIDE.md](../plugins/GUIDE.md)."
    parts = [f"# Hooks\n\n{inspect.getdoc(hookspecs)}\n\n{guide}\n"]
    for name, function in hook_functions().items():
        parts.append(f"## {name}\n\n```python\n{_signature(name, function)}\n```\n\n{_described(function)}\n")
        for base in _bases(function):
            parts.append(_base_text(base))
            parts += _picked_in(base)
            shown = registry.of_family(getattr(base, "family", ""))
            parts += [f"For example `{each.name}`:\n\n![{each.name}]({drawn(each)})\n" for each in shown[:1]]
    versions = (inspect.getdoc(deprecation) or "").split("\n\n", 1)[1]
    parts.append(f"## Versions\n\n{versions}\n")
    parts += [
        f"- `{name}`: {told.instead}; gone in {told.gone_in}\n"
        for name, told in deprecation.DEPRECATED.items()
    ]
    parts.append(f"## What every rule has\n\n{_base_text(rules.Rule)}")
    limited = "\n".join(f"- `{name}`: {' '.join((text or '').split())}" for name, text in LIMITED)
    parts.append(f"Types for its members, from `soleplate.engine.rules`:\n\n{limited}\n")
    refusal = rules.CannotFrame
    parts.append(f"### {refusal.__name__}\n\nFrom `soleplate.engine.rules`. {inspect.getdoc(refusal)}\n")
    parts.append(
        "## What rules are told, and what they return\n\nLengths in mm; in order of their names."
        " A `Point` is (x, z) on the wall's face, an `Outline` a tuple of points, counter-clockwise.\n"
    )
    parts += [_value_text(kind) for kind in _values()]
    parts.append("## What checks, layers and exporters are told, and what checks return\n")
    parts += [_model_text(kind) for kind in TOLD]
    parts.append("A `Building` is what the building file says: `soleplate schema` prints its JSON Schema.\n")
    return "\n".join(parts)


def _picked_in(base: type[Any]) -> Iterator[str]:
    """Where a building file picks a rule of a family."""
    for family in FAMILIES:
        if family.base is base:
            members = ", ".join(f"`{pick.member}`" for pick in family.picks)
            yield f"A building file picks one in {members}.\n"


def _signature(name: str, function: Any) -> str:
    return f"def {name}{inspect.signature(function)}".replace("'", "")


def _described(thing: Any) -> str:
    """A docstring, its sections as paragraphs of their own."""
    text = inspect.getdoc(thing) or ""
    text = re.sub(r"^(Args|Returns|Raises):\n", r"**\1**\n\n", text, flags=re.MULTILINE)
    text = re.sub(r"^(Called|Order|Failure|Since):", r"- **\1**:", text, flags=re.MULTILINE)
    return re.sub(r"^    (\S)", r"- \1", text, flags=re.MULTILINE)


def _bases(function: Any) -> Iterator[type[Any]]:
    """The classes that a `register_*` hook collects subclasses of."""
    found = re.search(r"type\[(\w+)\]", str(inspect.signature(function)))
    if found and found[1] == rules.Rule.__name__:
        yield from (family.base for family in FAMILIES)
    elif found:
        yield getattr(hookspecs, found[1])
        if found[1] == Exporter.__name__:
            yield ExportOptions


def _base_text(base: type[Any]) -> str:
    """A base class: its class variables, the methods that it asks for, those that may be overridden."""
    lines = [f"### {base.__name__}\n\nFrom `soleplate.engine.rules`. {_described(base)}\n"]
    lines += [
        f"- `{name}`{'' if hasattr(base, name) else ', must be there'}: {said or kind}"
        for name, kind, said in _class_variables(base)
    ]
    lines += [""] if len(lines) > 1 else []
    for name, member in vars(base).items():
        if name.startswith("_") or not (inspect.isfunction(member) or isinstance(member, property)):
            continue
        function = member.fget if isinstance(member, property) else member
        asked = "must be there" if name in getattr(base, "__abstractmethods__", ()) else "may be overridden"
        what = "A property, " if isinstance(member, property) else ""
        lines.append(f"`{_signature(name, function)}`: {what}{asked}.\n\n{_described(function)}\n")
    return "\n".join(lines)


def _class_variables(base: type[Any]) -> Iterator[tuple[str, str, str]]:
    """Name, type and docstring of each class variable, as its source has them."""
    (tree,) = ast.parse(textwrap.dedent(inspect.getsource(base))).body
    assert isinstance(tree, ast.ClassDef)  # noqa: S101 - it is the source of a class
    for each, after in zip(tree.body, [*tree.body[1:], None], strict=True):
        if isinstance(each, ast.AnnAssign) and "ClassVar" in ast.unparse(each.annotation):
            said = ""
            if isinstance(after, ast.Expr) and isinstance(after.value, ast.Constant):
                said = str(after.value.value)
            kind = ast.unparse(each.annotation).removeprefix("ClassVar[").removesuffix("]")
            yield ast.unparse(each.target), f"`{kind}`", said


def _values() -> list[type[Any]]:
    """The dataclasses that the methods of all families mention, and those that these mention, by name."""
    found: dict[str, type[Any]] = {}
    bases: tuple[type[Any], ...] = (*(family.base for family in FAMILIES), DrawingLayer)
    known = {name: kind for base in bases for name, kind in vars(sys.modules[base.__module__]).items()}
    known |= {kind.__name__: kind for kind in vars(rules).values() if inspect.isclass(kind)}
    texts = [str(inspect.signature(each)) for base in bases for each in _methods(base)]
    texts += [kind.__name__ for kind in get_args(Drawn)]
    while texts:
        for word in set(re.findall(r"\b[A-Z]\w+", texts.pop())) - set(found):
            kind = known.get(word)
            if inspect.isclass(kind) and (dataclasses.is_dataclass(kind) or hasattr(kind, "_fields")):
                found[word] = kind
                texts += [said for _, said in _fields(kind)]
    return [found[name] for name in sorted(found)]


def _methods(base: type[Any]) -> list[Any]:
    return [member for member in vars(base).values() if inspect.isfunction(member)]


def _fields(kind: type[Any]) -> list[tuple[str, str]]:
    """Names and types of what a value is made of."""
    if dataclasses.is_dataclass(kind):
        return [
            (field.name, f"{field.type}{_default(field)}") for field in dataclasses.fields(kind) if field.init
        ]
    return [(name, str(kind.__annotations__[name])) for name in kind._fields]


def _default(field: dataclasses.Field[Any]) -> str:
    """What a field is without a value."""
    plain = isinstance(field.default, str | int | float | bool | tuple | None)
    return f" = {field.default!r}" if plain and field.default is not dataclasses.MISSING else ""


def _value_text(kind: type[Any]) -> str:
    """What a value holds, and what it tells."""
    lines = [f"- `{name}: {type_}`" for name, type_ in _fields(kind)]
    for name, member in inspect.getmembers(kind):
        if name.startswith("_") or name in {field for field, _ in _fields(kind)}:
            continue
        if isinstance(member, property):
            told = str(inspect.signature(member.fget)).rpartition("-> ")[2] if member.fget else ""
            lines.append(f"- `{name}: {told.strip(chr(39))}` (property): {_first(member)}")
        elif inspect.isroutine(member) and not hasattr(tuple, name):
            lines.append(f"- `{_signature(name, member).removeprefix('def ')}`: {_first(member)}")
    shown = "\n".join(lines)
    return f"### {kind.__name__}\n\nFrom `soleplate.engine.rules`. {inspect.getdoc(kind)}\n\n{shown}\n"


def _model_text(kind: type[BaseModel]) -> str:
    lines = [
        f"- `{name}`: {' '.join((field.description or '').split()) or _type_of(field)}"
        for name, field in kind.model_fields.items()
    ]
    shown = "\n".join(lines)
    return f"### {kind.__name__}\n\nFrom `soleplate.engine.rules`. {inspect.getdoc(kind)}\n\n{shown}\n"


def _type_of(field: FieldInfo) -> str:
    return f"`{inspect.formatannotation(field.annotation)}`"


def _first(thing: Any) -> str:
    return (inspect.getdoc(thing) or "").split("\n\n")[0].replace("\n", " ")
