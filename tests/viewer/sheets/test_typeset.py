"""The typesetter keeps nothing of a book once it is made."""

from __future__ import annotations

import subprocess
import sys

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
