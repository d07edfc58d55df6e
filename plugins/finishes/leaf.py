"""Leaves of doors and shutters from boards: upright boards on ledges, with braces between those."""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterator
from typing import Annotated, Final, Literal

from pydantic import Field

from soleplate.engine.rules import (
    PRACTICE,
    UPRIGHT,
    AnyLength,
    CannotFrame,
    Count,
    DoorLeaf,
    Finding,
    FindingKind,
    Limits,
    Member,
    Mm,
    Model,
    Section,
    SectionField,
    SectionOf,
    Sides,
    Span,
    at_least,
    at_most,
    level,
    rectangle,
)

StopThickness = Annotated[AnyLength, Limits(6.0, 30.0)]
StopWidth = Annotated[AnyLength, Limits(10.0, 100.0)]
Side = Literal["left", "right"]
Box = tuple[float, float, float, float]
"""Left, right, bottom and top, mm."""

WIDEST_LEAF: Final = 1_000.0
"""mm. A wider opening has two leaves: a broader one hangs heavily (common practice, no source)."""

THREE_LEDGES: Final = 1_400.0
"""mm. A higher leaf has three ledges, a lower one two (common practice, no source)."""

LEDGE_FROM_END: Final = 150.0
"""mm from an end of a leaf to the ledge there, or a sixth of its height where that is less (common practice,
no source)."""

LEAST_BRACE: Final = 100.0
"""mm between ledges, for a brace (common practice, no source)."""

LEDGE_INSET: Final = 5.0
"""mm from the edge of a leaf, or from the stop there, to the ends of its ledges, so that it can be planed to
fit (common practice, no source)."""

LEAF_MADE: Final = FindingKind(
    "leaf-made",
    "note",
    PRACTICE,
    "{leaves} of {size}, with {gap} left at the sides and above and {foot} below: {boards} each, the outer"
    " two ripped alike to {edge} seen; braces rise from the side that it hangs on; measure the opening before"
    " cutting",
)


FLATTEST: Final = 40.0
"""Degrees from level of a brace (common practice, no source: about 45 and steeper)."""

BRACE_FLAT: Final = FindingKind(
    "leaf-brace-flat",
    "warn",
    PRACTICE,
    "the braces of its leaf rise by {angle:.0f} degrees, and hold up its free side well from {least:g}"
    " degrees on: hang two leaves, or make them higher",
)


class LedgedLeaf(Model):
    """A ledged and braced leaf, or two, made of boards; it opens outwards."""

    boards: SectionField = Section(20.0, 120.0)
    """As bought, [thickness, width]."""
    tongue: Annotated[AnyLength, Limits(0.0, 30.0)] = 0.0
    """How much of a board's width lies in the next one; 0 of plain boards."""
    joint: Annotated[AnyLength, Limits(0.0, 10.0)] = 2.0
    """Left between boards, to swell into (common practice, no source)."""
    ledges: SectionField = Section(25.0, 95.0)
    """And braces, as [thickness, width]."""
    leaves: Annotated[int, Field(ge=1, le=2)] | None = None
    """How many; else two where a clear width of over 1 m is wide."""
    hinged: Side = "left"
    """The side, seen from outside, on which a single leaf hangs, and of two the one that stands bolted."""
    gap: Annotated[AnyLength, Limits(0.0, 20.0)] = 3.0
    """Left at the sides, above and between leaves, to swell into (common practice, no source)."""
    foot: Annotated[AnyLength, Limits(0.0, 60.0)] = 8.0
    """Left under a door; under a shutter it is the gap (common practice, no source)."""
    stops: Annotated[Section, SectionOf(StopThickness, StopWidth)] | None = Section(15.0, 30.0)
    """Strips in the linings that it closes against, as [off the lining, along it]; null for none."""
    meeting: SectionField | None = Section(15.0, 45.0)
    """The strip that covers where two leaves meet, as [thickness, width]; null for none."""

    @property
    def seen(self) -> float:
        """Of a whole board, without its tongue, mm."""
        return self.boards.depth - self.tongue

    def spans(self, clear: Span, *, is_door: bool) -> tuple[Span, ...]:
        """What its leaves take up of a clear opening, from the left.

        Raises:
            CannotFrame: a leaf would be narrower than a board, or too low for its ledges.
        """
        count = self.leaves or (2 if clear.right - clear.left > WIDEST_LEAF else 1)
        width = (clear.right - clear.left - (count + 1) * self.gap) / count
        bottom, top = clear.bottom + (self.foot if is_door else self.gap), clear.top - self.gap
        if self.seen <= self.joint or width < self.seen:
            raise CannotFrame(
                "a leaf of {width} is narrower than what is seen of one board, {seen}; accepted are boards"
                " of up to {most}, or fewer leaves",
                width=Mm(width, ".1f"),
                seen=Mm(self.seen, ".1f"),
                most=at_most(max(width, 0.0) + self.tongue, ".1f"),
            )
        least = self._least_height(top - bottom)
        if top - bottom < least:
            raise CannotFrame(
                "a leaf of {height} is too low for its ledges and braces; accepted is at least {least}",
                height=Mm(top - bottom, ".1f"),
                least=at_least(least, ".1f"),
            )
        step = width + self.gap
        lefts = [clear.left + self.gap + index * step for index in range(count)]
        return tuple(Span(left, left + width, bottom, top) for left in lefts)

    def _count(self, height: float) -> int:
        return 3 if height > THREE_LEDGES else 2

    def _least_height(self, height: float) -> float:
        """Of a leaf with as many ledges as one of this height, mm."""
        count = self._count(height)
        between = count * self.ledges.depth + (count - 1) * max(LEAST_BRACE, 1.5 * self.ledges.depth)
        return between + min(2 * LEDGE_FROM_END, between / 2)

    def leaf(
        self, span: Span, hinged: Side, front: float, material: str, ends: tuple[float, float]
    ) -> DoorLeaf:
        """A leaf, the outer face of its boards `front` mm in; its ledges end `ends` from its edges."""
        back = front + self.boards.breadth
        ledges = list(self._ledges(span, ends))
        behind = (back, back + self.ledges.breadth)
        members = (
            *self._boards(span, hinged, (front, back), material),
            *(level("leaf ledge", self.ledges, box, behind, material=material) for box in ledges),
            *(
                self._brace(lower, upper, hinged, behind, material)
                for lower, upper in itertools.pairwise(ledges)
            ),
        )
        return DoorLeaf(span, hinged, members)

    def edge(self, width: float) -> tuple[int, float]:
        """How many boards a leaf has, and what is seen of its outer two, mm."""
        count = math.ceil((width + self.joint) / (self.seen + self.joint) - 1e-9)
        between = (count - 2) * self.seen + (count - 1) * self.joint
        return count, width if count == 1 else (width - between) / 2

    def _boards(
        self, span: Span, hinged: Side, depth: tuple[float, float], material: str
    ) -> Iterator[Member]:
        """From the side that it hangs on, tongues away from there."""
        count, edge = self.edge(span.right - span.left)
        start = 0.0
        for index in range(count):
            is_last = index == count - 1
            seen = edge if index == 0 or is_last else self.seen
            # Beside a narrow last board a tongue is planed off with it.
            end = min(start + seen + (0.0 if is_last else self.tongue), span.right - span.left)
            left, right = span.left + start, span.left + end
            if hinged == "right":
                left, right = span.right - end, span.right - start
            outline = rectangle(left, right, span.bottom, span.top)
            yield Member("leaf board", self.boards, outline, depth, UPRIGHT, material=material)
            start += seen + self.joint

    def _ledges(self, span: Span, ends: tuple[float, float]) -> Iterator[Box]:
        """Left, right, bottom and top of each, upwards."""
        height, wide = span.top - span.bottom, self.ledges.depth
        from_end = min(LEDGE_FROM_END, height / 6)
        count = self._count(height)
        step = (height - 2 * from_end - wide) / (count - 1)
        for index in range(count):
            low = span.bottom + from_end + index * step
            yield span.left + ends[0], span.right - ends[1], low, low + wide

    def _brace(
        self,
        lower: Box,
        upper: Box,
        hinged: Side,
        depth: tuple[float, float],
        material: str,
    ) -> Member:
        """From the hanging side of the lower ledge up to the free side of the upper one, cut level."""
        left, right, _, low = lower
        high = upper[2]
        length, rise, wide = right - left, high - low, self.ledges.depth
        # A bar of this width between two levels takes up `run` of each: run x sine of its angle is the width.
        run = wide * (rise * math.sqrt(rise**2 + length**2 - wide**2) - length * wide) / (rise**2 - wide**2)
        if run >= length:
            raise CannotFrame(
                "ledges {length} long leave no room for a brace {wide} wide; accepted are narrower ledges,"
                " or one leaf",
                length=Mm(length, ".1f"),
                wide=Mm(wide),
            )
        outline = ((left, low), (left + run, low), (right, high), (right - run, high))
        angle = math.degrees(math.atan2(rise, length - run))
        if hinged == "right":
            outline = ((right - run, low), (right, low), (left + run, high), (left, high))
            angle = -angle
        return Member("leaf brace", self.ledges, outline, depth, angle, material=material)

    def stop_strips(self, clear: Span, front: float, material: str) -> Iterator[Member]:
        """The strips that it closes against: at both jambs and under the head."""
        if self.stops is None:
            return
        thick, back = self.stops.breadth, front + self.boards.breadth
        depth = (back, back + self.stops.depth)
        for left in (clear.left, clear.right - thick):
            outline = rectangle(left, left + thick, clear.bottom, clear.top - thick)
            yield Member("stop", self.stops, outline, depth, UPRIGHT, material=material)
        yield level(
            "stop",
            self.stops,
            (clear.left, clear.right, clear.top - thick, clear.top),
            depth,
            material=material,
        )

    def hung(self, clear: Span, front: float, material: str, *, is_door: bool) -> tuple[DoorLeaf, ...]:
        """The leaves of a clear opening, from the left, the meeting strip on the one that opens first."""
        spans = self.spans(clear, is_door=is_door)
        stop = self.stops.breadth if self.stops is not None else 0.0
        beside = max(stop - self.gap, 0.0) + LEDGE_INSET
        if len(spans) == 1:
            return (self.leaf(spans[0], self.hinged, front, material, (beside, beside)),)
        pair = (
            self.leaf(spans[0], "left", front, material, (beside, LEDGE_INSET)),
            self.leaf(spans[1], "right", front, material, (LEDGE_INSET, beside)),
        )
        if self.meeting is None:
            return pair
        middle, half = (clear.left + clear.right) / 2, self.meeting.depth / 2
        outline = rectangle(middle - half, middle + half, spans[0].bottom, spans[0].top)
        depth = (front - self.meeting.breadth, front)
        strip = Member("meeting strip", self.meeting, outline, depth, UPRIGHT, material=material)
        opens = 1 if self.hinged == "left" else 0
        return tuple(
            DoorLeaf(each.span, each.hinged, (*each.members, strip)) if index == opens else each
            for index, each in enumerate(pair)
        )

    def found(self, leaves: tuple[DoorLeaf, ...], *, is_door: bool) -> Iterator[Finding]:
        """How large its leaves are, of what boards, and whether their braces are too flat."""
        span = leaves[0].span
        width, height = span.right - span.left, span.top - span.bottom
        count, edge = self.edge(width)
        yield LEAF_MADE.of(
            value=round(width, 3),
            leaves="a leaf" if len(leaves) == 1 else "two leaves",
            size=Sides((round(width, 1), round(height, 1))),
            gap=Mm(self.gap),
            foot=Mm(self.foot if is_door else self.gap),
            boards=Count(count, "board", "boards"),
            edge=Mm(edge, ".1f"),
        )
        angle = min(abs(m.grain) for leaf in leaves for m in leaf.members if m.role == "leaf brace")
        if angle < FLATTEST:
            yield BRACE_FLAT.of(value=round(angle, 3), limit=FLATTEST, angle=angle, least=FLATTEST)
