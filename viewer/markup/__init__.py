"""Markup: SVG and HTML as text, in which no text can become an element.

In: typed SVG elements, names of HTML elements, and texts. Out: what a browser reads. Knows no layout.
"""

from __future__ import annotations

from soleplate.viewer.markup.html import Child, Markup, data_block, element, joined, table, table_of
from soleplate.viewer.markup.serialise import carriable, figure, svg_text
