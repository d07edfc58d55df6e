"""Terminal: what the command line says and asks, and the command `designs`.

In: sentences, faults, options. Out: lines on stdout and stderr, exit statuses. Imports nothing heavy.
"""

from __future__ import annotations

from soleplate.api.terminal.designs import Designs, opened_place
from soleplate.api.terminal.designs import app as designs_app
from soleplate.api.terminal.saying import about, at_last, data, fail, reason, run, say, told, working
