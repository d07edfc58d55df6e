"""Calls on kept designs in sequences, along the document's links: what one answers, the next is given."""

from __future__ import annotations

import os
import sqlite3
import tempfile
from collections import Counter
from concurrent.futures import ProcessPoolExecutor
from contextlib import closing
from pathlib import Path
from typing import Any, ClassVar

import schemathesis
from hypothesis import HealthCheck, Phase, settings

from tests.fuzz.agreement import CHECKS, HERE, client_of, described_app, only, told_as_text

SEQUENCES = max(100, int(os.environ.get("SOLEPLATE_FUZZ_EXAMPLES", "20")) // 5)
"""How many there are; fewer seldom come to every call."""

FOLLOWED = (
    "DELETE /v1/designs/{id}",
    "GET /v1/designs/{id}",
    "GET /v1/designs/{id}/layout",
    "GET /v1/designs/{id}/revisions",
    "GET /v1/designs/{id}/revisions/{revision}",
    "POST /v1/designs/{id}/restore",
    "PUT /v1/designs/{id}",
)
"""Calls that sequences come to with a design that is there, by links alone."""

LONGEST = 30
"""Calls in one."""

DESIGNS = Path(tempfile.mkdtemp(prefix="soleplate-sequences-")) / "designs.sqlite"


def sequences() -> Any:
    """What plays a sequence; made when it is asked for, since each process of a run reads this file."""
    on_designs = only(described_app(DESIGNS), lambda label: " /v1/designs" in label)
    client = client_of(on_designs)
    machine: Any = on_designs.as_state_machine()

    class Sequence(machine):  # type: ignore[misc, valid-type]
        """Every answer is held to the document; `answered` counts them."""

        answered: ClassVar[Counter[tuple[str, int]]] = Counter()

        def setup(self) -> None:
            """Each begins with no designs, so that it goes the same way again."""
            if DESIGNS.exists():
                with closing(sqlite3.connect(DESIGNS)) as kept, kept:
                    kept.execute("DELETE FROM revisions")
                    kept.execute("DELETE FROM designs")
                    kept.execute("DELETE FROM first_sent")
            self.deleted: set[str] = set()

        def get_call_kwargs(self, case: schemathesis.Case) -> dict[str, Any]:
            return {"headers": HERE, "session": client}

        def validate_response(self, response: Any, case: schemathesis.Case, **given: Any) -> None:
            self.answered[case.operation.label, response.status_code] += 1
            self._follow(response, case)
            super().validate_response(response, case, additional_checks=CHECKS, **given)

        def _follow(self, response: Any, case: schemathesis.Case) -> None:
            """A deleted design is gone until it is brought back."""
            design = case.path_parameters.get("id")
            if response.status_code < 300:
                if case.operation.label == "DELETE /v1/designs/{id}":
                    self.deleted.add(design)
                elif case.operation.label == "POST /v1/designs/{id}/restore":
                    self.deleted.discard(design)
                else:
                    assert design not in self.deleted, f"{case.operation.label} answers of a deleted design"

    return Sequence


def play() -> Counter[str]:
    """How often each call on designs was answered well, in all sequences."""
    sequence = sequences()
    with told_as_text():
        sequence.run(
            settings=settings(
                max_examples=SEQUENCES,
                stateful_step_count=LONGEST,
                deadline=None,
                phases=[Phase.generate],
                derandomize=True,
                database=None,
                suppress_health_check=list(HealthCheck),
            )
        )
    return Counter({label: count for (label, status), count in sequence.answered.items() if status == 200})


def test_calls_on_designs(beside: ProcessPoolExecutor) -> None:
    done = beside.submit(play).result()
    assert not set(FOLLOWED) - set(done), "links were not followed"
    assert sum(done[label] for label in FOLLOWED) >= 50
