"""Every example can be laid out, and is sound."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from tests.buildings import HONEY_HOUSE, layout_of
from tests.engine.test_invariants import assert_sound

EXAMPLES = sorted(HONEY_HOUSE.parent.glob("*.json"))


@pytest.mark.parametrize("path", EXAMPLES, ids=[path.stem for path in EXAMPLES])
def test_example(path: Path) -> None:
    layout = layout_of(json.loads(path.read_text()))
    assert_sound(layout)
    assert not [finding for finding in layout.findings if finding.level == "stop"]
