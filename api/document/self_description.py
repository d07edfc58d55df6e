"""What the API tells of itself: the OpenAPI document, and the page that shows it to a person."""

from __future__ import annotations

import json
from typing import Any, Final

from starlette.requests import Request
from starlette.responses import Response

from soleplate.api.calls import INSTALLED, PAGES, Answer, Operation
from soleplate.api.document.docs_page import docs_page
from soleplate.api.document.openapi import openapi_document
from soleplate.api.http import HTML, Fixed
from soleplate.engine.registry import Registry


class _Description:
    """The document, once it is written, in both its forms."""

    def __init__(self) -> None:
        self._document = self._page = Fixed(b"", HTML)

    def write(self, document: dict[str, Any]) -> None:
        """Keep the document."""
        self._document = Fixed(json.dumps(document, sort_keys=True).encode(), "application/json")
        self._page = Fixed(docs_page(document).encode(), HTML)

    async def document(self, request: Request) -> Response:
        """For programs."""
        return self._document.answer(request)

    async def page(self, request: Request) -> Response:
        """For people."""
        return self._page.answer(request)


DOCUMENT: Final = Answer("The OpenAPI document", media_type="application/json", is_fixed=True)
PAGE: Final = Answer("A page", media_type="text/html", is_fixed=True)


def with_own_description(table: tuple[Operation, ...], registry: Registry) -> tuple[Operation, ...]:
    """The table with the two calls that tell of the whole of it, themselves included."""
    described = _Description()
    whole = (
        *table,
        Operation(
            "GET",
            "/openapi.json",
            "getDocument",
            "This document",
            DOCUMENT,
            described.document,
            group=INSTALLED,
        ),
        Operation(
            "GET", "/docs", "showDocs", "This document as a page to read", PAGE, described.page, group=PAGES
        ),
    )
    described.write(openapi_document(whole, registry))
    return whole
