"""Numbers as they are put out."""

from __future__ import annotations

from functools import lru_cache


# The figures of a frame occur again and again: a plate's thickness, the height that studs reach up to.
@lru_cache(maxsize=4096)
def rounded(value: float) -> float:
    """A length or angle as it is put out: at 0.001, and never a negative zero."""
    return round(value, 3) + 0.0
