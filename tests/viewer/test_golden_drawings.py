"""Drawings are the same to the byte until somebody means to change them."""

from __future__ import annotations

import json

import pytest

from tests.viewer.golden_drawings import DIGESTS, FOLDER, NAMES, WHOLE, digest, drawings, kept, whole

LARGEST = 16_000
"""Bytes of a drawing that is kept whole."""


@pytest.mark.parametrize("name", WHOLE)
def test_a_drawing_that_is_kept_whole_is_the_same(name: str) -> None:
    """`python -m tests.viewer.golden_drawings` writes it again."""
    assert whole(name) == kept(name).read_text(encoding="utf-8")
    assert kept(name).stat().st_size <= LARGEST


@pytest.mark.parametrize("name", NAMES)
def test_every_drawing_has_the_digest_that_it_had(name: str) -> None:
    told = json.loads(DIGESTS.read_text(encoding="utf-8"))
    now = {drawing: digest(svg) for drawing, svg in drawings(name)}
    before = {drawing: value for drawing, value in told.items() if drawing.startswith(f"{name}-")}
    changed = sorted(each for each in now.keys() | before.keys() if now.get(each) != before.get(each))
    assert changed == [], "look at them; python -m tests.viewer.golden_drawings keeps them as they are now"


def test_nothing_else_is_kept() -> None:
    assert {path.name for path in FOLDER.iterdir()} == {DIGESTS.name, *(f"{name}.svg" for name in WHOLE)}
    buildings = {
        name for drawing in json.loads(DIGESTS.read_text()) for name in NAMES if drawing.startswith(name)
    }
    assert buildings == set(NAMES)
