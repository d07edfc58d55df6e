"""Words: every text that a reader sees, and what the layout's values read like in them.

In: values of a layout and a set of texts, English unless given. Out: words. Another language is one more set.
"""

from __future__ import annotations

from soleplate.viewer.words.texts import ENGLISH, Texts
from soleplate.viewer.words.wording import (
    anchor_text,
    brace_text,
    clear_text,
    cuts_text,
    finding_id,
    goods_text,
    money_text,
    notches_text,
    plate_text,
    role_text,
    section_text,
    short_cuts_text,
    size_text,
    sizes_text,
    small_length,
    stuff_text,
    timber_text,
    wall_id,
    weight_text,
)
