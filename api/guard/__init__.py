"""Guard: the outermost layer. Who may call, what each response must bear, and the log.

In: every request. Out: the same request, or a refusal.
"""

from __future__ import annotations

from soleplate.api.guard.access_log import Form, LoggedCall, access_log
from soleplate.api.guard.guard import Guard
from soleplate.api.guard.security import HEALTH, TOKEN_VARIABLE, Access
