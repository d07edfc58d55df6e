"""What a piece of work comes to. Plain data, so that it can come from another process."""

from __future__ import annotations

import traceback
from collections.abc import Mapping
from dataclasses import dataclass, field
from enum import Enum
from typing import Final, Literal

from pydantic import BaseModel

from soleplate.api.http.problems import Problem, problem_of

JSON: Final = "application/json"
HTML: Final = "text/html; charset=utf-8"


@dataclass(frozen=True, slots=True)
class Done:
    """What was asked for; `lasting` says that the same body always gives the same bytes."""

    body: bytes
    media_type: str
    headers: Mapping[str, str] = field(default_factory=dict)
    lasting: bool = True


@dataclass(frozen=True, slots=True)
class Failed:
    """Why there is nothing; `trace` is for the log, where the fault is not the caller's."""

    problem: Problem
    trace: str | None = None


class Later(Enum):
    """The work is more than can be done while others wait for something quick."""

    LATER = "later"


LATER: Final = Later.LATER

Outcome = Done | Failed | Literal[Later.LATER]


def as_json(answer: BaseModel, *, lasting: bool = True, nulls: bool = False) -> Done:
    """A model as JSON, without the members that say nothing unless `nulls` are wanted."""
    return Done(answer.model_dump_json(exclude_none=not nulls).encode(), JSON, lasting=lasting)


def failed(error: Exception) -> Failed:
    """An exception as an outcome; the trace of what nobody outside can mend is kept."""
    problem = problem_of(error)
    return Failed(problem, "".join(traceback.format_exception(error)) if problem.status == 500 else None)
