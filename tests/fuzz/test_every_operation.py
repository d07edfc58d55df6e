"""Every operation of the document, called with whatever its schemas allow, and with what they don't.

The rules are those that ship, one of a plugin in one file, and those of the example package. Examples are
the same in every run; `SOLEPLATE_FUZZ_EXAMPLES` sets how many there are of an operation, for a longer search.
"""

from __future__ import annotations

import os

import schemathesis
from hypothesis import HealthCheck, Phase, settings

from tests.fuzz.agreement import CHECKS, HERE, described_app

EXAMPLES = int(os.environ.get("SOLEPLATE_FUZZ_EXAMPLES", "20"))

schema = described_app()


@schema.parametrize()
@settings(
    max_examples=EXAMPLES,
    deadline=None,
    phases=[Phase.explicit, Phase.generate],
    derandomize=True,
    database=None,
    suppress_health_check=list(HealthCheck),
)
def test_an_operation(case: schemathesis.Case) -> None:
    case.call_and_validate(additional_checks=CHECKS, headers=HERE)
