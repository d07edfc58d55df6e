"""Sheets for the bench: the job book's drawings, lists and templates, composed for paper and typeset.

In: a layout and options. Out: the book as data for the typesetter's template, and what it makes of it.
"""

from __future__ import annotations

from soleplate.viewer.sheets.archive import zipped
from soleplate.viewer.sheets.book import job_book
from soleplate.viewer.sheets.typeset import LACKING, is_installed, pdf, svgs
