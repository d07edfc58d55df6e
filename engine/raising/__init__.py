"""Raising: in which order the walls are put up, and how, or what is in the way.

In: a layout, its building, the registry. Out: the order of work, or why there is none, and findings.
"""

from __future__ import annotations

from soleplate.engine.raising.findings import KINDS
from soleplate.engine.raising.order import check_site, has_order, order_of_work
from soleplate.engine.raising.yard import yard_of
