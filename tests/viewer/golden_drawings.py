"""The examples' drawings as they were last looked at: a few whole, a digest of each other.

`python -m tests.viewer.golden_drawings` writes them again. Look at what has changed before you keep it.
"""

from __future__ import annotations

import hashlib
import json
from collections.abc import Iterator
from pathlib import Path
from typing import Final, get_args

from soleplate.engine.layout import Layout
from soleplate.viewer.drawings.covering import covering_svg
from soleplate.viewer.drawings.elevation import elevation_svg
from soleplate.viewer.drawings.face import Side
from soleplate.viewer.drawings.laid import drawn_parts
from soleplate.viewer.drawings.layers import LAYERS
from soleplate.viewer.drawings.storey_rod import storey_rod_svg
from soleplate.viewer.paper.sizes import paper_for
from soleplate.viewer.sheets.book import book_sheets
from soleplate.viewer.words.texts import ENGLISH
from tests.viewer.sheets.books import EXAMPLES, example

FOLDER: Final = Path(__file__).with_name("golden")
DIGESTS: Final = FOLDER / "digests.json"

WHOLE: Final = (
    "hen_house-wall-2-1",  # a raked wall on paper, with its tape
    "honey_house-templates-1",  # bevels at full size
    "l_shaped_workshop-cover",  # a plan
    "reading_room-wall-4-lining-1",  # a lining, seen from inside
    "apple_store-rod-1",  # a storey rod
    "apple_store-joints-1-figure-1",  # a joint with its nails
    "apple_store-raising-1-figure-5",  # a wall is raised
    "hen_house-raising-1-figure-1",  # what is in the way
)
"""Kept as they are, one of each kind, small; by a change in them one sees what the digests cannot tell.

Of the drawings on the page `examples/honey_house_front.svg` is kept.
"""

NAMES: Final = sorted(path.stem for path in EXAMPLES.glob("*.json"))


def drawings(name: str) -> Iterator[tuple[str, str]]:
    """Every drawing of an example, on paper and on the page, by its name."""
    layout = example(name)
    for drawing, svg in (*_on_paper(layout), *_on_page(layout)):
        yield f"{name}-{drawing}", svg


def _on_paper(layout: Layout) -> Iterator[tuple[str, str]]:
    for sheet in book_sheets(layout, paper_for(layout.units), ENGLISH):
        for block in sheet.blocks:
            if block["kind"] == "picture":
                yield sheet.id, block["svg"]
            if block["kind"] == "figures":
                for number, cell in enumerate(block["cells"], 1):
                    yield f"{sheet.id}-figure-{number}", cell["svg"]
                    if "beside" in cell:
                        yield f"{sheet.id}-figure-{number}-beside", cell["beside"]["svg"]


def _on_page(layout: Layout) -> Iterator[tuple[str, str]]:
    for number, wall in enumerate(drawn_parts(layout), 1):
        for side in get_args(Side):
            yield f"wall-{number}-{side}", elevation_svg(layout, wall.name, side=side, layers=LAYERS)
    for slope in layout.roofs:
        if slope.covering is not None:
            yield f"{slope.name}-covering", covering_svg(layout, slope)
    if layout.storey_rod or layout.lining_rod:
        yield "storey-rod", storey_rod_svg(layout)


def digests() -> dict[str, str]:
    """Of every drawing, by its name."""
    return {drawing: digest(svg) for name in NAMES for drawing, svg in drawings(name)}


def digest(svg: str) -> str:
    """Enough of SHA-256 to tell one drawing from another."""
    return hashlib.sha256(svg.encode()).hexdigest()[:16]


def whole(name: str) -> str:
    """One of those that are kept whole, as it is now."""
    building = next(each for each in NAMES if name.startswith(f"{each}-"))
    return dict(drawings(building))[name]


def kept(name: str) -> Path:
    """Where a drawing is kept."""
    return FOLDER / f"{name}.svg"


if __name__ == "__main__":
    FOLDER.mkdir(exist_ok=True)
    for each in WHOLE:
        kept(each).write_text(whole(each), encoding="utf-8")
    DIGESTS.write_text(json.dumps(digests(), indent=0) + "\n", encoding="utf-8")
