"""A plan checked against its request from the raw figures, by nothing that the planner uses."""

from __future__ import annotations

from collections import Counter
from fractions import Fraction

from soleplate.engine.sawing.answer import SawLength, SawPlan
from soleplate.engine.sawing.request import LengthOnHand, LengthOnSale, SawPlanRequest, SectionStock

CLOSE = 0.002
"""Lengths in a plan are rounded to 0.001 mm."""


def check_plan(request: SawPlanRequest, plan: SawPlan) -> list[str]:
    """Everything that is wrong with the plan, in sentences; an empty list if it can be sawn as it says.

    Each part is cut exactly once, each length holds its cuts with trim, kerf and margin, each length is on
    sale or on hand at that price and in that grade, nothing on hand is used more often than it is there,
    grades are respected, and cost, waste and number of lengths are added up anew.
    """
    return [
        *_parts_once(request, plan),
        *(fault for each in plan.lengths for fault in _sawable(request, each)),
        *_margins_kept(request, plan),
        *_stock_kept(request, plan),
        *_grades_kept(request, plan),
        *_sums(plan),
    ]


def _parts_once(request: SawPlanRequest, plan: SawPlan) -> list[str]:
    wanted: Counter[tuple[str, float]] = Counter()
    for part in request.parts:
        wanted[part.name, round(part.length, 3)] += part.count
    cut = Counter((each.mark, each.length) for length in plan.lengths for each in length.cuts)
    return [
        f"part {key[0]!r} of {key[1]:g} mm is cut {cut[key]} times, wanted {wanted[key]}"
        for key in sorted(wanted | cut)
        if cut[key] != wanted[key]
    ]


def _sawable(request: SawPlanRequest, length: SawLength) -> list[str]:
    faults = []
    name = f"length of {length.stock_length:g} mm, set-up {length.set_up}"
    at = request.trim
    for cut in length.cuts:
        if abs(cut.from_ - at) > CLOSE or abs(cut.to - cut.from_ - cut.length) > CLOSE:
            faults.append(f"{name}: {cut.mark!r} runs from {cut.from_:g} to {cut.to:g}, expected from {at:g}")
        at = cut.to + request.kerf
    end = length.stock_length - request.trim
    if not length.cuts:
        faults.append(f"{name}: nothing is cut from it")
    elif length.cuts[-1].to > end + CLOSE:
        faults.append(f"{name}: the last cut ends at {length.cuts[-1].to:g}, beyond {end:g}")
    if abs(length.offcut - max(end - at, 0.0)) > CLOSE:
        faults.append(f"{name}: offcut of {length.offcut:g} mm, expected {max(end - at, 0.0):g}")
    return faults


def _margins_kept(request: SawPlanRequest, plan: SawPlan) -> list[str]:
    """What is left over of each length; a part too long for that is by itself on one of the longest."""
    faults = []
    margins = {(each.section, each.material): each.margin for each in plan.sections}
    for length in plan.lengths:
        margin = margins.get((length.section, length.material), request.margin)
        whole = length.stock_length - 2 * request.trim
        if margin not in (0.0, request.margin):
            faults.append(f"a margin of {margin:g} mm, the request says {request.margin:g}")
        left = length.stock_length - request.trim - max((cut.to for cut in length.cuts), default=0.0)
        if left >= min(margin, whole / 2) - CLOSE:
            continue
        others: list[LengthOnSale | LengthOnHand] = []
        for stock in _stocks(request, length):
            others += [*stock.lengths, *stock.on_hand]
        longest = max(each.length for each in others if each.grade in ("straight", length.grade))
        if len(length.cuts) > 1 or length.stock_length < longest - CLOSE:
            name = f"length of {length.stock_length:g} mm, set-up {length.set_up}"
            faults.append(f"{name}: {left:g} mm are left over, wanted {margin:g}")
    return faults


def _stocks(request: SawPlanRequest, length: SawLength) -> list[SectionStock]:
    """The stock a length may come from; one left unnamed stands for any."""
    return [
        stock
        for stock in request.stock
        if stock.section in (None, length.section) and stock.material in (None, length.material)
    ]


def _cents(price: float) -> int:
    return int(Fraction(repr(price)) * 100 + Fraction(1, 2))


def _sale_price(sale: LengthOnSale) -> int:
    if sale.price_per_metre is None:
        return _cents(sale.price or 0.0)
    return int(Fraction(repr(sale.price_per_metre)) * Fraction(repr(sale.length)) / 10 + Fraction(1, 2))


def _stock_kept(request: SawPlanRequest, plan: SawPlan) -> list[str]:
    faults = []
    taken: Counter[tuple[int, float, str, int]] = Counter()
    there: Counter[tuple[int, float, str, int]] = Counter()
    for index, stock in enumerate(request.stock):
        for kept in stock.on_hand:
            there[(index, *_on_hand_key(kept))] += kept.count
    for length in plan.lengths:
        price = _cents(length.price)
        stocks = _stocks(request, length)
        if len(stocks) != 1:
            faults.append(f"length of {length.stock_length:g} mm is of no stock in the request")
        elif length.on_hand:
            taken[request.stock.index(stocks[0]), length.stock_length, length.grade, price] += 1
        elif (length.stock_length, length.grade, price) not in [
            (sale.length, sale.grade, _sale_price(sale)) for sale in stocks[0].lengths
        ]:
            faults.append(f"no length of {length.stock_length:g} mm at {length.price:g} is on sale")
    for key, count in taken.items():
        if count > there[key]:
            faults.append(f"{count} lengths of {key[1]:g} mm on hand are used, there are {there[key]}")
    return faults


def _on_hand_key(kept: LengthOnHand) -> tuple[float, str, int]:
    return kept.length, kept.grade, _cents(kept.price)


def _grades_kept(request: SawPlanRequest, plan: SawPlan) -> list[str]:
    """For each mark: no more on short stock than its short parts, and each on its own section."""
    faults = []
    may: Counter[str] = Counter()
    for part in request.parts:
        if part.grade == "short" and part.length <= request.short_up_to:
            may[part.name] += part.count
    did = Counter(cut.mark for each in plan.lengths if each.grade == "short" for cut in each.cuts)
    faults += [f"part {mark!r} needs straight stock" for mark in sorted(did) if did[mark] > may[mark]]
    homes = {(part.name, part.section, part.material) for part in request.parts}
    for each in plan.lengths:
        for cut in each.cuts:
            if not any(
                name == cut.mark and section in (None, each.section) and material in (None, each.material)
                for name, section, material in homes
            ):
                faults.append(f"part {cut.mark!r} is cut from the wrong section or material")
    return faults


def _value(plan: SawPlan) -> float:
    """What the plan's objective counts: the lengths of all sections but those that have another."""
    others = {(each.section, each.material) for each in plan.sections if each.objective != plan.objective}
    lengths = [each for each in plan.lengths if (each.section, each.material) not in others]
    if plan.objective == "cost":
        return sum(_cents(each.price) for each in lengths) / 100
    if plan.objective == "lengths":
        return float(sum(not each.on_hand for each in lengths))
    return sum(each.stock_length - sum(cut.length for cut in each.cuts) for each in lengths)


def _sums(plan: SawPlan) -> list[str]:
    cost = sum(_cents(each.price) for each in plan.lengths)
    waste = sum(each.stock_length - sum(cut.length for cut in each.cuts) for each in plan.lengths)
    bought = sum(not each.on_hand for each in plan.lengths)
    value = _value(plan)
    close = CLOSE * (1 + sum(len(each.cuts) for each in plan.lengths))
    faults = []
    if cost != _cents(plan.cost):
        faults.append(f"cost {plan.cost:g}, added up it is {cost / 100:g}")
    if cost != sum(_cents(line.cost) for line in plan.buying):
        faults.append("the buying list does not add up to the cost")
    if abs(waste - plan.waste) > close:
        faults.append(f"waste {plan.waste:g} mm, added up it is {waste:g}")
    if bought != plan.bought:
        faults.append(f"{plan.bought} lengths bought, counted they are {bought}")
    if abs(value - plan.value) > close:
        faults.append(f"value {plan.value:g}, added up it is {value:g}")
    if plan.bound > plan.value + close:
        faults.append(f"the bound {plan.bound:g} is above the value {plan.value:g}")
    return faults
