"""From a request to a plan: each section on its own, then all together."""

from __future__ import annotations

from collections.abc import Sequence
from math import fsum
from typing import Final

from soleplate.engine.building_file import Fault, UnbuildableError
from soleplate.engine.sawing.answer import SawLength, SawPlan, SectionSummary
from soleplate.engine.sawing.effort import Effort
from soleplate.engine.sawing.faults import check_request, described
from soleplate.engine.sawing.job import Bar, SawJob, StockType
from soleplate.engine.sawing.jobs import SectionJob, section_jobs
from soleplate.engine.sawing.reading import buying, saw_lengths
from soleplate.engine.sawing.request import Objective, SawPlanRequest
from soleplate.engine.sawing.search import Found, search
from soleplate.engine.sawing.tidy import free_first, tidied

TIDYING: Final = 400_000
"""Changes looked at for an easier plan, times part types, for each section."""


def plan_sawing(request: SawPlanRequest) -> SawPlan:
    """The best plan found within the time budget, with a bound on what any plan can reach.

    The same request gives the same plan as long as it is not the clock that ends the search: a search that
    ends `proven`, or after its `steps`, takes the same course everywhere; one that ends by `clock` may end
    earlier on a slower machine, with a plan as valid and perhaps not as good. Each section says which.

    Money is counted in whole hundredths, so that `cost` is exact. Bounds are whole numbers too.

    Raises:
        UnbuildableError: a part fits no stock, or the stock does not suffice; parts and sections are named.

    """
    check_request(request)
    todo = section_jobs(request)
    effort = Effort(request.time_budget_s)
    lengths: list[SawLength] = []
    sections: list[SectionSummary] = []
    for index, task in enumerate(todo):
        weights = [len(later.job.parts) for later in todo[index:]]
        share = effort.seconds_left * weights[0] / sum(weights)
        try:
            found, ended = _solved(task, Effort(share))
        except UnbuildableError:
            if not request.margin:
                raise
            task = section_jobs(request.model_copy(update={"margin": 0.0}))[index]
            found, ended = _solved(task, Effort(min(share, effort.seconds_left)))
        bars = tidied(
            task.job, free_first(task.job, found.bars), TIDYING // len(task.job.parts) if share > 0 else 0
        )
        made = saw_lengths(request, task, bars, lengths[-1].set_up if lengths else 0)
        lengths += made
        sections.append(_summary(request, task, made, found, ended))
    return _plan(request, lengths, sections)


def _solved(task: SectionJob, effort: Effort) -> tuple[Found, Effort]:
    """The task's bars; where on-hand lengths alone must do, a stand-in shows what they lack."""
    job, stand_in = task.job, _stand_in(task.job)
    if stand_in is not None:
        job = SawJob(job.parts, (*job.stocks, stand_in))
    found = search(job, effort)
    if stand_in is not None:
        lacking = [bar for bar in found.bars if bar.stock == len(task.job.stocks)]
        if lacking:
            _refuse(task, lacking, certain=found.bound >= stand_in.cost)
    bars = _cheapest(task, _exact(task.job, found.bars))
    bound = found.bound
    if task.relaxed is not None and stand_in is None and bound > 0:
        bound = min(bound, search(task.relaxed, effort).bound)
    return Found(bars, task.job.cost(bars), min(bound, task.job.cost(bars))), effort


def _stand_in(job: SawJob) -> StockType | None:
    """A length dearer than all others together, needed only where limited stock may not suffice."""
    total = sum(job.demands)
    endless = max((s.room for s in job.stocks if s.available >= total and not s.short), default=0)
    if endless >= max(part.size for part in job.parts):
        return None
    dear = 1 + sum(stock.cost * stock.available for stock in job.stocks)
    return StockType(max(stock.room for stock in job.stocks), dear, total, False)


def _refuse(task: SectionJob, lacking: Sequence[Bar], *, certain: bool) -> None:
    where = described(*task.key)
    without: dict[str, tuple[int, int]] = {}
    for kind, pieces in enumerate(task.pieces):
        count = sum(bar.pattern[kind] for bar in lacking)
        for piece in pieces[len(pieces) - count :]:
            have = without.get(piece.mark, (piece.index, 0))
            without[piece.mark] = (have[0], have[1] + 1)
    why = "the stock cannot yield" if certain else "no way was found in the time given for the stock to yield"
    raise UnbuildableError(
        Fault(f"/parts/{index}", f"part {mark!r} of {where}: {why} the last {count}; add stock of {where}")
        for mark, (index, count) in without.items()
    )


def _exact(job: SawJob, bars: Sequence[Bar]) -> list[Bar]:
    """Each part once: what bars yield beyond the demands is left uncut, on the fullest of them first."""
    yielded = map(sum, zip(*(bar.pattern for bar in bars), strict=True))
    over = [count - wanted for count, wanted in zip(yielded, job.demands, strict=True)]
    if not any(over):
        return list(bars)
    result = []
    for bar in sorted(bars, key=lambda bar: (-sum(map(bool, bar.pattern)), bar.stock, bar.pattern)):
        pattern = list(bar.pattern)
        for kind, count in enumerate(pattern):
            dropped = min(count, over[kind])
            pattern[kind] -= dropped
            over[kind] -= dropped
        if any(pattern):
            result.append(Bar(bar.stock, tuple(pattern)))
    return result


def _cheapest(task: SectionJob, bars: Sequence[Bar]) -> list[Bar]:
    """Each bar on the cheapest length that holds it and counts no more for the objective."""
    job, offers = task.job, task.offers
    left = [stock.available for stock in job.stocks]
    for bar in bars:
        left[bar.stock] -= 1
    result = []
    for bar in bars:
        left[bar.stock] += 1
        filled, straight = job.filled(bar.pattern), any(bar.pattern[job.shorts :])
        stock = min(
            (
                stock
                for stock, kind in enumerate(job.stocks)
                if left[stock] and kind.room >= filled and kind.cost <= job.stocks[bar.stock].cost
                if not (straight and kind.short)
            ),
            key=lambda stock: (job.stocks[stock].cost, offers[stock].price, stock != bar.stock, stock),
        )
        left[stock] -= 1
        result.append(Bar(stock, bar.pattern))
    return result


def _summary(
    request: SawPlanRequest, task: SectionJob, lengths: Sequence[SawLength], found: Found, effort: Effort
) -> SectionSummary:
    used = fsum(cut.length for each in lengths for cut in each.cuts)
    cost = sum(round(each.price * 100) for each in lengths)
    waste = fsum(each.stock_length for each in lengths) - used
    value, bound = float(found.cost), float(found.bound)
    if task.objective == "cost":
        value, bound = found.cost / 100, found.bound / 100
    elif task.objective == "waste":
        value, bound = waste, max(found.bound / 1000 - used, 0.0)
    proven = found.bound >= found.cost and request.time_budget_s > 0
    return SectionSummary(
        section=task.key[0],
        material=task.key[1],
        parts=sum(task.job.demands),
        bought=sum(not each.on_hand for each in lengths),
        on_hand=sum(each.on_hand for each in lengths),
        cost=cost / 100,
        waste=round(waste, 3),
        objective=task.objective,
        value=round(value, 3),
        bound=round(bound, 3),
        gap=_gap(task.objective, value, bound, waste + used),
        proven=proven,
        margin=task.margin,
        ended="rounding" if effort.ended == "proven" and not proven else effort.ended,
    )


def _main_objective(asked: Objective, sections: Sequence[SectionSummary]) -> Objective:
    """The objective of the whole plan: the one asked for, or one of its sections where none has that."""
    objectives = [section.objective for section in sections]
    return asked if asked in objectives else objectives[0]


def _gap(objective: Objective, value: float, bound: float, timber: float) -> float:
    """How far a value may be above the best, as a share of it, or for waste of all timber used."""
    whole = timber if objective == "waste" else value
    return max(value - bound, 0.0) / whole if whole > 0 else 0.0


def _plan(
    request: SawPlanRequest, lengths: Sequence[SawLength], sections: Sequence[SectionSummary]
) -> SawPlan:
    objective = _main_objective(request.objective, sections)
    counted = [section for section in sections if section.objective == objective]
    keys = {(section.section, section.material) for section in counted}
    value, bound = fsum(s.value for s in counted), fsum(s.bound for s in counted)
    timber = fsum(each.stock_length for each in lengths if (each.section, each.material) in keys)
    return SawPlan(
        objective=objective,
        lengths=tuple(lengths),
        buying=buying(lengths),
        sections=tuple(sections),
        cost=sum(round(s.cost * 100) for s in sections) / 100,
        waste=round(fsum(s.waste for s in sections), 3),
        bought=sum(s.bought for s in sections),
        value=round(value, 3),
        bound=round(bound, 3),
        gap=_gap(objective, value, bound, timber),
        proven=all(s.proven for s in sections),
        set_ups=len({each.set_up for each in lengths}),
        longest_offcut=max(each.offcut for each in lengths),
    )
