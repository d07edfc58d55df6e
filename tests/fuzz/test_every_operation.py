"""Every operation of the document, called with whatever its schemas allow, and with what they don't.

The rules are those that ship, one of a plugin in one file, and those of the example package. Examples are
the same in every run; `SOLEPLATE_FUZZ_EXAMPLES` sets how many there are of an operation, for a longer search.
"""

from __future__ import annotations

import gc
import os

import pytest
import schemathesis
from hypothesis import HealthCheck, Phase, settings
from schemathesis.generation.feedback import FeedbackSources
from schemathesis.pytest._test_builder import build_operation_test
from schemathesis.python._constants.orchestrator import make_constants_value_source
from schemathesis.schemas import BaseSchema

from tests.fuzz.agreement import CHECKS, HERE, described_app, labels

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
    operation = described.find_operation_by_label(label)
    assert operation is not None
    literals = FeedbackSources(constants_value_source=make_constants_value_source(described))
    test = build_operation_test(
        config=described.config, operation=operation, test_func=agrees, given_kwargs={}, feedback=literals
    )
    test()
    del test
    gc.collect()  # Its examples refer to each other: 100 MB of the largest, which the next can have.


def test_none_is_left_out(described: BaseSchema) -> None:
    assert sorted(found.ok().label for found in described.get_all_operations()) == LABELS
