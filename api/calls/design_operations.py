"""The rows of the table of operations that are about kept designs."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

from soleplate.api.calls.archives import JSON_LINES, ArchiveCalls
from soleplate.api.calls.design_drawings import DesignDrawings
from soleplate.api.calls.design_messages import (
    DesignOut,
    DesignRow,
    DesignsOut,
    ImportedOut,
    RevisionsOut,
    SavedDesign,
)
from soleplate.api.calls.designs import DesignCalls
from soleplate.api.calls.operations import (
    ALWAYS,
    KEEPING,
    Answer,
    Body,
    Link,
    Operation,
    Parameter,
    query_parameters,
)
from soleplate.api.http import (
    ARCHIVE,
    ARCHIVE_CLASH,
    DELETED,
    DESIGNS_BUSY,
    DESIGNS_UNAVAILABLE,
    KEY_PATTERN,
    KEY_REUSED,
    LAST,
    MEDIA,
    MISSING_RULES,
    MOVED_ON,
    NO_IF_MATCH,
    NO_ROOM,
    NOT_ACCEPTABLE,
    NOT_FOUND,
    OTHER_SITE,
    OVER_CAPACITY,
    PLUGIN,
    SCHEMA,
    STOPPING,
    SVG,
    TAG_PATTERN,
    TOO_BUSY,
    TOO_LARGE,
    TOO_MUCH_WORK,
    TOO_SLOW,
    UNBUILDABLE_DESIGN,
    UNREADABLE,
    WORKER_LOST,
    ChangesQuery,
    DesignsQuery,
    LayoutQuery,
    RevisionsQuery,
    described,
    elevation_query,
)
from soleplate.api.store import ID_PATTERN
from soleplate.api.work import EXAMPLE_BUILDING, ChangesOut
from soleplate.engine.layout import Layout
from soleplate.engine.registry import Registry

READ: Final = (*ALWAYS, DESIGNS_BUSY, DESIGNS_UNAVAILABLE, NO_ROOM)
WRITE: Final = (*READ, OTHER_SITE)
SEND: Final = (*WRITE, TOO_SLOW, TOO_LARGE, MEDIA)
ONE: Final = (NOT_FOUND, DELETED)
CHANGE: Final = (*ONE, NO_IF_MATCH, MOVED_ON)
MADE: Final = (
    *READ, *ONE, UNBUILDABLE_DESIGN, MISSING_RULES, PLUGIN, WORKER_LOST, OVER_CAPACITY, TOO_BUSY, STOPPING,
    TOO_MUCH_WORK,
)  # fmt: skip

ID: Final = {"id": Parameter("The design's id", schema={"type": "string", "pattern": ID_PATTERN})}
REVISION: Final = {
    "revision": Parameter("Which revision", schema={"type": "integer", "minimum": 1, "maximum": LAST})
}
IF_MATCH: Final = {
    "If-Match": Parameter(
        "The `ETag` of the revision that was seen, or `*` for any",
        schema={"type": "string", "pattern": TAG_PATTERN},
        place="header",
    )
}
KEY: Final = {
    "Idempotency-Key": Parameter(
        "The same for a call and its repeat, of which the second then adds nothing; another for each design."
        " Kept for a day.",
        schema={"type": "string", "pattern": KEY_PATTERN},
        place="header",
        is_required=False,
    )
}
WALL: Final = {
    "wall": Parameter("The wall's name", schema={"type": "string", "minLength": 1, "maxLength": 60})
}

OF_ID: Final[Mapping[str, str]] = {"path.id": "$response.body#/id"}
LINKS: Final = (
    Link("getDesign", OF_ID),
    Link("saveDesign", {**OF_ID, "header.If-Match": "$response.header.ETag"}),
    Link("deleteDesign", {**OF_ID, "header.If-Match": "$response.header.ETag"}),
    Link("listRevisions", OF_ID),
    Link("getRevision", {**OF_ID, "path.revision": "$response.body#/revision"}),
    Link("getDesignLayout", OF_ID),
    Link("drawDesign", OF_ID),
)
"""What can be done next with a design that was just kept, read or brought back."""


def design_operations(
    registry: Registry,
    designs: DesignCalls,
    drawings: DesignDrawings,
    archives: ArchiveCalls,
) -> tuple[Operation, ...]:
    """Every call on kept designs."""
    building = Body(registry.building_model, {"small": EXAMPLE_BUILDING})
    described_drawing = described(elevation_query(registry))
    return (
        Operation(
            "GET", "/v1/designs", "listDesigns", "List the kept designs, the latest first",
            Answer("A page of them", DesignsOut), designs.designs, group=KEEPING,
            parameters=query_parameters(described(DesignsQuery)), problems=(*READ, NOT_FOUND),
            description="Off loopback it needs the token, for it tells ids. `after` takes the `next` of the"
            " page before; designs that are kept meanwhile come before the first page.",
        ),
        Operation(
            "POST", "/v1/designs", "addDesign", "Keep a new design",
            Answer(
                "It is kept", SavedDesign, status=201, has_tag=True, links=LINKS,
                headers={"Location": "Its address."},
            ),
            designs.add, body=building, parameters=KEY, group=KEEPING,
            problems=(*SEND, UNREADABLE, SCHEMA, KEY_REUSED),
            description="The body is a building file, kept as it is sent, to the letter. One that breaks the"
            " schema is refused; work in progress that cannot be built yet is kept, and `faults` says why."
            " Where the answer may be lost, send an `Idempotency-Key` and repeat the call until it comes.",
        ),
        Operation(
            "GET", "/v1/designs/{id}", "getDesign", "A design with its building file",
            Answer(
                "Its newest revision", DesignOut, is_fixed=True, links=LINKS,
            ),
            designs.design, parameters=ID, problems=(*READ, *ONE), group=KEEPING,
            description="Not compressed: `If-Match` needs the strong `ETag`. Who knows the id may read it.",
        ),
        Operation(
            "PUT", "/v1/designs/{id}", "saveDesign", "Keep the next revision of a design",
            Answer("It is kept", SavedDesign, has_tag=True, links=LINKS), designs.save, body=building,
            parameters={**ID, **IF_MATCH}, problems=(*SEND, *CHANGE, UNREADABLE, SCHEMA), group=KEEPING,
            description="Needs `If-Match`. The revisions before it stay. Where the answer was lost, sending"
            " it again gives 412: then read the design to see whether the revision is yours.",
        ),
        Operation(
            "DELETE", "/v1/designs/{id}", "deleteDesign", "Take a design away, until it is brought back",
            Answer("It is deleted", DesignRow, links=(Link("restoreDesign", OF_ID),)), designs.delete,
            parameters={**ID, **IF_MATCH}, problems=(*WRITE, *CHANGE), group=KEEPING,
            description="Needs `If-Match`. From then on its addresses answer 410; nothing of it is lost.",
        ),
        Operation(
            "POST", "/v1/designs/{id}/restore", "restoreDesign", "Bring a deleted design back",
            Answer("It is back, as it was", DesignRow, has_tag=True, links=LINKS), designs.restore,
            parameters=ID, problems=(*WRITE, NOT_FOUND), group=KEEPING,
            description="Takes no body. A design that is not deleted stays as it is.",
        ),
        Operation(
            "GET", "/v1/designs/{id}/layout", "getDesignLayout", "The layout of a design",
            Answer("The layout of its newest revision", Layout, is_fixed=True),
            drawings.layout, parameters={**ID, **query_parameters(described(LayoutQuery))},
            problems=MADE, group=KEEPING,
        ),
        Operation(
            "GET", "/v1/designs/{id}/elevations/{wall:path}.svg", "drawDesign", "A wall of a design, drawn",
            Answer("The drawing; 1 unit is 1 mm", media_type=SVG, is_fixed=True),
            drawings.elevation, parameters={**ID, **WALL, **query_parameters(described_drawing)},
            problems=(*MADE, NOT_ACCEPTABLE), group=KEEPING,
        ),
        Operation(
            "GET", "/v1/designs/{id}/revisions", "listRevisions",
            "List a design's revisions, the newest first",
            Answer("A page of them", RevisionsOut), designs.revisions,
            parameters={**ID, **query_parameters(described(RevisionsQuery))},
            problems=(*READ, *ONE,), group=KEEPING,
        ),
        Operation(
            "GET", "/v1/designs/{id}/revisions/{revision}", "getRevision", "A design as it once was",
            Answer("That revision", DesignOut, is_fixed=True), designs.revision,
            parameters={**ID, **REVISION}, problems=(*READ, *ONE), group=KEEPING,
            description="To go back to it, send its `building` with `PUT`: that makes a new revision.",
        ),
        Operation(
            "GET", "/v1/designs/{id}/changes", "compareRevisions",
            "What changed between two revisions, piece by piece",
            Answer("The walls that differ", ChangesOut, is_fixed=True), drawings.changes,
            parameters={**ID, **query_parameters(described(ChangesQuery))}, problems=MADE,
            group=KEEPING,
            description="Both are laid out with the rules that are installed now. Pieces of one role are"
            " compared by their order along the wall, whatever their marks.",
        ),
        Operation(
            "GET", "/v1/archive", "exportDesigns", "Export all designs with all revisions",
            Answer(
                "JSON lines, deleted designs too", media_type=JSON_LINES,
                headers={"Content-Disposition": "The name to save it under."},
            ),
            archives.export, problems=READ, group=KEEPING,
            description="Off loopback it needs the token. The lines are as of one moment: a first line with"
            " the `format`, each design followed by its revisions, and a last line that says it is whole.",
        ),
        Operation(
            "POST", "/v1/archive", "importDesigns", "Import an archive of designs, all of it or nothing",
            Answer("What came of it", ImportedOut), archives.import_all,
            body=Body(None, {"of no design": EMPTY_ARCHIVE}, media_type=JSON_LINES),
            problems=(*SEND, ARCHIVE, ARCHIVE_CLASH), group=KEEPING,
            description="Ids, times and revisions stay. A design that is here with the same revisions, and"
            " maybe later ones, stays as it is. One that differs is a clash, and then nothing is imported.",
        ),
    )  # fmt: skip


EMPTY_ARCHIVE: Final = '{"line":"designs","format":"soleplate.designs/1"}\n{"line":"end","designs":0}\n'
