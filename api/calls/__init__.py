"""Calls: the table of operations, and what answers each of them.

In: requests that the guard let in. Out: responses. Routes and the OpenAPI document are made from the table.
"""

from __future__ import annotations

from soleplate.api.calls.archives import ArchiveCalls
from soleplate.api.calls.design_drawings import DesignDrawings
from soleplate.api.calls.design_operations import design_operations
from soleplate.api.calls.designs import DesignCalls
from soleplate.api.calls.export_operations import export_operations
from soleplate.api.calls.keeping import Keeping
from soleplate.api.calls.operations import (
    GROUPS,
    INSTALLED,
    PAGES,
    WORKING_OUT,
    Answer,
    Body,
    Operation,
    operations,
)
from soleplate.api.calls.plain_pages import page_of
from soleplate.api.calls.telling import Calls, static_files
from soleplate.api.calls.working import WorkCalls
