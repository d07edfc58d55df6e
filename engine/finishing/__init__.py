"""Finishing: what makes the openings of framed and covered walls good, by their rules.

In: framed walls, what covers them, floors and slopes. Out: what finishes each opening, clear of all else.
"""

from __future__ import annotations

from soleplate.engine.finishing.finishing import Finish, finish_openings
