"""The work of the API: each job makes an answer from a body and the installed rules, and nothing else.

A job runs in a worker, of which a few are kept for what is quick. There it gives up by raising `TooMuchNow`,
and is done again, in full, where it may take its time.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass
from functools import cached_property
from typing import Any, Final

from soleplate.api.http import HTML, JSON, LATER, Done, Outcome, as_json, failed, faults_json
from soleplate.api.limits import (
    MOST_PIECES,
    MOST_PIECES_COMPARED,
    MOST_PIECES_QUICK,
    MOST_PIECES_VARIED,
    MOST_PLANNING_S,
    MOST_VARIANT_S,
)
from soleplate.api.work.boards import Begun, begin, board_html, page_of, to_begin_with
from soleplate.api.work.drawing import draw
from soleplate.api.work.exports import export
from soleplate.api.work.less import with_less
from soleplate.api.work.messages import (
    BoardRequest,
    ChangesOut,
    elevation_model,
    view_model,
    what_if_model,
)
from soleplate.api.work.orders import DRAWN, order_answer, order_html
from soleplate.api.work.viewing import view
from soleplate.engine.building_file import (
    LARGEST,
    Building,
    BuildingError,
    Fault,
    TooManyPiecesError,
    pointer_in_request,
    read_document,
    read_json,
)
from soleplate.engine.buying import with_saw_plan
from soleplate.engine.laying_out import lay_out
from soleplate.engine.layout import Layout
from soleplate.engine.listing import layout_changes
from soleplate.engine.raising import check_site
from soleplate.engine.registry import Registry
from soleplate.engine.sawing import plan_sawing, read_request
from soleplate.engine.what_if import what_if
from soleplate.engine.work_order import with_work_order

LONGEST_BODY: Final = 2 * LARGEST + 1_000
"""Bytes of two kept designs, and what is asked of them; what a call sends was held to less as it came in."""


class TooMuchNow(Exception):  # noqa: N818 - nothing is wrong
    """The work is not quick."""


@dataclass(frozen=True, slots=True)
class Job:
    """A piece of work, as it is sent to a worker."""

    name: str
    """Which of those that `Jobs` knows."""
    body: bytes
    """The JSON that came in."""
    argument: str = ""
    """What the path says beside it."""
    options: tuple[tuple[str, str], ...] = ()
    """What the query says beside it, looked at before."""


class Jobs:
    """The jobs on one set of installed rules; each is of (value of the body, the job, quick)."""

    def __init__(self, registry: Registry) -> None:
        self.registry: Final = registry
        self._elevation: Final = elevation_model(registry)
        self._view: Final = view_model()
        self._what_if: Final = what_if_model()
        self._work: Final[Mapping[str, Callable[[Any, Job, bool], Done]]] = {
            "layout": self._lay_out,
            "check": self._check,
            "changes": self._compare,
            "wall": self._lay_out_wall,
            "elevation": self._draw,
            "view": self._show,
            "saw-plan": self._plan_sawing,
            "order-of-work": self._order_work,
            "what-if": self._try_variants,
            "export": self._export,
            "board": self._draw_board,
            "page": self._show_page,
        }

    def page(self, begun: Begun, asked: Mapping[str, str]) -> str:
        """The whole page of a building, or of the start."""
        return page_of(begun, asked, self.registry, self._examples)

    @cached_property
    def _examples(self) -> Mapping[str, str]:
        return to_begin_with(self.registry)

    def perform(self, job: Job, *, quick: bool) -> Outcome:
        """Do a job; whatever goes wrong is an outcome too."""
        try:
            return self._work[job.name](read_json(job.body, largest=LONGEST_BODY), job, quick)
        except TooMuchNow:
            return LATER
        except Exception as error:
            return failed(error)

    def planned(self, building: Building, *, quick: bool = False) -> Layout:
        """A building's layout with its saw plan, both bounded.

        Raises:
            TooMuchNow: it must be quick, and is not.
            UnbuildableError: it cannot be laid out or planned.
            RuleError: a plugin failed.
        """
        if quick and building.stock.stock:
            raise TooMuchNow
        return with_saw_plan(self._laid_out(building, quick), _within(building, MOST_PLANNING_S))

    def _lay_out(self, value: Any, job: Job, quick: bool) -> Done:
        return self._layout(self.registry.read_building(value), job, quick)

    def _check(self, value: Any, _: Job, quick: bool) -> Done:
        """That nothing is wrong with a building, as a list of faults; null for one that takes long."""
        try:
            self._laid_out(self.registry.read_building(value), quick)
        except TooMuchNow:
            return Done(b"null", JSON)
        return Done(b"[]", JSON)

    def _compare(self, value: Any, _: Job, quick: bool) -> Done:
        """What changed between two revisions: pairs of a number and the building, the earlier one first."""
        (since, old), (until, new) = value
        before, after = (
            self._revision(building, place, quick=quick) for place, building in (("/0", old), ("/1", new))
        )
        walls = layout_changes(before, after, f"in revision {since}")
        return as_json(ChangesOut(since=since, until=until, walls=walls))

    def _revision(self, building: Any, place: str, *, quick: bool) -> Layout:
        with _faults_at(lambda pointer: place + pointer):
            return self._laid_out(self.registry.read_building(building), quick, MOST_PIECES_COMPARED)

    def _lay_out_wall(self, value: Any, job: Job, quick: bool) -> Done:
        building = self.registry.read_wall(value)
        with _faults_at(lambda pointer: pointer_in_request(pointer, building.name)):
            return self._layout(building, job, quick)

    def _draw(self, value: Any, _: Job, quick: bool) -> Done:
        asked = read_document(self._elevation, value)
        with _faults_at(_in_building):
            layout = self._laid_out(self.registry.read_building(asked.building), quick)
        drawing = draw(layout, asked.wall, self.registry, layers=asked.layers, side=asked.side)
        return Done(drawing.encode(), "image/svg+xml")

    def _show(self, value: Any, _: Job, quick: bool) -> Done:
        asked = read_document(self._view, value)
        with _faults_at(_in_building):
            layout = self._laid_out(self.registry.read_building(asked.building), quick)
        return Done(view(layout, asked.look, asked.form), JSON if asked.form == "tree" else "image/svg+xml")

    def _plan_sawing(self, value: Any, _: Job, quick: bool) -> Done:
        asked = read_request(value)
        if quick:
            raise TooMuchNow
        bounded = asked.model_copy(update={"time_budget_s": min(asked.time_budget_s, MOST_PLANNING_S)})
        plan = plan_sawing(bounded)
        return as_json(plan, lasting=plan.proven)

    def _order_work(self, value: Any, job: Job, quick: bool) -> Done:
        building = self.registry.read_building(value)
        if quick:
            raise TooMuchNow
        layout = self._laid_out(building, quick=False)
        answer = order_answer(building, layout, self.registry)
        if job.argument == DRAWN:
            return Done(order_html(answer, layout).encode(), HTML, lasting=answer.is_lasting)
        return as_json(answer, lasting=answer.is_lasting, nulls=True)

    def _try_variants(self, value: Any, _: Job, quick: bool) -> Done:
        asked = read_document(self._what_if, value)
        with _faults_at(_in_building):
            building = _within(self.registry.read_building(asked.building), MOST_VARIANT_S)
            if quick:
                raise TooMuchNow
            tried = what_if(building, self.registry, asked.ranges, most_pieces=MOST_PIECES_VARIED)
            return as_json(tried, lasting=False)

    def _export(self, value: Any, job: Job, quick: bool) -> Done:
        building = self.registry.read_building(value)
        if quick:
            raise TooMuchNow
        layout = with_work_order(self.planned(building), building, self.registry)
        made = export(layout, self.registry, job.argument, dict(job.options))
        return Done(made.content, made.media_type, made.headers, lasting=False)

    def _draw_board(self, value: Any, _: Job, quick: bool) -> Done:
        asked = read_document(BoardRequest, value)
        try:
            with _faults_at(_in_building):
                building = self.registry.read_building(asked.building)
                lay_out_ = self.planned if asked.saw_plan else self._laid_out
                layout = lay_out_(building, quick=quick)
                check_site(layout, building)
        except BuildingError as error:
            if not asked.faults:
                raise
            return Done(faults_json(error), JSON)
        parts = board_html(layout, asked, self.registry)
        return Done(parts.encode(), HTML, lasting=_is_lasting(layout))

    def _show_page(self, value: Any, _: Job, quick: bool) -> Done:
        asked, own = value["asked"], value["own"]
        begun = begin(asked, self.registry, own, lambda building: self.planned(building, quick=quick))
        return Done(
            self.page(begun, asked).encode(), HTML, lasting=begun.layout is None or _is_lasting(begun.layout)
        )

    def _layout(self, building: Building, job: Job, quick: bool) -> Done:
        layout = self.planned(building, quick=quick)
        return as_json(with_less(layout, dict(job.options)), lasting=_is_lasting(layout))

    def _laid_out(self, building: Building, quick: bool, most: int = MOST_PIECES) -> Layout:
        if not quick:
            return lay_out(building, self.registry, most_pieces=most)
        try:
            return lay_out(building, self.registry, most_pieces=MOST_PIECES_QUICK)
        except TooManyPiecesError:
            raise TooMuchNow from None


def _is_lasting(layout: Layout) -> bool:
    """Whether the same building always gives it: a plan that was not proven depends on the time there was."""
    return layout.saw_plan is None or layout.saw_plan.proven


def _within(building: Building, most: float) -> Building:
    """The building with its planning time bounded, s."""
    stock = building.stock
    if stock.time_budget_s <= most:
        return building
    return building.model_copy(update={"stock": stock.model_copy(update={"time_budget_s": most})})


def _in_building(pointer: str) -> str:
    return f"/building{pointer}"


@contextmanager
def _faults_at(place: Callable[[str], str]) -> Iterator[None]:
    """Tell of a building's faults by their places in the body that held it."""
    try:
        yield
    except BuildingError as error:
        raise type(error)(Fault(place(fault.pointer), fault.message) for fault in error.faults) from None
