"""Job books for tests, each made once."""

from __future__ import annotations

import json
from functools import lru_cache
from pathlib import Path
from typing import Any

from soleplate.engine.buying import with_saw_plan
from soleplate.engine.layout import Layout
from soleplate.engine.work_order import with_work_order
from soleplate.viewer.paper.options import SheetOptions
from soleplate.viewer.sheets.book import job_book
from tests.buildings import BARE_HONEY_HOUSE, layout_of, registry
from tests.viewer.sheets.reading_pdf import Page
from tests.viewer.sheets.setting import set_and_read

EXAMPLES = Path(__file__).parents[3] / "examples"
NAMES = ("bare_honey_house", "l_shaped_workshop", "partition", "studio_in_inches")
"""Measured line by line, on both papers."""

FILES = {path.stem: path for path in EXAMPLES.glob("*.json")} | {"bare_honey_house": BARE_HONEY_HOUSE}

OTHERS = sorted(FILES.keys() - set(NAMES))
"""Looked at for what overlaps or leaves its place."""


@lru_cache
def example(name: str) -> Layout:
    value = json.loads(FILES[name].read_text())
    building = registry().read_building(value)
    return with_work_order(with_saw_plan(layout_of(value), building), building, registry())


@lru_cache
def example_pages(name: str, paper: Any = None) -> list[Page]:
    return pages_of(example(name), paper=paper)


def pages_of(layout: Layout, **options: Any) -> list[Page]:
    return set_and_read(job_book(layout, SheetOptions(**options)))
