"""The frame of a roof of rafters, slope by slope: what each piece is, and in which plane it lies."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import replace
from functools import cached_property
from typing import TYPE_CHECKING, Final

from soleplate.engine.rules import (
    ALONG,
    TOUCH,
    CannotFrame,
    Deck,
    FramedSlope,
    Member,
    Mm,
    RafterCard,
    RoofShape,
    SlopeShape,
    TopLine,
    Wall,
    WallEnd,
    at_least,
    rectangle,
)
from soleplate.plugins.roofs.closing import Blocks, blocking_of
from soleplate.plugins.roofs.covering import battens_on, covering_of
from soleplate.plugins.roofs.members import Ladder, RidgeBeam, RidgeBoard
from soleplate.plugins.roofs.pitched import Pitched, longest_seat, mirrored
from soleplate.plugins.roofs.planes import planes
from soleplate.plugins.roofs.ridges import beam_seat, ridge_members, tie_members
from soleplate.plugins.roofs.soffits import Soffits, soffit_of
from soleplate.plugins.roofs.verges import rung_places, rungs
from soleplate.plugins.roofs.windows import hatches, windows_on

if TYPE_CHECKING:
    from soleplate.plugins.roofs.rafters import Rafters

CALLED: Final = (
    ("stud", "rafter"),
    ("king stud", "rafter"),
    ("trimmer", "rafter"),
    ("cripple", "rafter"),
    ("head", "trimmer joist"),
    ("sill", "trimmer joist"),
    ("lintel", "trimmer joist"),
)
"""The roof's names of what stud and opening rules make."""

JOINTED: Final = ("fascia", "ridge board", "ridge beam", "batten", "soffit")


class Laying:
    """A roof while it is laid: its rule, its shape, and the rafter of each slope."""

    def __init__(self, rule: Rafters, shape: RoofShape) -> None:
        self.rule = rule
        self.shape = shape

    @cached_property
    def seat(self) -> float:
        """How long a birdsmouth's seat on a plate is, mm: alike on all plates."""
        plates = [plate.depth for slope in self.shape.slopes for plate in slope.plates]
        asked = self.rule.seat if self.rule.seat is not None else math.inf
        return min(*plates, asked, longest_seat(self.shape.pitch, self.rule.section.depth))

    @property
    def heel(self) -> float:
        """How far rafters' undersides lie below the measuring line, plumb, mm."""
        return self.seat * math.tan(math.radians(self.shape.pitch))

    @property
    def overhang(self) -> float:
        """From the outer faces of walls that run with the slope to the fly rafters', mm."""
        return self.rule.verge.overhang if isinstance(self.rule.verge, Ladder) else 0.0

    @property
    def past_walls(self) -> float:
        """From the same to the deck's edge, mm."""
        barge = self.rule.barge.section.breadth if self.rule.barge is not None else 0.0
        return self.overhang + barge + self.rule.drip

    @property
    def fascia(self) -> float:
        """How thick fascias are, mm."""
        return self.rule.fascia.section.breadth if self.rule.fascia is not None else 0.0

    @cached_property
    def rafters(self) -> tuple[Pitched, ...]:
        """The rafter of each slope.

        Raises:
            CannotFrame: it cannot sit on its plates, or ends at nothing.
        """
        self._refuse()
        return tuple(self._rafter(slope) for slope in self.shape.slopes)

    def _rafter(self, slope: SlopeShape) -> Pitched:
        rule, shape = self.rule, self.shape
        seats = [(plate.at, self.seat) for plate in slope.plates]
        if shape.form == "mono-pitch":
            high = rule.eaves.high if rule.eaves.high is not None else rule.eaves.low
            end = shape.width + high
        elif isinstance(rule.ridge, RidgeBeam):
            end = slope.run
            seats.append(beam_seat(rule.ridge, slope.run, shape.pitch, rule.section))
        else:
            assert rule.ridge is not None  # noqa: S101 - `_refuse` asks for one
            end = slope.run - rule.ridge.section.breadth / 2
        return Pitched(
            shape.pitch, rule.section, slope.plates[0].top, self.seat, -rule.eaves.low, end, tuple(seats)
        )

    def _rafter_at(self, slope: SlopeShape, rafter: Pitched, left: float) -> Pitched:
        """The rafter of one place, where a slope was measured out of parallel."""
        if not slope.widens:
            return rafter
        more = slope.widens * ((left + self.rule.section.breadth / 2) / slope.length - 0.5)
        seats = tuple((r + more if r > TOUCH else r, seat) for r, seat in rafter.seats)
        return replace(rafter, end=rafter.end + more, seats=seats)

    def _refuse(self) -> None:
        """Refuse parts that go with the other form of roof, and rafters that have no room between plates."""
        rule, shape = self.rule, self.shape
        breadth = rule.section.breadth
        if isinstance(rule.verge, Ladder) and rule.verge.overhang < breadth - TOUCH:
            raise CannotFrame(
                "an overhang of {overhang} has no room for a fly rafter of {breadth}; accepted is at"
                " least that,"
                ' or {{"rule": "flush"}}',
                overhang=Mm(rule.verge.overhang),
                breadth=at_least(breadth),
            ).at("verge")
        if rule.raked_plates == "as set out":
            inside = [*(wall.name for wall in shape.along if wall.partition), *shape.across]
            if not isinstance(rule.verge, Ladder) or inside:
                what = "fly rafters that are flush" if not inside else f"partition {inside[0]}"
                raise CannotFrame(f"{what} would stand in the rafters; accepted is dropped").at(
                    "raked_plates"
                )
        if shape.form == "mono-pitch":
            self._refuse_mono()
        else:
            self._refuse_duo()

    def _refuse_mono(self) -> None:
        rule, (slope,) = self.rule, self.shape.slopes
        for member, given in (("ridge", rule.ridge), ("ties", rule.ties)):
            if given is not None:
                raise CannotFrame(
                    f"a mono-pitch roof has no {member}; accepted is a duo-pitch roof, or none"
                ).at(member)
        run = slope.plates[1].at
        if run < self.seat - TOUCH:
            raise CannotFrame(
                "the birdsmouths would meet: {run} from plate to plate, and a seat takes {seat};"
                " accepted is at"
                " least that",
                run=Mm(run, ".1f"),
                seat=at_least(self.seat, ".1f"),
            ).at("section")

    def _refuse_duo(self) -> None:
        rule, shape = self.rule, self.shape
        if rule.eaves.high is not None:
            raise CannotFrame("a duo-pitch roof has low eaves on both sides; accepted is low alone").at(
                "eaves"
            )
        if rule.ridge is None:
            raise CannotFrame('missing; accepted of a duo-pitch roof is "rule": "board" or "beam"').at(
                "ridge"
            )
        half = rule.ridge.section.breadth / 2
        for slope in shape.slopes:
            room, plate = slope.run - half, slope.plates[0]
            least = max(plate.depth, self.seat + 1.0)
            if room < least - TOUCH:
                raise CannotFrame(
                    "rafters over wall {wall} run {run} level to the ridge's face, and the plate takes"
                    " {depth};"
                    " accepted is at least that: a narrower ridge, or one further in",
                    wall=slope.wall,
                    run=Mm(room, ".1f"),
                    depth=at_least(least, ".1f"),
                ).at("ridge")

    def slopes(self, lefts: Sequence[float]) -> tuple[FramedSlope, ...]:
        """Every slope; `lefts` are the left faces of the first one's rafters."""
        breadth, length = self.rule.section.breadth, self.shape.length
        framed: list[FramedSlope] = []
        for number, (slope, rafter) in enumerate(zip(self.shape.slopes, self.rafters, strict=True)):
            places = lefts if number == 0 else sorted(length - x - breadth for x in lefts)
            framed.append(self._slope(slope, rafter, number, places, lefts))
        return tuple(framed)

    def _slope(
        self, slope: SlopeShape, rafter: Pitched, number: int, places: Sequence[float], lefts: Sequence[float]
    ) -> FramedSlope:
        rule, shape, (breadth, depth) = self.rule, self.shape, self.rule.section
        deck, rect = self._deck(rafter)
        taken = tuple(rafter.taken(at, seat) for at, seat in rafter.seats)
        extra = [*self._verges(slope, rafter, number, taken), *self._edges(slope, rafter)]
        blocks = self._blocks(slope, rafter)
        if blocks is not None:
            extra += self._beside_walls(blocks, number, taken, places)
            taken = (*taken, *blocks.taken)
        soffits = self._soffits(slope, rafter, number)
        extra += soffits.members() if soffits is not None else ()
        if number == 0 and shape.form == "duo-pitch":
            extra += ridge_members(rule, shape, rafter, self.overhang)
            extra += tie_members(rule, shape, rafter, lefts)
        extra += battens_on(rule, rect, slope, windows_on(rule, shape, slope))
        windows = tuple(hatches(rule, shape, slope, rafter, places, rect[2]))
        card = RafterCard(
            blank=rafter.blank,
            short_length=rafter.edge,
            plumb_cut=rafter.plumb,
            pitch=rafter.pitch,
            hap=rafter.over_seat,
            seat=rafter.seat,
            heel=rafter.heel,
            marks=rafter.marks,
        )
        _, end = rafter.inner
        foot = rect[2]
        line = end - foot
        lying = Wall(
            name=slope.wall,
            length=slope.length,
            depth=depth,
            section=rule.section,
            top=TopLine(((0.0, line), (slope.length, line))),
            ends=(WallEnd("free"), WallEnd("free")),
            underside=TopLine(((0.0, line), (slope.length, line))),
        )
        return FramedSlope(
            wall=slope.wall,
            views=planes(slope, rafter, self.shape),
            rafters=self._whole(slope, rafter, places),
            lying=lying,
            foot=foot,
            card=card,
            jointed=tuple(m for m in extra if m.role in JOINTED),
            others=tuple(m for m in extra if m.role not in JOINTED),
            blocks=tuple(blocks.rows()) if blocks is not None else (),
            gap=blocks.blocking.gap if blocks is not None else soffits.soffit.gap if soffits else None,
            open_along=soffits.open_along if soffits is not None else (),
            windows=windows,
            noggins=rule.noggins,
            taken=taken,
            called=CALLED,
            deck=deck,
            covering=covering_of(rule, rect),
            insulation=rule.insulation,
            vapour_layer=rule.vapour_layer is not False,
            indoors=(places[0], places[-1] + breadth, 0.0, rafter.along(min(rafter.end, shape.width))),
            area=(rect[1] - rect[0]) * (rect[3] - rect[2]),
        )

    def _whole(self, slope: SlopeShape, rafter: Pitched, places: Sequence[float]) -> tuple[Member, ...]:
        """A rafter at every place."""
        section = self.rule.section
        return tuple(
            Member(
                "rafter",
                section,
                mirrored(self._rafter_at(slope, rafter, left).outline()),
                (left, left + section.breadth),
                -rafter.pitch,
                view="side",
            )
            for left in places
        )

    def _deck(self, rafter: Pitched) -> tuple[Deck | None, tuple[float, float, float, float]]:
        """What the deck covers: left, right, bottom and top in the plane of the slope, with its rule."""
        past = self.past_walls
        out = self.fascia + self.rule.drip
        bottom = rafter.along(rafter.start - out)
        if self.shape.form == "mono-pitch":
            top = rafter.along(rafter.end + out)
        else:
            half = self.rule.ridge.section.breadth / 2 if isinstance(self.rule.ridge, RidgeBoard) else 0.0
            top = rafter.along(rafter.end + half)
        rect = (-past, self.shape.length + past, bottom, top)
        return (Deck(self.rule.deck, *rect) if self.rule.deck is not None else None), rect

    def _verges(
        self, slope: SlopeShape, rafter: Pitched, number: int, taken: Sequence[tuple[float, float]]
    ) -> Iterator[Member]:
        """Fly rafters and rungs at both ends of a slope."""
        rule, length, (breadth, _) = self.rule, slope.length, self.rule.section
        walls = self._walls(number)
        out = self.overhang
        for left in (-out, length + out - breadth):
            own = self._rafter_at(slope, rafter, left)
            seats = tuple(
                seat
                for plate, seat in zip(slope.plates, own.seats, strict=False)
                if not out and plate.left < left + breadth - TOUCH and left < plate.right - TOUCH
            )
            outline = mirrored(own.outline(seats))
            yield Member(
                "fly rafter", rule.section, outline, (left, left + breadth), -rafter.pitch, view="side"
            )
        if not isinstance(rule.verge, Ladder):
            return
        places = self._rungs(rafter, taken)
        notched = rule.raked_plates == "as set out"
        reaches = ((breadth - out, walls[0][1]), (walls[1][0], length + out - breadth))
        for (start, end), wall in zip(reaches, walls, strict=True):
            yield from rungs(rafter, places, start, end, wall if notched else None)

    def _walls(self, number: int) -> tuple[tuple[float, float], tuple[float, float]]:
        """What the outer walls that run with the slope take up along the eaves of one slope."""
        outer = [wall for wall in self.shape.along if not wall.partition]
        left, right = (outer[0].left, outer[0].right), (outer[-1].left, outer[-1].right)
        if not number:
            return left, right
        length = self.shape.length
        return (length - right[1], length - right[0]), (length - left[1], length - left[0])

    def _rungs(self, rafter: Pitched, taken: Sequence[tuple[float, float]]) -> tuple[float, ...]:
        """The middles of the rungs up the slope; none without a ladder."""
        verge = self.rule.verge
        if not isinstance(verge, Ladder):
            return ()
        return rung_places(rafter, verge.rungs, taken, self._joints(rafter))

    def _joints(self, rafter: Pitched) -> tuple[float, ...]:
        """Where up the slope sheets of the deck meet, if noggins are to lie behind them."""
        high = self.rule.noggins.behind() if self.rule.noggins is not None else None
        if high is None:
            return ()
        _, (_, _, foot, top) = self._deck(rafter)
        return tuple(foot + high * row for row in range(1, math.ceil((top - foot) / high)))

    def _blocks(self, slope: SlopeShape, rafter: Pitched) -> Blocks | None:
        """The blocks that close the eaves of a slope, where something does."""
        blocking = blocking_of(self.rule)
        return None if blocking is None else Blocks(blocking, self.rule, self.shape, slope, rafter)

    def _soffits(self, slope: SlopeShape, rafter: Pitched, number: int) -> Soffits | None:
        """The soffits that close the eaves of a slope, where they do."""
        soffit = soffit_of(self.rule)
        if soffit is None:
            return None
        outer = [wall for wall in self.shape.along if not wall.partition]
        covered = outer[0].covered[0], outer[-1].covered[1]
        if number:
            covered = covered[::-1]
        return Soffits(soffit, self.rule, self.shape, slope, rafter, covered)

    def _beside_walls(
        self,
        blocks: Blocks,
        number: int,
        taken: Sequence[tuple[float, float]],
        places: Sequence[float],
    ) -> Iterator[Member]:
        outermost = (places[0], places[-1] + self.rule.section.breadth)
        rungs = self._rungs(blocks.rafter, taken)
        is_ladder = isinstance(self.rule.verge, Ladder)
        yield from blocks.beside_walls(self._walls(number), outermost, rungs, is_ladder=is_ladder)

    def _edges(self, slope: SlopeShape, rafter: Pitched) -> Iterator[Member]:
        """Fascias on the plumb cuts, and barge boards."""
        rule, out, length = self.rule, self.overhang, self.shape.length
        fascia, barge, thick = rule.fascia, rule.barge, self.fascia
        is_mono = self.shape.form == "mono-pitch"
        if fascia is not None:
            tops = [("eaves", rafter.top(rafter.start - thick))]
            tops += [("eaves high", rafter.top(rafter.end))] if is_mono else []
            for view, top in tops:
                yield Member(
                    "fascia",
                    fascia.section,
                    rectangle(-out, length + out, top - fascia.section.depth, top),
                    (-thick, 0.0),
                    ALONG,
                    material=fascia.material,
                    view=view,
                )
        if barge is None:
            return
        start = rafter.start - thick
        plumb = barge.section.depth / rafter.cos
        for left in (-out - barge.section.breadth, length + out):
            own = self._rafter_at(slope, rafter, left)
            end = own.end + thick if is_mono else self._ridge_line(own)
            outline = mirrored(
                (
                    (start, rafter.top(start) - plumb),
                    (end, rafter.top(end) - plumb),
                    (end, rafter.top(end)),
                    (start, rafter.top(start)),
                )
            )
            yield Member(
                "barge board",
                barge.section,
                outline,
                (left, left + barge.section.breadth),
                -rafter.pitch,
                material=barge.material,
                view="side",
            )

    def _ridge_line(self, rafter: Pitched) -> float:
        ridge = self.rule.ridge
        return rafter.end + (ridge.section.breadth / 2 if isinstance(ridge, RidgeBoard) else 0.0)
