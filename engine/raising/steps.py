"""The steps of the work: the frames, the walls in their order, and what comes before and after."""

from __future__ import annotations

from collections.abc import Container, Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Final

from soleplate.engine.building_file import Building, Said, said
from soleplate.engine.layout import (
    FloorOut,
    Layout,
    Piece,
    SlopeOut,
    StepKind,
    TemporaryBraceOut,
    WallOut,
    WorkStep,
)
from soleplate.engine.raising.bracing import BraceUse, brace_uses
from soleplate.engine.raising.hours import Work, shared
from soleplate.engine.raising.panels import outside_of
from soleplate.engine.raising.reasons import reasons_of
from soleplate.engine.raising.room import room_of
from soleplate.engine.raising.saying import all_square_said, framed_said, raised_said, squared_said
from soleplate.engine.raising.search import FoundOrder, OrderSearch, Step
from soleplate.engine.raising.wind import wind_limit
from soleplate.engine.raising.yard import Yard
from soleplate.engine.rules import MOST_TOGETHER, team_lift
from soleplate.engine.shapes import rounded

GLAZED: Final = "hang the doors and glaze the windows: glass on edge, in gloves, not in wind"
"""Common practice, no source; for panes of plastic too."""


@dataclass(frozen=True, slots=True)
class _Making:
    """What all steps are made of."""

    yard: Yard
    building: Building
    layout: Layout
    work: Work

    def step(
        self,
        kind: StepKind,
        hours: float,
        display: Said,
        *,
        wall: str | None = None,
        panel: int | None = None,
        dry: bool = True,
        whole: bool = False,
        pieces: Iterable[Piece] = (),
    ) -> WorkStep:
        """A step; it gets its number later."""
        people = self.building.site.people
        return WorkStep(
            number=0,
            kind=kind,
            wall=wall,
            panel=panel,
            people=people,
            hours=shared(hours, people),
            dry=dry,
            whole=whole,
            pieces=tuple(piece.mark for piece in pieces),
            display=display.told(self.building.units),
        )


def steps_of(
    yard: Yard, search: OrderSearch, found: FoundOrder, paths: Sequence[Sequence[tuple[float, float, float]]],
    crossed: Sequence[int],
    layout: Layout, building: Building,
) -> tuple[WorkStep, ...]:  # fmt: skip
    """All steps of an order, numbered.

    Args:
        yard: what it was searched for.
        search: that found it.
        found: the order.
        paths: of each of its raises the way on which the wall is carried, if it is.
        crossed: of each the bits of the braces that are in that way.
        layout: of the building.
        building: what was asked for.
    """
    making = _Making(yard, building, layout, Work(building.site.rates, layout))
    question = yard.question
    elsewhere = [step for step in found.steps if step.way.carry is not None]
    made: list[tuple[int | None, WorkStep]] = [(None, each) for each in _first(making)]
    # What is made elsewhere is stacked: the first to be raised is made last.
    for step in reversed(elsewhere):
        made += [(None, each) for each in _framed(making, step)]
    blocked = yard.blocked(yard.obstructions)
    rakers = brace_uses(question, search, found.steps, blocked, crossed)
    braced = {(each.first, each.panel) for each in rakers}
    for place, step in enumerate(found.steps):
        if step.way.carry is None and step.way.movement.share > 0.0:
            made += [(None, each) for each in _framed(making, step)]
        is_braced = (place, step.way.panel) in braced
        made.append((place, _raised(making, step, paths[place], is_braced=is_braced)))
    made += [(None, each) for each in _last(making, found)]
    numbers = {place: number for number, (place, _) in enumerate(made, 1) if place is not None}
    told: list[WorkStep] = []
    standing = 0
    for number, (at, plain) in enumerate(made, 1):
        numbered = replace(plain, number=number, standing=question.names(standing))
        if at is not None:
            why = reasons_of(question, at, found.steps, blocked, building.site)
            numbered = replace(
                numbered,
                braces=tuple(_brace(making, each, numbers) for each in rakers if each.first == at),
                reasons=tuple(each.told(building.units) for each in why),
            )
            standing |= 1 << found.steps[at].way.panel
        told.append(numbered)
    return tuple(told)


def _first(making: _Making) -> Iterator[WorkStep]:
    """What comes before the first frame: the base, or the floor and its deck."""
    floors, work = making.layout.floors, making.work
    if floors:
        timber, deck = _timber_and_deck(floors)
        yield making.step(
            "base",
            work.rates.square + work.joining(timber),
            said("lay the floor's timber level and square: both diagonals alike"),
            pieces=timber,
        )
        if deck:
            yield making.step("base", work.deck(floors), said("lay the floor's deck"), pieces=deck)
    else:
        yield making.step(
            "base", work.rates.square, said("set the base level and square: both diagonals alike")
        )
    yield making.step("frame", work.cutting(), said("mark and cut the pieces of all frames"), dry=False)


def _framed(making: _Making, step: Step) -> Iterator[WorkStep]:
    """A wall framed flat, squared and, where it is raised so, clad."""
    panel = making.yard.question.panels[step.way.panel]
    site, name, wall, part = making.building.site, panel.name, panel.wall.name, panel.part
    is_roofed = step.way.carry is not None and site.framing_place is not None and site.framing_place.roofed
    work = making.work
    yield making.step(
        "frame", work.joining(panel.frame), framed_said(panel, step.way),
        wall=wall, panel=part, dry=not is_roofed,
    )  # fmt: skip
    yield making.step(
        "square", work.rates.square, squared_said(panel),
        wall=wall, panel=part, dry=not is_roofed, whole=True,
    )  # fmt: skip
    if step.way.movement.clad:
        yield making.step(
            "clad", work.cladding(panel.wall, panel.boards),
            said("clad {wall} as it lies; leave off the last boards at its ends", wall=name),
            wall=wall, panel=part, dry=not is_roofed,
        )  # fmt: skip


def _raised(
    making: _Making, step: Step, path: Sequence[tuple[float, float, float]], *, is_braced: bool
) -> WorkStep:
    way, panel = step.way, making.yard.question.panels[step.way.panel]
    rates, site = making.work.rates, making.building.site
    hours = rates.raise_ + rates.brace
    if way.movement.share == 0.0:
        hours += making.work.joining(panel.frame)
    display = raised_said(panel, way, is_braced=is_braced)
    lifted = (*panel.frame, *(panel.boards if way.movement.clad else ()))
    made = making.step(
        "raise", hours, display, wall=panel.wall.name, panel=panel.part, whole=True, pieces=lifted
    )
    return replace(
        made,
        way=way.rule,
        how=way.movement.how or None,
        clad=way.movement.clad,
        weight_kg=rounded(panel.panel.weight_kg),
        peak_kg=rounded(way.peak_kg),
        people=people_for(way.peak_kg, site.people, site.lift_each),
        wind=wind_limit(site, clad=way.movement.clad),
        room=room_of(way),
        path=tuple(path),
    )


def people_for(peak: float, people: int, each: float) -> int:
    """The fewest who lift so much together, kg; all where even as many as work together well do not."""
    enough = (n for n in range(1, MOST_TOGETHER + 1) if team_lift(n, each) + 1e-9 >= peak)
    return next(enough, max(people, 1))


def _brace(making: _Making, each: BraceUse, numbers: dict[int, int]) -> TemporaryBraceOut:
    brace, panel = each.brace.brace, making.yard.question.panels[each.panel]
    return TemporaryBraceOut(
        wall=panel.wall.name,
        panel=panel.part,
        where=brace.where,
        feet=tuple((rounded(x), rounded(y)) for x, y in brace.feet),
        off_after=numbers[each.off],
    )


def _last(making: _Making, found: FoundOrder) -> Iterator[WorkStep]:
    """What comes after the last wall: squaring, plates, roof, and all that the roof does not wait for."""
    work, layout = making.work, making.layout
    outer = sum(wall.faces is None for wall in layout.walls)
    yield making.step("square", work.rates.square, all_square_said(outer), whole=True)
    yield making.step(
        "fix", work.rates.raise_,
        said("fix the sole plates throughout, and the walls to each other up all corners"),
    )  # fmt: skip
    raised = {piece.mark for panel in making.yard.question.panels for piece in panel.frame}
    loose = [p for wall in layout.walls for p in wall.pieces if p.is_frame and p.mark not in raised]
    if loose:
        yield making.step(
            "plates",
            work.rates.joint * len(loose) * 2,
            said("fix the plates that lap the corners and run over breaks"),
            pieces=loose,
        )
    yield from _roof(making)
    clad = {
        piece.mark
        for step in found.steps
        if step.way.movement.clad
        for piece in making.yard.question.panels[step.way.panel].boards
    }
    walls = (making.yard.question.panels[step.way.panel].wall for step in found.steps)
    for wall in {each.name: each for each in walls}.values():
        yield from _clad_standing(making, wall, clad)
    if work.openings():
        yield making.step(
            "openings",
            work.openings(),
            said(GLAZED) if _has_windows(layout) else said("hang the doors"),
            pieces=[p for wall in layout.walls for p in wall.pieces if p.mark in wall.fitted],
        )
    lined = sum(work.lining(wall) for wall in layout.walls)
    if lined:
        lining = [piece for wall in layout.walls for piece in _lining_of(wall)]
        yield making.step("line", lined, said("line the inside"), dry=False, pieces=lining)


def _lining_of(wall: WallOut) -> tuple[Piece, ...]:
    return tuple(p for p in wall.pieces if p.face == "inside" and p.mark not in wall.fitted)


def _timber_and_deck(parts: Iterable[FloorOut | SlopeOut]) -> tuple[list[Piece], list[Piece]]:
    """Of floors or slopes."""
    every = [piece for part in parts for piece in part.pieces]
    return [p for p in every if p.is_frame], [p for p in every if not p.is_frame]


def _has_windows(layout: Layout) -> bool:
    return any(opening.kind == "window" for part in layout.parts for opening in part.openings)


def _roof(making: _Making) -> Iterator[WorkStep]:
    """The roof: its timber and its deck where they are laid out, and its cover."""
    work, slopes = making.work, making.layout.roofs
    cover = work.cover(making.building)
    if not slopes:
        yield making.step("roof", cover, said("put the roof on: its timber, its deck and its cover"))
        return
    timber, deck = _timber_and_deck(slopes)
    yield making.step(
        "roof", work.joining(timber), said("put up the roof's timber, tied down as it goes"), pieces=timber
    )
    if deck:
        yield making.step("roof", work.deck(slopes), said("lay the roof's deck"), pieces=deck)
    yield making.step("roof", cover, said("cover the roof"))


def _clad_standing(making: _Making, wall: WallOut, raised: Container[str]) -> Iterator[WorkStep]:
    """The boards of a wall that were not raised with it; of parts that were, those that cross its breaks."""
    every = outside_of(wall)
    left = [piece for piece in every if piece.mark not in raised]
    if wall.cladding is None or not left:
        return
    display = (
        said("clad {wall}", wall=wall.name)
        if len(left) == len(every)
        else said("put on the boards that {wall} still lacks, over its breaks too", wall=wall.name)
    )
    yield making.step(
        "clad", making.work.cladding(wall, left), display, wall=wall.name, dry=wall.faces is None, pieces=left
    )
