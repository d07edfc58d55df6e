"""The answers of the calls on kept designs."""

from __future__ import annotations

from typing import Any

from soleplate.api.http import ProblemFault
from soleplate.api.store import Design, Revision, Text
from soleplate.engine.layout import Result


class DesignRow(Result):
    """A kept design without its building file."""

    id: str
    """Cannot be guessed: who knows it may read the design."""
    name: str
    """The building's."""
    revision: int
    """The newest; they count from 1 without a gap."""
    created: str
    """When it was first kept, UTC."""
    changed: str
    """When the newest revision was kept, UTC."""
    deleted: str | None = None
    """When it was deleted, UTC."""


class SavedDesign(DesignRow):
    """A design that was kept just now."""

    faults: tuple[ProblemFault, ...] | None = None
    """What keeps it from being set out, with the places; empty where nothing does.

    Left out where nobody looked: the building is large, the server busy, or a plugin failed.
    """


class DesignOut(DesignRow):
    """A kept design, at one revision."""

    building: dict[str, Any]
    """The building file, exactly as it was sent."""


class DesignsOut(Result):
    """A page of designs, the latest kept first."""

    designs: tuple[DesignRow, ...]
    """Those of this page, in order."""
    next: str | None = None
    """To be sent as `after` for the next page; without it this is the last."""


class RevisionRow(Result):
    """A revision without its building file."""

    revision: int
    """Its number, from 1."""
    name: str
    """The building's, then."""
    made: str
    """When it was kept, UTC."""


class RevisionsOut(Result):
    """A page of a design's revisions, the newest first."""

    revisions: tuple[RevisionRow, ...]
    """Those of this page, in order."""
    next: int | None = None
    """To be sent as `after` for the next page; without it this is the last."""


class ImportedOut(Result):
    """What came of an import."""

    added: int
    """Designs that were not here."""
    unchanged: int
    """Designs that were here already, with every revision that the archive has."""


def row_of(design: Design) -> DesignRow:
    """A design as a row."""
    return DesignRow(**_members(design))


def saved(design: Design, faults: tuple[ProblemFault, ...] | None) -> SavedDesign:
    """A design that was kept just now."""
    return SavedDesign(**_members(design), faults=faults)


def design_json(text: Text) -> bytes:
    """`DesignOut` as JSON, the building file in it letter by letter."""
    design, revision = text.design, text.revision
    row = DesignRow(
        id=design.id,
        name=revision.name,
        revision=revision.number,
        created=design.created,
        changed=revision.made,
    )
    return f'{row.model_dump_json(exclude_none=True)[:-1]},"building":{text.body}}}'.encode()


def revision_row(revision: Revision) -> RevisionRow:
    """A revision as a row."""
    return RevisionRow(revision=revision.number, name=revision.name, made=revision.made)


def _members(design: Design) -> dict[str, Any]:
    return {
        "id": design.id,
        "name": design.name,
        "revision": design.head,
        "created": design.created,
        "changed": design.changed,
        "deleted": design.deleted,
    }
