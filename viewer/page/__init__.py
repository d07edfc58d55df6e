"""The page: the plan as the way round, the walls and the lists, whole without any script.

In: a layout and how it is looked at, and what the server knows. Out: HTML, whole or as the parts that change.
"""

from __future__ import annotations

from soleplate.viewer.page.page import READ_WITH, Served, page_html, served_page_html
from soleplate.viewer.page.parts import board_parts
from soleplate.viewer.page.raising import raising_steps
from soleplate.viewer.page.start import ASK_IN, QUESTIONS, Question, units_of
from soleplate.viewer.page.view import PageView
