"""The names of the authors' module in words, from their source: values, models, helpers, types, figures."""

from __future__ import annotations

import ast
import dataclasses
import html
import inspect
import re
import sys
import textwrap
from collections.abc import Iterator
from functools import cache, cached_property
from typing import Any, Final, Literal, get_args, get_origin

from pydantic import BaseModel, TypeAdapter

from soleplate.api.document.schema_words import Schema, members, words
from soleplate.engine import rules
from soleplate.engine.building_file import AnyLength, Building, Name
from soleplate.engine.layout import Record, Result
from soleplate.engine.rules import DrawingLayer, Exporter, ExportOptions, Rule

BASES: Final = (Rule, DrawingLayer, Exporter, ExportOptions)
"""Classes to derive from: each stands with its hook."""


def names_text() -> str:
    """All names that are not told with their hooks, by what they are."""
    named = {name: getattr(rules, name) for name in sorted(rules.__all__)}
    named = {n: v for n, v in named.items() if not (inspect.isclass(v) and issubclass(v, BASES))}
    classes = {n: v for n, v in named.items() if inspect.isclass(v)}
    told = [v for v in classes.values() if issubclass(v, Record | Result)]
    values = [
        v
        for v in classes.values()
        if v not in told and (dataclasses.is_dataclass(v) or hasattr(v, "_fields"))
    ]
    asked = [v for v in classes.values() if issubclass(v, BaseModel) and v not in told and v is not Building]
    helpers = [v for v in named.values() if inspect.isfunction(v)]
    others = [n for n, v in named.items() if n not in classes and v not in helpers]
    plain_classes = [v for v in classes.values() if v not in (*values, *told, *asked, Building)]
    parts = [
        "## What rules are told, and what they return\n\nLengths in mm; in order of their names.\n",
        *map(_value_text, values),
        *(f"### {each.__name__}\n\n{described(each)}\n" for each in plain_classes),
        "## What checks, layers and exporters are told\n\nThe rest of a layout is in `/openapi.json`.\n",
        *map(_model_text, told),
        "## Parts of a building file\n\nA `Building` is what the building file says: `soleplate schema`"
        " prints its JSON Schema.\n",
        *map(_model_text, asked),
        "## Helpers\n",
        *(f"`{signature(each.__name__, each)}`\n\n{described(each)}\n" for each in helpers),
        "## Types and figures\n",
        *(f"- `{name}`{_shown(named[name])}: {_assigned()[name]}" for name in others),
    ]
    return "\n".join(parts) + "\n"


class _Words:
    """Stands in a signature for what is written as it is."""

    def __init__(self, text: str) -> None:
        self._text = text

    def __repr__(self) -> str:
        return self._text


def signature(name: str, function: Any) -> str:
    """A function's head, its types as they are written; a function that is a default is left out."""
    told = inspect.signature(function)
    parameters = [
        each.replace(
            annotation=_Words(each.annotation) if isinstance(each.annotation, str) else each.annotation,
            default=_Words("...") if inspect.isfunction(each.default) else each.default,
        )
        for each in told.parameters.values()
    ]
    returned = told.return_annotation
    answer = _Words(returned) if isinstance(returned, str) else returned
    return f"def {name}{told.replace(parameters=parameters, return_annotation=answer)}"


def described(thing: Any) -> str:
    """A docstring, its sections as paragraphs of their own."""
    text = inspect.getdoc(thing) or ""
    # What is returned is one paragraph, on several lines.
    text = re.sub(r"(?<=^Returns:\n)(?:    .+\n?)+", _on_one_line, text, flags=re.MULTILINE)
    text = re.sub(r"^(Args|Returns|Raises):\n", r"**\1**\n\n", text, flags=re.MULTILINE)
    text = re.sub(r"^(Called|Order|Failure|Since):", r"- **\1**:", text, flags=re.MULTILINE)
    return re.sub(r"^    (\S)", r"- \1", text, flags=re.MULTILINE)


def _on_one_line(found: re.Match[str]) -> str:
    return f"    {' '.join(found[0].split())}\n"


def first_sentence(thing: Any) -> str:
    """The first paragraph of a docstring, on one line."""
    return (inspect.getdoc(thing) or "").split("\n\n")[0].replace("\n", " ")


def base_text(base: type[Any]) -> str:
    """A base class: its members and class variables, and the methods it asks for or has already."""
    lines = [f"### {base.__name__}\n\n{described(base)}\n"]
    lines += [
        f"- `{name}: {kind}`{'' if hasattr(base, name) else ', must be there'}{f': {said}' if said else ''}"
        for name, kind, said in _class_variables(base)
    ]
    if issubclass(base, BaseModel):
        lines += _members(base)
    lines += [""] if len(lines) > 1 else []
    for name, member in vars(base).items():
        if name.startswith("_") or not (inspect.isfunction(member) or isinstance(member, property)):
            continue
        asked = "must be there" if name in getattr(base, "__abstractmethods__", ()) else "may be overridden"
        lines.append(f"{_headed(name, member)}, {asked}.\n\n{described(member)}\n")
    return "\n".join(lines)


def plain(markup: object) -> str:
    """What a member has to be, as text, a length and a name in one word."""
    text = _text(markup)
    for kind, word in ((AnyLength, "length"), (Name, "name")):
        text = text.replace(_text(words(TypeAdapter(kind).json_schema())), word)
    return text.removesuffix(" or null")


def _text(markup: object) -> str:
    return html.unescape(re.sub(r"<[^>]+>", "", str(markup)))


def _headed(name: str, member: Any) -> str:
    """How a method or a property is called, and that it is one."""
    asked = member.fget if isinstance(member, property) else getattr(member, "func", None)
    if isinstance(member, property | cached_property):
        kind = str(inspect.signature(asked)).rpartition("-> ")[2].strip("'") if asked else ""
        return f"`{name}: {kind}` (property)"
    return f"`{signature(name, member)}`"


def _class_variables(base: type[Any]) -> Iterator[tuple[str, str, str]]:
    """Name, type and docstring of each class variable, as its source has them."""
    for name, kind, said in _annotated(_body(base)):
        if kind.startswith("ClassVar"):
            yield name, kind.removeprefix("ClassVar[").removesuffix("]"), said


def _body(kind: type[Any]) -> list[ast.stmt]:
    """What stands in a class's source."""
    (tree,) = ast.parse(textwrap.dedent(inspect.getsource(kind))).body
    assert isinstance(tree, ast.ClassDef)  # noqa: S101 - it is the source of a class
    return tree.body


def _annotated(body: list[ast.stmt]) -> Iterator[tuple[str, str, str]]:
    """Name, annotation and docstring of all that is assigned in a body."""
    for each, after in zip(body, [*body[1:], None], strict=True):
        if isinstance(each, ast.AnnAssign | ast.Assign):
            is_told = isinstance(after, ast.Expr) and isinstance(after.value, ast.Constant)
            said = " ".join(str(after.value.value).split()) if is_told else ""  # type: ignore[union-attr]
            target = each.target if isinstance(each, ast.AnnAssign) else each.targets[0]
            kind = ast.unparse(each.annotation) if isinstance(each, ast.AnnAssign) else ""
            yield ast.unparse(target), kind, said


@cache
def _assigned() -> dict[str, str]:
    """What is said of every name that a module of the engine assigns; without words, what it is."""
    found: dict[str, str] = {}
    for name, module in sorted(sys.modules.items()):
        if name.startswith("soleplate.engine.") and getattr(module, "__file__", None):
            for target, _, said in _annotated(ast.parse(inspect.getsource(module)).body):
                found[target] = found.get(target) or said
    return found


def _shown(value: object) -> str:
    """A figure or a choice of words as it is; of anything else nothing."""
    if isinstance(value, str | float):
        return f" = `{value!r}`"
    return f" = `{' | '.join(map(repr, get_args(value)))}`" if get_origin(value) is Literal else ""


def _members(model: type[Any]) -> list[str]:
    """Each member of a model that a file may have: what it has to be, and what it is without."""
    schema: Schema = TypeAdapter(model).json_schema()
    own = set(inspect.get_annotations(model))
    needed = {"yes": "; needed", "no": ""}
    return [
        f"- `{name}`: {plain(kind)}{needed.get(without, without.replace('no;', '; else'))}. {said}".replace(
            "\n", " "
        ).rstrip()
        for name, kind, without, said in members(schema)
        if {name, f"{name}_"} & own
    ]


def _value_text(kind: type[Any]) -> str:
    """What a value holds, and what it tells."""
    fields = list(_fields(kind))
    said = {name: words for name, _, words in _annotated(_body(kind))}
    lines = [f"- `{name}: {told}`{f': {said[name]}' if said.get(name) else ''}" for name, told in fields]
    for name, member in inspect.getmembers(kind):
        if name.startswith("_") or name in dict(fields) or hasattr(tuple, name):
            continue
        if isinstance(member, property) or inspect.isroutine(member):
            lines.append(f"- {_headed(name, member).replace('`def ', '`')}: {first_sentence(member)}")
    return f"### {kind.__name__}\n\n{inspect.getdoc(kind)}\n\n" + "\n".join(lines) + "\n"


def _fields(kind: type[Any]) -> Iterator[tuple[str, str]]:
    """Name, and type with what it is without a value, of all that a value is made of."""
    if not dataclasses.is_dataclass(kind):
        for name in kind._fields:
            told = kind.__annotations__[name]
            yield name, getattr(told, "__forward_arg__", str(told))
        return
    for field in dataclasses.fields(kind):
        if field.init:
            is_plain = isinstance(field.default, str | int | float | bool | tuple | None)
            yield field.name, f"{field.type} = {field.default!r}" if is_plain else str(field.type)


def _model_text(kind: type[Any]) -> str:
    return "\n".join([f"### {kind.__name__}\n\n{inspect.getdoc(kind)}\n", *_members(kind), ""])
