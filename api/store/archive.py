r"""All designs as one text: JSON lines, each read and written by itself, so that any number of them fits.

    {"line":"designs","format":"soleplate.designs/1"}
    {"line":"design","id":"...","created":"...","deleted":null,"revisions":2}
    {"line":"revision","number":1,"made":"...","text":"{\"format\": ..."}
    {"line":"revision","number":2,"made":"...","text":"..."}
    {"line":"end","designs":1}

A design is followed by its revisions, and `text` is the building file as it was sent. The last line tells
a whole archive from one that was cut off.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import IO, Annotated, Any, Final, Literal

from pydantic import Field, TypeAdapter

from soleplate.api.store.errors import ArchiveError
from soleplate.api.store.kept import ID_PATTERN, TIME_PATTERN, Text
from soleplate.engine.building_file import (
    LARGEST,
    BuildingError,
    Fault,
    Model,
    Name,
    read_document,
    read_json,
)

FORMAT: Final = "soleplate.designs/1"

LONGEST_LINE: Final = 6 * LARGEST + 1000
"""Bytes. A character of a text takes up to six where it is written as an escape."""

MOST_REVISIONS: Final = 1_000_000_000

Id = Annotated[str, Field(pattern=ID_PATTERN)]
Time = Annotated[str, Field(pattern=TIME_PATTERN)]
Count = Annotated[int, Field(ge=0, le=MOST_REVISIONS)]


class FirstLine(Model):
    """What the file is."""

    line: Literal["designs"] = "designs"
    format: Literal["soleplate.designs/1"]


class DesignLine(Model):
    """A design; as many revisions follow as it says."""

    line: Literal["design"] = "design"
    id: Id
    created: Time
    deleted: Time | None
    revisions: Annotated[int, Field(ge=1, le=MOST_REVISIONS)]


class RevisionLine(Model):
    """A revision of the design above it."""

    line: Literal["revision"] = "revision"
    number: Count
    made: Time
    text: str


class LastLine(Model):
    """That nothing is cut off."""

    line: Literal["end"] = "end"
    designs: Count


Line = FirstLine | DesignLine | RevisionLine | LastLine

_KINDS: Final[dict[str, type[Line]]] = {
    "designs": FirstLine,
    "design": DesignLine,
    "revision": RevisionLine,
    "end": LastLine,
}
_NAME: Final[TypeAdapter[str]] = TypeAdapter(Name)


def archive_lines(everything: Iterable[Text]) -> Iterator[bytes]:
    """The archive of all revisions, a design at a time; each line with its end."""
    yield _written(FirstLine(format=FORMAT))
    count = 0
    for text in everything:
        design, revision = text.design, text.revision
        if revision.number == 1:
            count += 1
            yield _written(
                DesignLine(
                    id=design.id, created=design.created, deleted=design.deleted, revisions=design.head
                )
            )
        yield _written(RevisionLine(number=revision.number, made=revision.made, text=text.body))
    yield _written(LastLine(designs=count))


def lines_of(file: IO[bytes]) -> Iterator[bytes]:
    """The lines of a file; of one that is too long, only as much as shows it."""
    while line := file.readline(LONGEST_LINE + 1):
        yield line


def read_archive(lines: Iterable[bytes]) -> Iterator[tuple[int, DesignLine | RevisionLine]]:
    """The designs of an archive, each followed by all of its revisions, with the numbers of their lines.

    Raises:
        ArchiveError: a line is not what must come there, or the end is missing.
    """
    left = enumerate(lines)
    taken = -1

    def take(*accepted: str) -> Line:
        nonlocal taken
        taken, data = next(left, (taken + 1, None))
        if data is None:
            raise _fault(taken, f"the archive is cut off; {_accepted(accepted)}")
        return _read(taken, data, accepted)

    take("designs")
    designs = 0
    while isinstance(line := take("design", "end"), DesignLine):
        designs += 1
        yield taken, line
        for number in range(1, line.revisions + 1):
            revision = take("revision")
            assert isinstance(revision, RevisionLine)  # noqa: S101 - nothing else was accepted
            if revision.number != number:
                raise _fault(taken, f"revision {revision.number}; accepted is {number}", "/number")
            yield taken, revision
    if isinstance(line, LastLine) and line.designs != designs:
        raise _fault(taken, f"{line.designs} designs are counted, and {designs} are there", "/designs")
    if (more := next(left, None)) is not None:
        raise _fault(more[0], "nothing follows the line 'end'")


def name_in(line: int, text: str) -> str:
    """The name of the building in a revision's text.

    Raises:
        ArchiveError: it is no building file.
    """
    try:
        value: Any = read_json(text.encode())
    except UnicodeEncodeError:
        raise _fault(line, "half of a character; accepted is text in UTF-8", "/text") from None
    except BuildingError as error:
        raise ArchiveError(Fault(f"/{line}/text", fault.message) for fault in error.faults) from None
    if not isinstance(value, dict) or value.get("format") != "soleplate.building/1":
        raise _fault(line, "accepted is a building file, of the format 'soleplate.building/1'", "/text")
    try:
        return _NAME.validate_python(value.get("name"), strict=True)
    except ValueError:
        raise _fault(line, "accepted is a building whose name has 1 to 60 characters", "/text") from None


def _read(number: int, data: bytes, accepted: tuple[str, ...]) -> Line:
    try:
        value = read_json(data, largest=LONGEST_LINE)
        kind = value.get("line") if isinstance(value, dict) else None
        if kind not in accepted:
            raise _fault(number, _accepted(accepted), "/line" if kind else "")
        return read_document(_KINDS[kind], value)
    except BuildingError as error:
        raise ArchiveError(
            Fault(f"/{number}{fault.pointer}", fault.message) for fault in error.faults
        ) from None


def _accepted(kinds: tuple[str, ...]) -> str:
    return f"accepted is here a line of the kind {' or '.join(map(repr, kinds))}"


def _fault(line: int, message: str, member: str = "") -> ArchiveError:
    return ArchiveError([Fault(f"/{line}{member}", message)])


def _written(line: Model) -> bytes:
    return line.model_dump_json().encode() + b"\n"
