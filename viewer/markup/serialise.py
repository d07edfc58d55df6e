"""The one place that turns typed SVG elements into text.

svg.py escapes neither text nor attributes, so its own text form is never used: its elements are walked
into ElementTree, which escapes, and what XML 1.0 cannot carry is replaced.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from decimal import Decimal
from typing import Any, Final
from xml.etree import ElementTree

import svg

_NOT_CARRIED: Final = re.compile("[^\t\n\u0020-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]")
"""All that XML 1.0, section 2.2, leaves out, and the carriage return, which readers turn into a line feed."""

_NAME: Final = re.compile(r"[A-Za-z_][A-Za-z0-9_.-]*(:[A-Za-z_][A-Za-z0-9_.-]*)?")
_CONTENT: Final = frozenset({"elements", "text", "data", "extra"})


def carriable(text: str) -> str:
    """A text in which each character that XML 1.0 cannot carry is a replacement character."""
    return _NOT_CARRIED.sub("\N{REPLACEMENT CHARACTER}", text)


def figure(value: float | Decimal) -> str:
    """A number with at most three decimals: no exponent, no trailing zeros, no negative zero."""
    text = f"{value:.3f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


def svg_text(root: svg.Element) -> str:
    """An element and all within it as well-formed XML; equal elements give equal text.

    Raises:
        ValueError: an attribute's name is none in XML.
    """
    return ElementTree.tostring(_node(root), encoding="unicode")


def _node(element: svg.Element) -> ElementTree.Element:
    node = ElementTree.Element(element.element_name)
    for name, value in _attributes(element):
        if not _NAME.fullmatch(name):
            raise ValueError(f"{name!r} is no attribute name")
        node.set(name, carriable(_value(value)))
    if element.text is not None:
        node.text = carriable(element.text)
    node.extend([_node(child) for child in element.elements or ()])
    return node


def _attributes(element: svg.Element) -> Iterator[tuple[str, Any]]:
    """Attributes under their SVG names, typed; `as_dict` names them alike but makes texts of its own."""
    for key, value in vars(element).items():
        if value is not None and key not in _CONTENT:
            yield key.rstrip("_").replace("__", ":").replace("_", "-"), value
    for key, value in (element.data or {}).items():
        yield f"data-{key}", value
    yield from (element.extra or {}).items()


def _value(value: Any) -> str:
    match value:
        case str():
            return value
        case bool():
            return "true" if value else "false"
        case int() | float():
            return figure(value)
        case svg.Point():
            return f"{figure(value.x)},{figure(value.y)}"
        case list():
            return " ".join(map(_value, value))
        case svg.ViewBoxSpec():
            return " ".join(map(figure, (value.min_x, value.min_y, value.width, value.height)))
        case svg.Transform() | svg.PathData():
            return _placed(value)
    raise TypeError(f"no text is laid down for a {type(value).__name__}")


def _placed(value: svg.Transform | svg.PathData) -> str:
    match value:
        case svg.Rotate():
            about = (value.a, value.x, value.y)
            return f"rotate({' '.join(figure(part) for part in about if part is not None)})"
        case svg.Translate():
            return f"translate({figure(value.x)} {figure(value.y or 0)})"
        case svg.M():
            return f"M{figure(value.x)} {figure(value.y)}"
        case svg.V():
            return f"V{figure(value.y)}"
    raise TypeError(f"no text is laid down for a {type(value).__name__}")
