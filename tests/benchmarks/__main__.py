"""All benchmarks: `python -m tests.benchmarks [saw-plans] [page] [serving]`; to be read, none asserted."""

from __future__ import annotations

import sys

from tests.benchmarks import layouts, saw_plans, serving

if __name__ == "__main__":
    layouts.main()
    if "saw-plans" in sys.argv[1:]:
        saw_plans.main()
    if "page" in sys.argv[1:]:
        # Needs Chromium, which not every machine has.
        from tests.benchmarks import page

        page.main()
    if "serving" in sys.argv[1:]:
        serving.main()
