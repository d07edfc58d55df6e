"""The types of problem that a call can have (RFC 9457), each explained under its URI.

`type` is a relative URI, `/problems/NAME`. Titles and sentences are ours, so that no library's wording
reaches a client.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final


@dataclass(frozen=True, slots=True)
class ProblemType:
    """A kind of problem: `meaning` says what happened and what to do about it."""

    name: str
    status: int
    title: str
    meaning: str

    @property
    def uri(self) -> str:
        """The `type` of its problems."""
        return f"/problems/{self.name}"


UNREADABLE: Final = ProblemType(
    "unreadable",
    400,
    "The body cannot be read as JSON",
    "The body is not JSON in UTF-8, or two readers could read it differently: a key given twice in one"
    " object, NaN or an infinity, a number too large to be held, or a nesting too deep. Mend the text.",
)
BAD_HEAD: Final = ProblemType(
    "bad-head",
    400,
    "This is not HTTP",
    "The request's line or headers cannot be read as HTTP/1.1.",
)
NO_TOKEN: Final = ProblemType(
    "no-token",
    401,
    "A token is needed",
    "This server can be reached from other machines, so a call that sends something, and where the server"
    " was started so any call, needs the header `Authorization: Bearer TOKEN` with the token of the server.",
)
OTHER_SITE: Final = ProblemType(
    "other-site",
    403,
    "Pages of this site may not call",
    "The `Origin` header says that a page of another site made this call. The server takes such calls from"
    " the sites alone that it was started with (`--allow-origin`).",
)
NOT_FOUND: Final = ProblemType(
    "not-found",
    404,
    "There is nothing at this address",
    "No call has this path, or what it names is not there. `/openapi.json` lists all calls.",
)
METHOD: Final = ProblemType(
    "method",
    405,
    "This address has no such method",
    "The path is right and the method is not. The answer's `Allow` header lists those that are.",
)
TOO_SLOW: Final = ProblemType(
    "too-slow",
    408,
    "The request did not come in time",
    "The head or the body was still coming in when the server stopped waiting for it. Send it again, without"
    " a pause.",
)
TOO_LARGE: Final = ProblemType(
    "too-large",
    413,
    "The body is too large",
    "The body has more bytes than the server reads. A building of a thousand walls takes less.",
)
MEDIA: Final = ProblemType(
    "media-type",
    415,
    "The body is not declared as JSON",
    "Send JSON in UTF-8, not compressed, with the header `Content-Type: application/json`.",
)
WRONG_HOST: Final = ProblemType(
    "wrong-host",
    421,
    "This server has another name",
    "The `Host` header names a server that this one is not. That protects it from pages of other sites that"
    " point a name of theirs at it. Use the address that `soleplate serve` printed.",
)
SCHEMA: Final = ProblemType(
    "schema",
    422,
    "The body breaks the published schema",
    "A member is unknown, missing or of another kind than the JSON Schema in `/openapi.json` asks for."
    " Each fault has its place and what would be accepted.",
)
UNBUILDABLE: Final = ProblemType(
    "unbuildable",
    422,
    "This cannot be set out",
    "The body keeps to the schema and describes something that cannot be built: an opening wider than its"
    " wall, heights that contradict each other. Each fault has its place and what would be accepted.",
)
HEAD_TOO_LARGE: Final = ProblemType(
    "head-too-large",
    431,
    "The head is too large",
    "The request's line and headers have more bytes, or more headers, than the server reads. What is long"
    " belongs in the body.",
)
PLUGIN: Final = ProblemType(
    "plugin",
    500,
    "A plugin failed",
    "The plugin that `plugin` names, in its rule `rule` where that is known, failed or returned something"
    " that cannot be. Tell its author, or start the server without it.",
)
WORKER_LOST: Final = ProblemType(
    "worker-lost",
    500,
    "The work ended before it was done",
    "The process that did the work stopped: the machine is short of memory, or something that a plugin uses"
    " crashed it. Another takes its place, and other calls are not touched. If it happens again with the same"
    " body, report it with the body.",
)
INTERNAL: Final = ProblemType(
    "internal",
    500,
    "Soleplate failed",
    "A fault of Soleplate itself, not of the request. The server's log has the particulars: please report"
    " it with the request that brought it about.",
)
OVER_CAPACITY: Final = ProblemType(
    "over-capacity",
    503,
    "Too much to do at once",
    "So many calls wait that this one was not begun. Send it again after `Retry-After` seconds.",
)

TOO_BUSY: Final = ProblemType(
    "too-busy",
    503,
    "The machine is too busy",
    "The work was given up because it was not done in time, and it did not even use the processor for as long"
    " as it may: the machine has other things to do, or something is waited for. Send it again after"
    " `Retry-After` seconds.",
)

STOPPING: Final = ProblemType(
    "stopping",
    503,
    "The server is stopping",
    "The server was told to stop, and this call was not done in the time that was left. Send it again once"
    " the server is up.",
)

TOO_MUCH_WORK: Final = ProblemType(
    "too-much-work",
    422,
    "This takes too long, or too much memory",
    "The work was given up because it took more processor time or memory than one call may have. Ask for less"
    " at once: a smaller building, fewer sizes to compare, a shorter planning time.",
)

PARAMETER: Final = ProblemType(
    "parameter",
    400,
    "A parameter cannot be so",
    "A part of the address behind `?`, or a header, is unknown, given twice, or has a value that is not"
    " accepted. The answer says which, and what would be.",
)
NOT_ACCEPTABLE: Final = ProblemType(
    "not-acceptable",
    406,
    "It is not made in this form",
    "The `Accept` header takes none of the media types in which this is made. The answer says which.",
)
UNBUILDABLE_DESIGN: Final = ProblemType(
    "unbuildable-design",
    409,
    "The kept design cannot be set out",
    "Work in progress is kept even where nothing can be built from it. Each fault has its place in the"
    " building file: mend it there, and save the design again.",
)
MISSING_RULES: Final = ProblemType(
    "missing-rules",
    409,
    "The kept design is written for other rules",
    "It names rules, or members of them, that are not installed here, such as those of a plugin that was left"
    " out or has changed since. It can still be read, changed and exported. Start the server with that"
    " plugin, or choose other rules at the places that the faults name.",
)
ARCHIVE_CLASH: Final = ProblemType(
    "archive-clash",
    409,
    "Designs of the archive are kept here already, and differ",
    "A design has the same id here and in the archive, and not the same revisions, so that one of the two"
    " would be lost. Nothing was imported. Each fault has its line, counted from 0. Take the lines of that"
    " design out of the archive, or import into an empty place.",
)
DELETED: Final = ProblemType(
    "deleted",
    410,
    "The design is deleted",
    "It is still kept: `POST /v1/designs/{id}/restore` brings it back with all its revisions.",
)
MOVED_ON: Final = ProblemType(
    "moved-on",
    412,
    "The design has moved on",
    "Somebody saved a revision that `If-Match` does not name. Nothing was changed. Read the design again,"
    " take over what is new in it, and send yours with its `ETag`.",
)
ARCHIVE: Final = ProblemType(
    "archive",
    422,
    "This is no archive of designs",
    "A line is not what must come there, or the end is missing. Nothing was imported. Each fault has its"
    " line, counted from 0.",
)
KEY_REUSED: Final = ProblemType(
    "key-reused",
    422,
    "This key came with another body",
    "A call with the same `Idempotency-Key` added another design in the last day. Nothing was kept. Send"
    " each new design with a key of its own, and the same one only to send the same body again.",
)
NO_IF_MATCH: Final = ProblemType(
    "no-if-match",
    428,
    "Say which revision you saw",
    "Changing or deleting a design needs the header `If-Match` with the `ETag` that came with it, so that"
    " nobody overwrites another's work unseen. `If-Match: *` takes any revision.",
)
DESIGNS_BUSY: Final = ProblemType(
    "designs-busy",
    503,
    "Others are writing",
    "The place where designs are kept was held by others for too long. Nothing was written. Send it again"
    " after `Retry-After` seconds.",
)
DESIGNS_UNAVAILABLE: Final = ProblemType(
    "designs-unavailable",
    503,
    "Designs cannot be kept or read",
    "The place where designs are kept cannot be opened, read or written: its folder is missing or read-only,"
    " its disk or server fails, or what is there is not of this Soleplate. Nothing was written. Who runs the"
    " server finds the particulars in its log.",
)
NO_ROOM: Final = ProblemType(
    "no-room",
    507,
    "There is no room left",
    "The disk under the designs is full. Nothing was written, and what was kept is safe. Make room, and send"
    " it again.",
)

PROBLEMS: Final = {
    problem.name: problem
    for problem in (
        BAD_HEAD, HEAD_TOO_LARGE, UNREADABLE, NO_TOKEN, OTHER_SITE, NOT_FOUND, METHOD, TOO_SLOW, TOO_LARGE,
        MEDIA, WRONG_HOST, SCHEMA,
        UNBUILDABLE, PLUGIN, WORKER_LOST, INTERNAL, OVER_CAPACITY, TOO_BUSY, STOPPING, TOO_MUCH_WORK,
        PARAMETER, NOT_ACCEPTABLE, UNBUILDABLE_DESIGN, MISSING_RULES, ARCHIVE_CLASH, DELETED, MOVED_ON,
        ARCHIVE, KEY_REUSED, NO_IF_MATCH, DESIGNS_BUSY, DESIGNS_UNAVAILABLE, NO_ROOM,
    )
}  # fmt: skip
