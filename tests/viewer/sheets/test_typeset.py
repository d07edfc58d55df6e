"""The typesetter keeps nothing of a book once it is made."""

from __future__ import annotations

import subprocess
import sys

import pytest

from soleplate.viewer.paper import SheetOptions
from soleplate.viewer.sheets import job_book, svgs
from soleplate.viewer.words import ENGLISH
from tests.viewer.sheets.books import example, pages_of
from tests.viewer.sheets.reading_pdf import Page

MADE = """
import resource
from soleplate.viewer.paper import SheetOptions
from soleplate.viewer.sheets import job_book, svgs
from tests.viewer.sheets.books import example

def peak():
    return resource.getrusage(resource.RUSAGE_SELF).ru_maxrss

layout = example("bare_honey_house")
svgs(job_book(layout, SheetOptions()))
first = peak()
for number in range(5):
    svgs(job_book(layout.model_copy(update={"name": f"House {number}"}), SheetOptions()))
print(peak() / first)
"""


def test_books_made_one_after_another_take_no_more_memory_than_one() -> None:
    """In a process of its own; each book that was kept would add a third of what the first one takes."""
    done = subprocess.run([sys.executable, "-c", MADE], capture_output=True, text=True, check=True)
    assert float(done.stdout) < 1.5


UNWRITTEN = chr(0x1F6D1 + 0x10000 * 13) + chr(0xE0FFF)
"""Characters that nobody has given a shape to: no font has them."""


@pytest.mark.parametrize("name", ["Shed", "Сарай"])
def test_a_name_that_the_fonts_have_is_set_without_a_word(name: str) -> None:
    assert ENGLISH.sheets.lacking not in _texts(name)
    assert name in _texts(name)


def test_each_sheet_says_that_characters_are_lacking() -> None:
    for page in _pages(f"Shed {UNWRITTEN}"):
        assert "no font of this machine" in " ".join(page.text.split())


def test_drawings_of_sheets_say_so_too() -> None:
    """Their texts are outlines: told by that they are more than those of a name that is all there."""
    layout = example("partition")
    plain, lacking = (
        svgs(job_book(layout.model_copy(update={"name": name}), SheetOptions()))
        for name in ("Shed", f"Shed {UNWRITTEN}")
    )
    assert len(plain) == len(lacking)
    for one, other in zip(plain, lacking, strict=True):
        assert other.count(b"<use") > one.count(b"<use") + len(ENGLISH.sheets.lacking) / 2


def _pages(name: str) -> list[Page]:
    return pages_of(example("partition").model_copy(update={"name": name}))


def _texts(name: str) -> str:
    return " ".join(page.text for page in _pages(name))
