"""HTTP: what a request and its response are made of, whatever they are about.

In: requests, values, exceptions. Out: what was read of them; responses, problem details (RFC 9457).
"""

from __future__ import annotations

from soleplate.api.http.bases import put_base
from soleplate.api.http.bodies import read_body, receive, require_type
from soleplate.api.http.compressing import ONCE, fresh
from soleplate.api.http.entity_tags import TAG_PATTERN, revisions_seen, tag_of
from soleplate.api.http.fixed import Fixed, is_known
from soleplate.api.http.idempotency_keys import KEY_PATTERN, idempotency_key
from soleplate.api.http.negotiation import SVG, prefers, require_accepted
from soleplate.api.http.outcomes import HTML, JSON, LATER, Done, Failed, Outcome, as_json, failed
from soleplate.api.http.problem_types import (
    ARCHIVE,
    ARCHIVE_CLASH,
    BAD_HEAD,
    DELETED,
    DESIGNS_BUSY,
    DESIGNS_UNAVAILABLE,
    HEAD_TOO_LARGE,
    INTERNAL,
    KEY_REUSED,
    MEDIA,
    MISSING_RULES,
    MOVED_ON,
    NO_IF_MATCH,
    NO_ROOM,
    NO_TOKEN,
    NOT_ACCEPTABLE,
    NOT_FOUND,
    OTHER_SITE,
    OVER_CAPACITY,
    PARAMETER,
    PLUGIN,
    PROBLEMS,
    SCHEMA,
    STOPPING,
    TOO_BUSY,
    TOO_LARGE,
    TOO_MUCH_WORK,
    TOO_SLOW,
    UNBUILDABLE,
    UNBUILDABLE_DESIGN,
    UNREADABLE,
    WORKER_LOST,
    WRONG_HOST,
    ProblemType,
)
from soleplate.api.http.problems import (
    MEDIA_TYPE,
    Problem,
    ProblemFault,
    answer_with,
    faults_json,
    headers_of,
    problem_json,
    problem_of,
)
from soleplate.api.http.queries import (
    LAST,
    MEMBERS,
    ChangesQuery,
    DesignsQuery,
    LayoutQuery,
    RevisionsQuery,
    described,
    elevation_query,
    read_query,
)
from soleplate.api.http.refusals import (
    BadHead,
    BadParameter,
    HeadTooLarge,
    NoToken,
    NotThere,
    OtherSite,
    OverCapacity,
    Refusal,
    Stopping,
    TooBusy,
    TooSlow,
    WorkerLost,
    WrongHost,
)
from soleplate.api.http.request_ids import HEADER, id_of, name_call
