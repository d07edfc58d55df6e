"""The serialiser: hostile text comes back equal after parsing, and nothing else writes SVG."""

from __future__ import annotations

import ast
from pathlib import Path
from xml.etree import ElementTree

import pytest
import svg
from hypothesis import given
from hypothesis import strategies as st

import soleplate.viewer
from soleplate.viewer.markup.serialise import carriable, figure, svg_text

SOURCES = sorted(Path(soleplate.viewer.__path__[0]).rglob("*.py"))


@pytest.mark.parametrize(
    ("value", "text"),
    [
        (0.0, "0"),
        (-0.0, "0"),
        (-0.0004, "0"),
        (45.0, "45"),
        (591.4286, "591.429"),
        (1e-9, "0"),
        (1e6, "1000000"),
        (-2.5, "-2.5"),
    ],
)
def test_figures(value: float, text: str) -> None:
    assert figure(value) == text


@given(st.text())
def test_text_and_attributes_come_back(text: str) -> None:
    drawn = svg.G(elements=[svg.Text(text=text)], data={"mark": text}, extra={"aria-label": text})
    parsed = ElementTree.fromstring(svg_text(drawn))
    assert (parsed[0].text or "") == carriable(text)
    assert parsed.get("data-mark") == carriable(text)
    assert parsed.get("aria-label") == carriable(text)
    assert [child.tag for child in parsed] == ["text"]


def test_uncarriable_characters_are_replaced() -> None:
    assert carriable("a\x00b\x0cc\ud800d\re\ufffe") == "a\ufffdb\ufffdc\ufffdd\ufffde\ufffd"
    assert carriable("tab\tline\n\U0001f41d é") == "tab\tline\n\U0001f41d é"


def test_attribute_names_are_checked() -> None:
    with pytest.raises(ValueError, match="no attribute name"):
        svg_text(svg.G(extra={"x onload=alert(1)": "y"}))


def test_places_and_paths() -> None:
    drawn = svg.G(
        transform=[svg.Translate(0, 1e-9), svg.Rotate(90, 1, 2)],
        elements=[svg.Path(d=[svg.M(1.25, -0.0), svg.V(2.0004)])],
    )
    parsed = ElementTree.fromstring(svg_text(drawn))
    assert parsed.get("transform") == "translate(0 0) rotate(90 1 2)"
    assert parsed[0].get("d") == "M1.25 0 V2"


def test_unknown_values_are_refused() -> None:
    with pytest.raises(TypeError, match="SkewX"):
        svg_text(svg.G(transform=[svg.SkewX(3)]))


@pytest.mark.parametrize("path", SOURCES, ids=[path.stem for path in SOURCES])
def test_no_element_is_made_a_text_by_itself(path: Path) -> None:
    """svg.py escapes nothing, so its own text form is banned, with all ways to reach it."""
    for node in ast.walk(ast.parse(path.read_text())):
        if isinstance(node, ast.Attribute):
            assert node.attr not in {"as_str", "_as_str", "__str__", "_repr_svg_"}
        if isinstance(node, ast.Call) and isinstance(node.func, ast.Name):
            assert node.func.id not in {"str", "repr", "format"}
