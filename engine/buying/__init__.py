"""Buying: what to buy for a building and how to saw it.

In: a layout and its building's stock. Out: the layout with its saw plan and the lengths to buy.
"""

from __future__ import annotations

from soleplate.engine.buying.findings import KINDS
from soleplate.engine.buying.saw_planning import with_saw_plan
