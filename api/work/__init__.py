"""Work: what is worked out for a request, each piece of it a job from a body to bytes, and who does it.

In: a job and a body. Out: its outcome, from a worker by turns, or as kept from before. Knows no address.
"""

from __future__ import annotations

from soleplate.api.work.boards import PAGE_QUERY, begin, file_of
from soleplate.api.work.drawing import draw
from soleplate.api.work.exports import export_files, left_out, options_for, plain
from soleplate.api.work.jobs import Job, Jobs
from soleplate.api.work.messages import (
    EXAMPLE_BOARD,
    EXAMPLE_BUILDING,
    EXAMPLE_CUT,
    EXAMPLE_ELEVATION,
    EXAMPLE_SAW_PLAN,
    EXAMPLE_SITE,
    EXAMPLE_STOCK,
    EXAMPLE_VIEW,
    EXAMPLE_WALL,
    EXAMPLE_WHAT_IF,
    ChangesOut,
    HealthOut,
    PluginOut,
    PluginsOut,
    RuleOut,
    RulesOut,
    board_model,
    elevation_model,
    view_model,
    what_if_model,
)
from soleplate.api.work.orders import DRAWN, OrderAnswer, order_answer
from soleplate.api.work.workers import PluginChoice
from soleplate.api.work.workshop import Workshop
