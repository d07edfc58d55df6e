"""What the fuzzer asks beside its own checks: document and server agree on what is well-formed."""

from __future__ import annotations

from typing import Any, Final

import schemathesis
from schemathesis.checks import CheckContext
from schemathesis.config import SchemathesisConfig
from schemathesis.openapi.checks import RejectedPositiveData

from soleplate.api.problem_types import UNBUILDABLE

CONFIG: Final = {
    "checks": {
        # Of a building that the schema lets through and nobody can build. `agreement` looks closer.
        "positive_data_acceptance": {"enabled": False},
    },
}


def config() -> SchemathesisConfig:
    return SchemathesisConfig.from_dict(CONFIG)


def agreement(ctx: CheckContext, response: Any, case: schemathesis.Case) -> None:
    """What the schema lets through is accepted, or cannot be built: it never breaks the schema."""
    meta = case.meta
    if meta is None or not meta.generation.mode.is_positive or response.status_code < 400:
        return
    if response.status_code in (404, 412, 428):
        return
    problem = response.json()
    if problem["type"] == UNBUILDABLE.uri:
        return
    raise RejectedPositiveData(
        operation=case.operation.label,
        message=f"{response.status_code} {problem['type']}: {problem['detail'][:400]}",
        status_code=response.status_code,
        allowed_statuses=["2xx", "404", "412", "428", "422 unbuildable"],
    )
