"""From a job book's data to a PDF or to one SVG a sheet, by typst, which is imported on first use."""

from __future__ import annotations

import importlib.util
import json
import re
from contextlib import suppress
from functools import cache
from importlib import resources
from types import ModuleType
from typing import Any, Final, Literal

LACKING: Final = "the typesetter is not installed: install the extra, pip install 'soleplate[sheets]'"

KEPT_FOR: Final = 12
"""Compilations for which the typesetter keeps what it worked out: ten of 0.15, as measured, and two more."""

_TEMPLATE: Final = "job_book.typ"

_FONTLESS: Final = re.compile(r"[^\x00-\u024f\u2000-\u22ff]")
"""What the typesetter's own fonts may lack; they have all Latin letters, punctuation and signs."""


def is_installed() -> bool:
    """Whether typst is there."""
    return importlib.util.find_spec("typst") is not None


def pdf(book: dict[str, Any]) -> bytes:
    """The book as PDF 1.7, tagged (PDF/UA-1); the same bytes for the same book.

    Fonts come from the typesetter alone, so that no machine's own fonts change a sheet. Only where they lack
    a character of a name may the machine's own fonts help out; and where those lack it too, a box stands for
    it, each sheet says so, and the PDF is tagged without the promise of PDF/UA, which allows no such box.
    """
    return _strict(book) or _compiled(_lacking(book), "pdf", True, [])[0]


def svgs(book: dict[str, Any]) -> list[bytes]:
    """Each sheet as SVG, with the fonts of `pdf`; texts are outlines, so that they look alike everywhere."""
    if _FONTLESS.search(json.dumps(book, ensure_ascii=False)) is None:
        return _compiled(book, "svg", True, [])
    # The typesetter tells only of a strict PDF that a font lacks a character.
    alone = next((alone for alone in (True, False) if _strict(book, (alone,))), None)
    return _compiled(book if alone is not None else _lacking(book), "svg", alone is not False, [])


def _strict(book: dict[str, Any], ways: tuple[bool, ...] = (True, False)) -> bytes | None:
    """The book as PDF/UA, set by the typesetter's fonts alone, else by the machine's too.

    `None` where both lack some of its characters.
    """
    for alone in ways:
        with suppress(_typst().TypstError):
            return _compiled(book, "pdf", alone, ["ua-1"])[0]
    return None


def _lacking(book: dict[str, Any]) -> dict[str, Any]:
    """The same book, each sheet of which says that it lacks characters."""
    return book | {"caution": f"{book['lacking']} {book['caution']}"}


def _compiled(
    book: dict[str, Any], form: Literal["pdf", "svg"], alone: bool, standards: list[str]
) -> list[bytes]:
    try:
        made = _typst().compile(
            _template(),
            format=form,
            sys_inputs={"book": json.dumps(book, ensure_ascii=False)},
            ignore_system_fonts=alone,
            pdf_standards=standards,
        )
    finally:
        _forget()
    return made if isinstance(made, list) else [made]


def _forget() -> None:
    """Have the typesetter drop what it keeps for compiling the same again: 50 to 150 MB of each book.

    It drops what was not used for some compilations, and nothing else makes it, so these are of nothing.
    """
    compiler = _typst().Compiler(ignore_system_fonts=True)
    for _ in range(KEPT_FOR):
        compiler.compile(input=b"", format="svg")


def _typst() -> ModuleType:
    """The typesetter: 85 MB that nothing else needs."""
    import typst

    return typst


@cache
def _template() -> bytes:
    return resources.files("soleplate.viewer.sheets").joinpath(_TEMPLATE).read_bytes()
