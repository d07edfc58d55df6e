"""Every operation of the document, called with whatever its schemas allow, and with what they don't.

The rules are those that ship, one of a plugin in one file, and those of the example package. Examples are
the same in every run; `SOLEPLATE_FUZZ_EXAMPLES` sets how many there are of an operation, for a longer search.
"""

from __future__ import annotations

import gc
import os
from concurrent.futures import ProcessPoolExecutor
from functools import lru_cache

import pytest
import schemathesis
from hypothesis import HealthCheck, Phase, settings
from schemathesis.generation.feedback import FeedbackSources
from schemathesis.pytest._test_builder import build_operation_test
from schemathesis.python._constants.orchestrator import make_constants_value_source
from schemathesis.python.asgi import ASGIClient
from schemathesis.schemas import BaseSchema

from tests.fuzz.agreement import ALIKE, CHECKS, HERE, client_of, corners, described_app, labels, told_as_text

EXAMPLES = int(os.environ.get("SOLEPLATE_FUZZ_EXAMPLES", "20"))
OF_ALIKE = max(20, EXAMPLES // 4)
"""Examples of an operation that takes what another takes, where it is tried with all of them."""

LABELS = labels()

AGAIN = settings(
    deadline=None,
    phases=[Phase.explicit, Phase.generate],
    derandomize=True,
    database=None,
    suppress_health_check=list(HealthCheck),
)
"""The same in every run."""


@lru_cache(maxsize=1)
def described() -> BaseSchema:
    return described_app()


@lru_cache(maxsize=1)
def client() -> ASGIClient:
    return client_of(described())


def call(label: str) -> None:
    """Call one operation; its examples are made here, where its process is, and let go before the next.

    Raises:
        AssertionError: what the fuzzer found, as a text.
    """
    schema = described()
    operation = schema.find_operation_by_label(label)
    assert operation is not None
    literals = FeedbackSources(constants_value_source=make_constants_value_source(schema))

    @settings(AGAIN, max_examples=OF_ALIKE if label in ALIKE else EXAMPLES)
    def agrees(case: schemathesis.Case) -> None:
        case.call_and_validate(session=client(), additional_checks=CHECKS, headers=HERE)

    test = build_operation_test(
        config=schema.config, operation=operation, test_func=agrees, given_kwargs={}, feedback=literals
    )
    with told_as_text():
        # What every corner of a building's schema brings is tried on one operation.
        for case in corners(operation, literals) if label not in ALIKE else ():
            case.call_and_validate(session=client(), additional_checks=CHECKS, headers=HERE)
        test()
    del test
    gc.collect()  # Examples refer to each other.


def described_labels() -> list[str]:
    return sorted(found.ok().label for found in described().get_all_operations())


@pytest.mark.parametrize("label", LABELS)
def test_an_operation(beside: ProcessPoolExecutor, label: str) -> None:
    beside.submit(call, label).result()


def test_none_is_left_out(beside: ProcessPoolExecutor) -> None:
    assert beside.submit(described_labels).result() == LABELS
