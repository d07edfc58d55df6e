"""All benchmarks: `python -m tests.benchmarks`, with the names of those below that take longer."""

from __future__ import annotations

import sys

from tests.benchmarks import heading_joints, layouts, orders_of_work, pictures, saw_plans, serving

if __name__ == "__main__":
    layouts.main()
    pictures.main()
    if "heading-joints" in sys.argv[1:]:
        heading_joints.main()
    if "saw-plans" in sys.argv[1:]:
        saw_plans.main()
    if "orders-of-work" in sys.argv[1:]:
        orders_of_work.main()
    if "page" in sys.argv[1:]:
        # Needs Chromium, which not every machine has.
        from tests.benchmarks import page

        page.main()
    if "serving" in sys.argv[1:]:
        serving.main()
