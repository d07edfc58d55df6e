"""Written: what the command line makes, a folder of files or a plan as lines of text.

In: a layout, a saw plan. Out: files, lines.
"""

from __future__ import annotations

from soleplate.api.written.folder import PAGE, folder_files, require_folder, write_folder
from soleplate.api.written.orders_of_work import order_lines
from soleplate.api.written.saw_plans import saw_plan_lines, what_if_lines
