"""Every operation of the document, called with whatever its schemas allow, and with what they don't.

The rules are those that ship, one of a plugin in one file, and those of the example package. Examples are
the same in every run; `SOLEPLATE_FUZZ_EXAMPLES` sets how many there are of an operation, for a longer search.
"""

from __future__ import annotations

import os

import pytest
import schemathesis
from hypothesis import HealthCheck, Phase, settings
from schemathesis.pytest.lazy import get_all_tests
from schemathesis.schemas import BaseSchema

from tests.fuzz.agreement import CHECKS, HERE, described_app, labels, only

EXAMPLES = int(os.environ.get("SOLEPLATE_FUZZ_EXAMPLES", "20"))
LABELS = labels()


@pytest.fixture(scope="module")
def described() -> BaseSchema:
    return described_app()


@settings(
    max_examples=EXAMPLES,
    deadline=None,
    phases=[Phase.explicit, Phase.generate],
    derandomize=True,
    database=None,
    suppress_health_check=list(HealthCheck),
)
def agrees(case: schemathesis.Case) -> None:
    case.call_and_validate(additional_checks=CHECKS, headers=HERE)


# The fuzzer's own `parametrize` makes the examples of all operations in every process that reads this file,
# which takes 230 MB and 40 s; these are made one operation at a time, where it is tested.
@pytest.mark.parametrize("label", LABELS)
def test_an_operation(described: BaseSchema, label: str) -> None:
    one = only(described, label.__eq__)
    ((_, test),) = [
        made.ok() for made in get_all_tests(schema=one, test_func=agrees, settings=None, given_kwargs={})
    ]
    test()


def test_none_is_left_out(described: BaseSchema) -> None:
    assert sorted(found.ok().label for found in described.get_all_operations()) == LABELS
