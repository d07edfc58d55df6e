"""Lists: what to cut, buy and saw, as rows that the page, the sheets and spreadsheets show alike.

In: a layout. Out: columns with their texts, alike lengths once, and tables as CSV.
"""

from __future__ import annotations

from soleplate.viewer.lists.buying import (
    Wanted,
    besides_timber,
    costs_all,
    from_on_hand,
    is_priced,
    to_buy,
    to_note,
    total_cost,
)
from soleplate.viewer.lists.covering import covering_said, starts_left
from soleplate.viewer.lists.cutting import (
    OnPage,
    OnSheet,
    Setting,
    cutting_rows,
    page_columns,
    settings,
    sheet_columns,
)
from soleplate.viewer.lists.fixings import fixing_size
from soleplate.viewer.lists.how_good import how_good
from soleplate.viewer.lists.rafter_card import card_marks, card_rows, card_steps
from soleplate.viewer.lists.raising import (
    change_told,
    hours_told,
    names_told,
    none_told,
    raised_seen,
    sentence,
    step_name,
    step_told,
    way_name,
    way_told,
)
from soleplate.viewer.lists.set_ups import SetUp, set_ups
from soleplate.viewer.lists.spreadsheets import (
    buying_list_csv,
    courses_csv,
    cutting_list_csv,
    fixings_csv,
    running_marks_csv,
    saw_plan_csv,
)
