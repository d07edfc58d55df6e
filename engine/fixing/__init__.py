"""Fixing: what joins pieces of all parts, found where they lie on each other, and what fixes it.

In: parts as they come out. Out: fixings in the world, the list of them, what of them is to buy, findings.
"""

from __future__ import annotations

from soleplate.engine.fixing.ends import as_fixed
from soleplate.engine.fixing.findings import KINDS
from soleplate.engine.fixing.fixing import fix_joints
