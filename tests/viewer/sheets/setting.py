"""Books are set and read in a process of its own: what both keep, some 300 MB, stays out of the tests'."""

from __future__ import annotations

import warnings
from concurrent.futures import ProcessPoolExecutor
from functools import cache
from multiprocessing import get_context
from typing import Any, Final

from soleplate.viewer.sheets.typeset import pdf
from tests.viewer.sheets.reading_pdf import Page, read

BOOKS_OF_ONE: Final = 30
"""After which another process takes the place of the first, so that none grows large."""


def set_and_read(book: dict[str, Any]) -> list[Page]:
    """The pages of a book as they are printed."""
    return _beside().submit(_pages, book).result()


def _pages(book: dict[str, Any]) -> list[Page]:
    return read(pdf(book))


@cache
def _beside() -> ProcessPoolExecutor:
    return ProcessPoolExecutor(
        1, get_context("spawn"), warnings.simplefilter, ("error",), max_tasks_per_child=BOOKS_OF_ONE
    )
