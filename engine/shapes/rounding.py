"""Numbers as they are put out."""

from __future__ import annotations


def rounded(value: float) -> float:
    """A length or angle as it is put out: at 0.001, and never a negative zero."""
    return round(value, 3) + 0.0
