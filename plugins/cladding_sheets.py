"""Sheets on the frame: sheathing, with every upright edge on a stud."""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterator, Mapping, Sequence
from typing import Annotated, Any, ClassVar, Final, Literal

from pydantic import Field

from soleplate.engine.rules import (
    NAILING_ROOM,
    PRACTICE,
    AnyLength,
    CannotFrame,
    Clad,
    CladdingRule,
    CladdingThickness,
    Course,
    EdgeLine,
    Finding,
    FindingKind,
    Limits,
    Mm,
    MmList,
    Section,
    Span,
    Strip,
    Support,
    Surface,
    Units,
    hookimpl,
)

MOST_SHEETS: Final = 500
LEAST_SHEET: Final = 100.0
"""mm. A narrower strip of sheet is no use at the end of a wall (common practice, no source)."""

EDGE_HELD: Final = 12.0
"""mm of timber behind an edge: nails are 3/8 in from it (sheet makers' guides), and 2 mm and more from the
edge of the timber (common practice, no source)."""

EDGE_FREE: Final = 150.0
"""mm that an edge may go on with nothing behind: its nails are so far apart, 6 in (sheet makers' guides)."""

ONE_LINE: Final = 100.0
"""mm. Joints of two rows that are nearer to each other go on as one (common practice, no source)."""

NOTHING: Final = 1e-6

SheetSide = Annotated[AnyLength, Limits(300.0, 5_000.0)]


class Sheets(CladdingRule):
    """Sheets in rows, their upright edges on studs and a gap all round each of them.

    Rows are staggered: no upright joint goes on in the next row where another stud is within reach. A level
    joint between rows needs noggins behind it, which `{"rule": "straight", "behind_sheets": 2400}` of the
    noggin rules sets where sheets are 2400 mm high and start at the sole plate's underside (`drop` 0).
    """

    examples: ClassVar[Sequence[Mapping[str, Any]]] = (
        {"rule": "sheets", "width": 1200, "height": 2400, "thickness": 9, "material": "OSB", "density": 640},
        {"rule": "sheets", "width": 2440, "height": 1220, "from": "right"},
    )

    begun_sizes: ClassVar[Mapping[Units, Mapping[str, Any]]] = {
        "in": {
            "width": 48, "height": 96, "thickness": "7/16 in", "material": "OSB",
            "density": 640,
        },
    }  # fmt: skip
    """A sheet as it is sold in feet."""

    decks: ClassVar[bool] = True

    rule: Literal["sheets"] = "sheets"
    thickness: CladdingThickness = 9.0
    """Of the sheets."""
    width: SheetSide = 1200.0
    """Of a sheet, along the wall."""
    height: SheetSide = 2400.0
    """Of a sheet, up the wall."""
    gap: Annotated[AnyLength, Limits(0.0, 20.0)] = 3.0
    """Between sheets at every edge, for them to swell: 3 mm or 1/8 in (APA)."""
    from_: Annotated[Literal["left", "right"], Field(alias="from")] = "left"
    """The end of the wall that sheets are set from."""
    drop: Annotated[AnyLength, Limits(0.0, 300.0)] = 0.0
    """How far the sheets reach below the underside of the sole plate."""
    staggered: bool = True
    """Whether joints of one row keep off the studs that those of the row below are on."""

    @property
    def build_out(self) -> float:
        """The sheets, mm."""
        return self.thickness

    def lay(self, face: Surface, courses: Sequence[Course]) -> Clad:
        """Return the sheets, row by row; see `CladdingRule`.

        Raises:
            CannotFrame: they are too many.
        """
        del courses
        strips: list[Strip] = []
        found: list[Finding] = []
        for row, (bottom, joints) in enumerate(self._rows(face)):
            strips += self._row(face, joints, bottom)
            found += [
                _loose(joint, row, face) for joint in joints if not self._is_backed(face, joint, bottom)
            ]
            if row:
                found += _unbacked(face, bottom - self.gap / 2)
            found += _narrow(row, min(bottom + self.height, face.highest) - bottom)
        return Clad(tuple(strips), findings=tuple(found))

    def _count(self, face: Surface) -> int:
        """How many rows there are.

        Raises:
            CannotFrame: they have too many sheets.
        """
        rows = math.ceil((face.highest + face.dropped(self.drop) - NOTHING) / (self.height + self.gap))
        if rows * face.length / self.width > MOST_SHEETS:
            raise CannotFrame(f"over {MOST_SHEETS} sheets on one wall; accepted are up to that")
        return rows

    def edge_lines(self, face: Surface) -> Sequence[EdgeLine]:
        """Return the joints on lines that the face has missed with too little timber; see `CladdingRule`."""
        return [
            EdgeLine(joint, self._bearing)
            for bottom, joints in self._rows(face)
            for joint in joints
            if joint in face.missed and not self._is_backed(face, joint, bottom)
        ]

    @property
    def _bearing(self) -> float:
        """How far from the middle of a joint timber must lie behind, mm."""
        return self.gap / 2 + EDGE_HELD

    def _is_backed(self, face: Surface, joint: float, bottom: float) -> bool:
        """Whether timber lies behind both edges at a joint of the row that starts at `bottom`, mm."""
        low, bearing = max(bottom, 0.0), self._bearing
        for place in (joint - bearing, joint + bearing):
            high = min(bottom + self.height, face.underside.at(place))
            if face.free_height(place, low, high) > EDGE_FREE + NOTHING:
                return False
        return True

    def _rows(self, face: Surface) -> Iterator[tuple[float, tuple[float, ...]]]:
        """The rows of sheets: where each starts, and the middles of the gaps between its sheets, mm."""
        below: tuple[float, ...] = ()
        for row in range(self._count(face)):
            bottom = row * (self.height + self.gap) - face.dropped(self.drop)
            below = self._through_openings(face, self._joints(face, below), bottom)
            yield bottom, below

    def _joints(self, face: Surface, below: Sequence[float]) -> tuple[float, ...]:
        """The middles of the gaps between the sheets of one row, `below` those of the one under it.

        Each sheet reaches as far as it can, half a gap at the ends of the wall included: to a stud, or to a
        line where one would stand but for other timber.
        """
        turn = 1.0 if self.from_ == "left" else -1.0
        start, end = (face.left, face.right) if turn > 0 else (face.right, face.left)
        studs = [*(stud.centre for stud in face.supports if _backs(face, stud)), *face.missed]
        found: list[float] = []
        at, room = start, self.width + self.gap
        while turn * (end - at) > room + NOTHING:
            last = end - turn * LEAST_SHEET
            reach = [
                stud
                for stud in studs
                if LEAST_SHEET < turn * (stud - at) <= room + NOTHING and turn * (last - stud) >= 0.0
            ]
            free = [s for s in reach if not any(abs(s - other) < ONE_LINE for other in below)]
            chosen = free if self.staggered and free else reach
            if chosen:
                at = max(chosen, key=lambda stud: turn * stud)
            else:
                at = min(at + turn * room, last, key=lambda place: turn * place)
            found.append(at)
        return tuple(sorted(found))

    def _through_openings(self, face: Surface, joints: Sequence[float], bottom: float) -> tuple[float, ...]:
        """The joints, and one more through each opening that would lie wholly within a sheet.

        It is set on the upright over or under the opening that is nearest its middle.
        """
        more: list[float] = []
        for hole in sorted(face.holes, key=lambda hole: hole.left):
            edges = (face.left, *sorted((*joints, *more)), face.right)
            left = max(edge for edge in edges if edge <= hole.left or edge == face.left) + self.gap / 2
            right = min(edge for edge in edges if edge >= left + self.gap / 2 + NOTHING) - self.gap / 2
            is_within = left < hole.left and hole.right < right
            if is_within and bottom < hole.bottom and hole.top < min(bottom + self.height, face.highest):
                middle = (hole.left + hole.right) / 2
                behind = [stud.centre for stud in face.supports if hole.left < stud.centre < hole.right]
                more.append(min(behind, key=lambda centre: abs(centre - middle), default=middle))
        return tuple(sorted((*joints, *more)))

    def _row(self, face: Surface, joints: Sequence[float], bottom: float) -> Iterator[Strip]:
        for left, right in itertools.pairwise((face.left, *joints, face.right)):
            span = Span(left + self.gap / 2, right - self.gap / 2, bottom, bottom + self.height)
            yield Strip(
                "sheet",
                Section(self.thickness, self.width),
                self.material,
                whole=span,
                seen=span,
                depth=(-self.thickness, 0.0),
                upright=True,
                jointed=False,
            )


def _backs(face: Surface, stud: Support) -> bool:
    """Whether an upright lies behind the whole of a joint, but for where that runs into an opening."""
    is_full = stud.start == -math.inf and stud.end == math.inf
    return is_full or any(hole.left < stud.centre < hole.right for hole in face.holes)


EDGE_LOOSE: Final = FindingKind(
    "sheet-edge-loose",
    "warn",
    PRACTICE,
    "the joint at {joint} in row {row} has no {upright} behind the whole of it; set a {upright} or a packer"
    " there, or nail noggins behind the edge",
)
NARROW_SHEET: Final = FindingKind(
    "narrow-sheet",
    "warn",
    PRACTICE,
    "row {row} of the sheets is {height} high at the most; take higher sheets, or drop them less, so that"
    " none is narrower than {least}",
)
JOINT_UNBACKED: Final = FindingKind(
    "joint-unbacked",
    "warn",
    PRACTICE,
    "nothing lies behind the level joint at {joint} in {bays} bays, from {where}; set noggins there, as the"
    " straight ones with behind_sheets do",
)


def _loose(joint: float, row: int, face: Surface) -> Finding:
    return EDGE_LOOSE.of(value=round(joint, 3), joint=Mm(joint, ".0f"), row=row + 1, upright=face.upright)


def _narrow(row: int, height: float) -> Iterator[Finding]:
    """What is to be said of a row that is hardly worth a sheet."""
    if height < LEAST_SHEET:
        yield NARROW_SHEET.of(
            value=round(height, 3), row=row + 1, height=Mm(height, ".0f"), least=Mm(LEAST_SHEET, ".0f")
        )


def _unbacked(face: Surface, joint: float) -> Iterator[Finding]:
    """What is to be said of the bays in which nothing lies behind a level joint."""
    bays = [
        bay
        for bay in face.bays_at(joint)
        if bay.clear >= NAILING_ROOM and joint < face.underside.highest(bay.left, bay.right)
    ]
    if bays:
        yield JOINT_UNBACKED.of(
            value=round(joint, 3),
            joint=Mm(joint, ".0f"),
            bays=len(bays),
            where=MmList(tuple(bay.left for bay in bays[:12])),
        )


@hookimpl
def register_rules() -> list[type[CladdingRule]]:
    """Offer the rules of this module."""
    return [Sheets]


@hookimpl
def register_finding_kinds() -> list[FindingKind]:
    """Offer the kinds of findings."""
    return [EDGE_LOOSE, NARROW_SHEET, JOINT_UNBACKED]
