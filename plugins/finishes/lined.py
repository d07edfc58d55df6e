"""Openings lined with boards, with a sill under windows, cover strips on both faces and a flashing above."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import Annotated, Any, ClassVar, Final, Literal

from soleplate.engine.rules import (
    PRACTICE,
    TOUCH,
    UPRIGHT,
    AnyLength,
    CannotFrame,
    DoorLeaf,
    FaceBeside,
    FinishedOpening,
    FinishRule,
    Goods,
    GoodsKind,
    Limits,
    Member,
    Mm,
    OpeningToFinish,
    Section,
    SectionField,
    Span,
    at_least,
    at_most,
    level,
    rectangle,
)
from soleplate.plugins.finishes.fittings import fittings
from soleplate.plugins.finishes.leaf import BRACE_FLAT, LEAF_MADE, LedgedLeaf
from soleplate.plugins.finishes.sill import SILL_SHORT, SILL_THROAT, Sill
from soleplate.plugins.finishes.strips import Round, cover_strips, refuse_strips

LEAST_CLEAR: Final = 100.0
"""mm between linings; less is no opening (common practice, no source)."""

PAST_STRIPS: Final = 25.0
"""mm by which a head flashing goes past the strip below it at each end, where it is turned down (common
practice, no source)."""

FLASHING: Final = GoodsKind("head flashing", "m", 0.1, PRACTICE)
"""Bought with laps of 100 to 150 mm on lengths of 2 m."""

KINDS: Final = (SILL_THROAT, SILL_SHORT, LEAF_MADE, BRACE_FLAT)


class Lined(FinishRule):
    """Linings of boards as deep as frame, cladding and lining together, a sill, cover strips and a flashing.

    The head lining lies under the head over the whole width, jamb linings stand below it on the floor or the
    sill. The sill ends at the studs; the strips beside it are cut round its ends. A flashing lies on the
    strip over the head, turned up behind the cladding there.
    """

    examples: ClassVar[Sequence[Mapping[str, Any]]] = (
        {"rule": "lined"},
        {
            "rule": "lined",
            "thickness": 25,
            "board": 175,
            "sill": {"thickness": 45, "projection": 50},
            "outer_strips": [25, 95],
            "inner_strips": None,
            "flashing": 150,
            "material": "larch",
            "density": 590,
        },
        {"rule": "lined", "leaf": {"boards": [20, 120], "tongue": 8, "hinged": "right"}},
    )

    rule: Literal["lined"] = "lined"
    thickness: Annotated[AnyLength, Limits(6.0, 75.0)] = 20.0
    """Of the linings."""
    board: Annotated[AnyLength, Limits(20.0, 1_000.0)] | None = None
    """The width in which boards for linings and sill are bought, to be ripped; else as wide as needed."""
    sill: Sill | None = Sill()
    """The board under a window; null for none. A door has none: in a finish of its own it is refused."""
    outer_strips: SectionField | None = Section(20.0, 70.0)
    """Cover strips outside, as [thickness, width]; null for none."""
    inner_strips: SectionField | None = Section(15.0, 45.0)
    """Cover strips inside, as [thickness, width]; null for none."""
    reveal: Annotated[AnyLength, Limits(0.0, 50.0)] = 5.0
    """What is seen of the edge of a lining beside a cover strip."""
    flashing: Annotated[AnyLength, Limits(30.0, 600.0)] | None = 100.0
    """How wide the flashing over the head is before it is bent; null for none. Indoors there is none: in an
    opening's own finish it is refused."""
    leaf: LedgedLeaf | None = None
    """A ledged and braced door or shutter that hangs in it, its face in that of the outer strips."""

    def finish_opening(self, opening: OpeningToFinish) -> FinishedOpening:
        """Return linings, sill, strips and flashing, mm; see `FinishRule`.

        Raises:
            CannotFrame: timbers run through the opening, the boards do not fit it, or it has no place for
                what it asks for itself.
        """
        _refuse_crossed(opening)
        self._refuse_idle(opening)
        sill = self._sill_of(opening)
        clear = self._clear(opening, sill)
        out, deep = -opening.outside.build_out, opening.wall.depth + opening.inside.build_out
        rounds = self._rounds(opening, clear, sill)
        flashed = self.flashing is not None and not opening.indoors
        face = out - (self.outer_strips.breadth if self.outer_strips is not None else 0.0)
        is_door = opening.hole.reaches_floor
        leaves = self._leaves(clear, face, deep, is_door=is_door)
        found = [sill.found()] if sill is not None and not opening.indoors else []
        if self.leaf is not None:
            found += self.leaf.found(leaves, is_door=is_door)
        return FinishedOpening(
            clear=clear,
            outside=(
                *self._linings(opening, clear, (out, deep)),
                *self._sill_board(opening, clear, sill, (out, deep)),
                *self._strips(self.outer_strips, rounds[0], opening.outside, "outer", out, -1.0),
                *(self.leaf.stop_strips(clear, face, self.material) if self.leaf is not None else ()),
            ),
            inside=tuple(self._strips(self.inner_strips, rounds[1], opening.inside, "inner", deep, 1.0)),
            leaves=leaves,
            goods=(
                *(self._flashing(clear) if flashed else ()),
                *(fittings(leaves) if leaves else ()),
            ),
            findings=tuple(found),
        )

    def _leaves(self, clear: Span, face: float, deep: float, *, is_door: bool) -> tuple[DoorLeaf, ...]:
        """What hangs between linings that go from outside to `deep`, its outer face at `face`, mm."""
        leaf = self.leaf
        if leaf is None:
            return ()
        thick = leaf.boards.breadth + max(leaf.ledges.breadth, leaf.stops.depth if leaf.stops else 0.0)
        if face + thick > deep + TOUCH:
            raise CannotFrame(
                "its leaf and stops are {thick} thick, and {room} are left for them; accepted are thinner"
                " boards, ledges or stops",
                thick=Mm(thick),
                room=Mm(deep - face),
            )
        return leaf.hung(clear, face, self.material, is_door=is_door)

    def _refuse_idle(self, opening: OpeningToFinish) -> None:
        """Refuse what an opening asks for itself and cannot have: of others it is left out."""
        if opening.own and self._wishes("sill") and self._sill_of(opening) is None:
            raise CannotFrame(
                "its finish has a sill, and a {kind} that stands on the floor has no board under it; accepted"
                " is a finish without sill",
                kind=opening.hole.kind,
            )
        if opening.own and self._wishes("flashing") and opening.indoors:
            raise CannotFrame(
                "its finish has a flashing, and no rain falls on it indoors; accepted is a finish without"
                " flashing"
            )

    def _wishes(self, member: str) -> bool:
        """Whether a member is given and not the usual one, which a building that is written out says too."""
        return getattr(self, member) not in (None, type(self).model_fields[member].default)

    def _sill_of(self, opening: OpeningToFinish) -> Sill | None:
        return None if opening.hole.reaches_floor or opening.hole.kind == "door" else self.sill

    def _clear(self, opening: OpeningToFinish, sill: Sill | None) -> Span:
        """What linings and sill leave of the hole."""
        hole, thick = opening.hole, self.thickness
        width = hole.width - 2 * thick
        if width < LEAST_CLEAR:
            raise CannotFrame(
                "linings of {thick} leave {clear} of its width of {width}; accepted is up to {most}",
                thick=Mm(thick),
                clear=Mm(max(width, 0.0), ".1f"),
                width=Mm(hole.width),
                most=at_most(max((hole.width - LEAST_CLEAR) / 2, 0.0), ".1f"),
            )
        bottom = opening.foot + (sill.thickness if sill is not None else 0.0)
        height = hole.top - thick - bottom
        if height < LEAST_CLEAR:
            raise CannotFrame(
                "lining and sill leave {clear} of its height; accepted is at least {more} more, or thinner"
                " boards",
                clear=Mm(max(height, 0.0), ".1f"),
                more=at_least(LEAST_CLEAR - height, ".1f"),
            )
        return Span(hole.left + thick, hole.right - thick, bottom, hole.top - thick)

    def _section(self, thick: float, needed: float, what: str) -> Section:
        """Of a board that is ripped to the width needed, mm, as bought."""
        if self.board is not None and self.board < needed - TOUCH:
            raise CannotFrame(
                "its {what} is {needed} wide, and boards are {board}; accepted are at least {least}",
                what=what,
                needed=Mm(needed),
                board=Mm(self.board),
                least=at_least(needed),
            )
        return Section(thick, self.board or needed)

    def _linings(self, opening: OpeningToFinish, clear: Span, depth: tuple[float, float]) -> Iterator[Member]:
        hole = opening.hole
        section = self._section(self.thickness, depth[1] - depth[0], "lining")
        for left, right in ((hole.left, clear.left), (clear.right, hole.right)):
            outline = rectangle(left, right, clear.bottom, clear.top)
            yield Member("jamb lining", section, outline, depth, UPRIGHT, material=self.material)
        head = (hole.left, hole.right, clear.top, hole.top)
        yield level("head lining", section, head, depth, material=self.material)

    def _sill_board(
        self, opening: OpeningToFinish, clear: Span, sill: Sill | None, depth: tuple[float, float]
    ) -> Iterator[Member]:
        if sill is None:
            return
        out = depth[0] - (0.0 if opening.indoors else sill.projection)
        section = self._section(sill.thickness, depth[1] - out, "sill")
        box = (opening.hole.left, opening.hole.right, opening.foot, clear.bottom)
        yield level("sill board", section, box, (out, depth[1]), material=self.material)

    def _rounds(self, opening: OpeningToFinish, clear: Span, sill: Sill | None) -> tuple[Round, Round]:
        """Where strips go outside and inside."""
        hole, lap = opening.hole, min(self.reveal, self.thickness)
        is_window = not hole.reaches_floor
        low = clear.bottom - (min(lap, sill.thickness) if sill is not None else 0.0)
        foot = low if is_window else hole.bottom
        within = Span(clear.left - lap, clear.right + lap, foot, clear.top + lap)
        edges = (hole.left, hole.right)
        inner = Round(edges, within, under=is_window)
        if sill is None or opening.indoors:
            return inner, inner
        return Round(edges, within, under=False, notch=(opening.foot, clear.bottom)), inner

    def _strips(
        self, section: Section | None, around: Round, face: FaceBeside, where: str, at: float, turn: float
    ) -> Iterator[Member]:
        """The strips on a face that lies `at` mm; `turn` is the way in which they stand off it."""
        if section is None:
            return
        lapped = around.within.left - around.hole[0]
        refuse_strips(around, section, face, where, max(lapped, 0.0) + face.clearance)
        depth = min(at, at + turn * section.breadth), max(at, at + turn * section.breadth)
        yield from cover_strips(around, section, depth, self.material)

    def _flashing(self, clear: Span) -> Iterator[Goods]:
        """As long as what it lies on, and turned down at its ends."""
        beside = self.outer_strips.depth if self.outer_strips is not None else self.thickness
        if self.flashing is not None:
            yield Goods(FLASHING, clear.right - clear.left + 2 * (beside + PAST_STRIPS), (self.flashing,))


def _refuse_crossed(opening: OpeningToFinish) -> None:
    """Refuse an opening through which timbers of its frame run, such as a row of panes."""
    hole = opening.hole
    for timber in opening.wall.members:
        if (
            timber.left < hole.right - TOUCH
            and timber.right > hole.left + TOUCH
            and timber.bottom < hole.top - TOUCH
            and timber.top > hole.bottom + TOUCH
        ):
            raise CannotFrame(
                "a {role} runs through it at {place}, where linings would be; accepted is the finish"
                " as-framed",
                role=timber.role,
                place=Mm(timber.left, ".0f"),
            )
