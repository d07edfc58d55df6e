"""The kinds of findings that rules of several plugins tell, collected from where they are written."""

from __future__ import annotations

from typing import Final

from soleplate.engine.rules.level_courses import NARROW_STRIP
from soleplate.engine.rules.movement import ENOUGH, FREE, TOO_LITTLE

KINDS: Final = (NARROW_STRIP, ENOUGH, FREE, TOO_LITTLE)
