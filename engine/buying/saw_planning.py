"""Last stage: what to buy for a building and how to saw it, from its pieces and its stock."""

from __future__ import annotations

from collections import Counter
from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from dataclasses import replace
from typing import Final

from soleplate.engine.building_file import (
    Building,
    Count,
    Fault,
    Figure,
    Grade,
    Mm,
    MmList,
    OnHand,
    Sides,
    Stock,
    StockLength,
    StockTimber,
    UnbuildableError,
    said,
)
from soleplate.engine.buying.findings import (
    CARRIED,
    LONGER_THAN_STOCK,
    NOT_CARRIED,
    NOT_PLANNED,
    NOT_PRICED,
    NOTHING_TO_SPARE,
    STOCK_TOO_LITTLE,
    TOO_MANY,
    UNUSED_STOCK,
)
from soleplate.engine.layout import (
    ENGLISH,
    BoardCount,
    BoardsOut,
    BuyingRow,
    FindingOut,
    Layout,
    Piece,
    gravest_first,
)
from soleplate.engine.rules import Finding
from soleplate.engine.sawing import (
    LengthOnHand,
    LengthOnSale,
    Objective,
    SawLength,
    SawPlan,
    SawPlanRequest,
    SectionStock,
    SpareOrder,
    WantedPart,
    keeping_factory_ends,
    plan_sawing,
    spare_order,
)

MOST_PLANNED: Final = 5_000

RESOLUTION: Final = 0.001
"""mm. Of the lengths in a layout."""

Key = tuple[tuple[float, float], str]


def with_saw_plan(layout: Layout, building: Building, sentences: Mapping[str, str] = ENGLISH) -> Layout:
    """The layout with its saw plan, the lengths to buy, spares for bent timber and factory ends.

    A building file that lists no stock gets none of it. Pieces of a section that is not listed, and pieces
    longer than every length, are left out and reported; so is stock that does not suffice, or serves nothing.
    Sheets are not sawn from lengths: they are counted already, and get their prices; strips of sheet are not
    counted. `sentences` are those of findings in another language, by ours.

    Raises:
        UnbuildableError: the stock does not say which material a section is of, or lists one twice.
    """
    stock = building.stock
    if not stock.stock:
        return layout
    every = [piece for piece in layout.pieces if not piece.of_sheet]
    listed = _listed(stock, every)
    pieces = [piece for piece in every if not layout.role_of(piece).sheet]
    sheets = {_key(piece) for piece in every if layout.role_of(piece).sheet}
    priced = tuple(_priced(row, listed, sheets) for row in layout.buying_list)
    layout = layout.model_copy(update={"buying_list": priced})
    findings = [*_left_out(pieces, listed, stock), *_not_priced(listed)]
    planned = [piece for piece in pieces if _fits(piece, listed.get(_key(piece)), stock)]
    if not planned or len(planned) > MOST_PLANNED:
        if planned:
            count = len(planned)
            findings.append(TOO_MANY.of(value=float(count), limit=float(MOST_PLANNED), number=count))
        return layout.model_copy(update={"findings": _with(layout, findings, sentences)})
    if _is_carried_short(planned, listed, stock):
        # What that costs takes a second plan, as good as the first: both have half of the time.
        stock = stock.model_copy(update={"time_budget_s": stock.time_budget_s / 2})
    try:
        plan = plan_sawing(_request(planned, listed, stock))
    except UnbuildableError as error:
        findings += [STOCK_TOO_LITTLE.of(said=fault.said) for fault in error.faults]
        return layout.model_copy(update={"findings": _with(layout, findings, sentences)})
    findings += [*_nothing_to_spare(plan, stock), *_carrying(plan, planned, listed, stock)]
    plan, ends = keeping_factory_ends(
        plan,
        first={piece.mark for piece in layout.standing},
        # Square ends, with nothing left on to trim, can be the length's own.
        square={piece.mark: sum(end.cut == "square" for end in piece.ends) for piece in planned},
    )
    return layout.model_copy(
        update={
            "saw_plan": plan,
            "factory_ends": ends,
            "boards": tuple(_as_planned(kind, plan, listed) for kind in _together(layout)),
            "buying_list": tuple(_row(row, plan, planned, stock) for row in layout.buying_list),
            "findings": _with(layout, findings, sentences),
        }
    )


def _with(
    layout: Layout, findings: Iterable[Finding], sentences: Mapping[str, str]
) -> tuple[FindingOut, ...]:
    """The layout's findings and these."""
    walls = {wall.name for wall in layout.walls}
    told = (finding.told(layout.units, walls, sentences) for finding in findings)
    return gravest_first((*layout.findings, *told))


def _key(piece: Piece) -> Key:
    return piece.section, piece.material


def _listed(stock: Stock, pieces: Iterable[Piece]) -> dict[Key, StockTimber]:
    """The stock of each section and material that the building has."""
    found: dict[Key, StockTimber] = {}
    suits = {key: stock.of(*key) for key in sorted({_key(piece) for piece in pieces})}
    faults: list[Fault] = []
    for index, timber in enumerate(stock.stock):
        matching = [key for key, entries in suits.items() if any(timber is entry for entry in entries)]
        if timber.material is None and len(matching) > 1:
            names = ", ".join(key[1] for key in matching)
            faults.append(
                Fault(f"/stock/stock/{index}/material", f"missing; the building has this section in {names}")
            )
        for key in matching:
            if key in found:
                faults.append(Fault(f"/stock/stock/{index}", "listed twice; put its lengths in one entry"))
            found[key] = timber
    if faults:
        raise UnbuildableError(faults)
    return found


def _longest(timber: StockTimber, stock: Stock, grade: Grade) -> float:
    """The longest piece of a grade that can be cut from it, mm; 0 where it has no length of that grade."""
    rows: list[StockLength | OnHand] = [*stock.carried(timber, grade), *timber.there(grade)]
    return max((stock.yields(row.length).alone for row in rows), default=0.0)


def _to_cut(piece: Piece) -> float:
    """What to cut it to, mm."""
    return piece.length + piece.trim_allowance


def _fits(piece: Piece, timber: StockTimber | None, stock: Stock) -> bool:
    return timber is not None and _to_cut(piece) <= _longest(timber, stock, piece.grade) + RESOLUTION


def _left_out(pieces: Sequence[Piece], listed: dict[Key, StockTimber], stock: Stock) -> Iterator[Finding]:
    unlisted = sorted({_key(piece) for piece in pieces if _key(piece) not in listed})
    for section, material in unlisted:
        marks = tuple(piece.mark for piece in pieces if _key(piece) == (section, material))
        yield NOT_PLANNED.of(pieces=marks, size=Sides(section), material=material)
    for entry in stock.stock:
        if not any(entry is each for each in listed.values()):
            called: Figure = Sides(entry.section)
            if entry.material is not None:
                called = said("{size} {material}", size=called, material=entry.material)
            yield UNUSED_STOCK.of(called=called)
    none = {
        key
        for key, timber in listed.items()
        if timber.lengths and not timber.on_hand and not stock.carried(timber, "short")
    }
    for section, material in sorted(none):
        marks = tuple(piece.mark for piece in pieces if _key(piece) == (section, material))
        if marks:
            carried = Mm(stock.longest_carried or 0.0)
            yield NOT_CARRIED.of(pieces=marks, size=Sides(section), material=material, longest=carried)
    for piece in pieces:
        timber = listed.get(_key(piece)) if _key(piece) not in none else None
        if timber is not None and not _fits(piece, timber, stock):
            longest = _longest(timber, stock, piece.grade)
            yield LONGER_THAN_STOCK.of(
                pieces=(piece.mark,),
                value=_to_cut(piece),
                limit=longest,
                mark=piece.mark,
                role=piece.role,
                length=Mm(_to_cut(piece), "tape"),
                longest=Mm(longest, "tape"),
            )


def _not_priced(listed: Mapping[Key, StockTimber]) -> Iterator[Finding]:
    """What has no price, where other timber has one."""
    if not any(row.is_priced for timber in listed.values() for row in timber.lengths):
        return
    for (section, material), timber in sorted(listed.items()):
        bare = tuple(sorted(row.length for row in timber.lengths if not row.is_priced))
        if bare:
            yield NOT_PRICED.of(size=Sides(section), material=material, lengths=MmList(bare))


def _request(pieces: Sequence[Piece], listed: dict[Key, StockTimber], stock: Stock) -> SawPlanRequest:
    keys = sorted({_key(piece) for piece in pieces})
    return SawPlanRequest(
        parts=tuple(
            WantedPart(
                name=piece.mark,
                section=piece.section,
                material=piece.material,
                # Rounded up by a hair, it still comes out of a length that it takes up.
                length=min(_to_cut(piece), _longest(listed[_key(piece)], stock, piece.grade)),
                grade=piece.grade,
            )
            for piece in pieces
        ),
        stock=tuple(_section_stock(key, listed[key], stock) for key in keys),
        kerf=stock.kerf,
        trim=stock.trim,
        margin=stock.margin,
        short_up_to=stock.short_up_to,
        objective=_main_objective([listed[key] for key in keys], stock),
        time_budget_s=stock.time_budget_s,
    )


def _nothing_to_spare(plan: SawPlan, stock: Stock) -> Iterator[Finding]:
    """The lengths of which less is left over than their margin, those of one timber and length together."""
    tight: dict[tuple[Sides, str, float], list[SawLength]] = {}
    for length in plan.lengths:
        of = stock.yields(length.stock_length)
        if _left_over(length, stock) < of.alone - of.together - RESOLUTION:
            key = (Sides(length.section or ()), length.material or "", length.stock_length)
            tight.setdefault(key, []).append(length)
    for (size, material, sold), lengths in tight.items():
        left = min(_left_over(length, stock) for length in lengths)
        yield NOTHING_TO_SPARE.of(
            pieces=tuple(dict.fromkeys(cut.mark for length in lengths for cut in length.cuts)),
            value=round(left, 3),
            limit=stock.margin,
            number=Count(len(lengths), "length", "lengths"),
            size=size,
            material=material,
            sold=Mm(sold, "tape"),
            left=Mm(round(left, 1)),
            margin=Mm(stock.margin),
        )


def _carrying(
    plan: SawPlan, pieces: Sequence[Piece], listed: dict[Key, StockTimber], stock: Stock
) -> Iterator[Finding]:
    """What it costs that some lengths on sale cannot be brought home: beside a plan of the same pieces."""
    if stock.longest_carried is None or not _is_carried_short(pieces, listed, stock):
        return
    timbers = [listed[key] for key in {_key(piece) for piece in pieces}]
    free = plan_sawing(_request(pieces, listed, stock.model_copy(update={"longest_carried": None})))
    run, free_run = _bought_run(plan), _bought_run(free)
    is_priced = all(timber.is_priced for timber in timbers)
    more = plan.cost - free.cost if is_priced else run - free_run
    if more < (0.01 if is_priced else 1.0):
        how = said("takes no more")
    elif is_priced:
        how = said("costs {more:.2f} more", more=more)
    else:
        how = said("takes {run} more timber", run=Mm(more, ".0f"))
    yield CARRIED.of(
        value=round(more, 3),
        limit=stock.longest_carried,
        longest=Mm(stock.longest_carried),
        how=how,
        bought=Count(plan.bought, "length", "lengths"),
        free=free.bought,
    )


def _is_carried_short(pieces: Sequence[Piece], listed: dict[Key, StockTimber], stock: Stock) -> bool:
    """Whether a length on sale of what is planned cannot be brought home."""
    timbers = (listed[key] for key in {_key(piece) for piece in pieces})
    return any(len(stock.carried(timber, "short")) < len(timber.lengths) for timber in timbers)


def _bought_run(plan: SawPlan) -> float:
    """Of all lengths to buy, mm."""
    return sum(length.stock_length for length in plan.lengths if not length.on_hand)


def _left_over(length: SawLength, stock: Stock) -> float:
    """What is left over behind the last cut, before the end trim, mm."""
    return max(length.stock_length - stock.trim - length.cuts[-1].to, 0.0)


def _objective(timber: StockTimber, stock: Stock) -> Objective:
    """What is made least of a section; unless told, cost where it is known of all its lengths."""
    return stock.objective or ("cost" if timber.is_priced else "waste")


def _main_objective(timbers: Sequence[StockTimber], stock: Stock) -> Objective:
    """What is told of the whole plan: cost where any of it goes by that."""
    aims = {_objective(timber, stock) for timber in timbers}
    return "cost" if "cost" in aims else stock.objective or "waste"


def _section_stock(key: Key, timber: StockTimber, stock: Stock) -> SectionStock:
    return SectionStock(
        section=key[0],
        material=key[1],
        lengths=tuple(
            LengthOnSale(
                length=row.length,
                price=row.price,
                price_per_metre=row.price_per_metre,
                grade=row.grade,
            )
            for row in stock.carried(timber, "short")
        ),
        on_hand=tuple(
            LengthOnHand(length=row.length, count=row.count, grade=row.grade) for row in timber.on_hand
        ),
        objective=_objective(timber, stock),
    )


def _together(layout: Layout) -> list[BoardsOut]:
    """One row of each section and material, since the saw plan cuts them all from the same lengths.

    Where there were several, the bounds of each hold for none of it.
    """
    found: dict[tuple[tuple[float, float], str, bool], BoardsOut] = {}
    for kind in layout.boards:
        key = (kind.section, kind.material, layout.role_of(kind).sheet)
        found[key] = replace(kind, bound=None) if key in found else kind
    return list(found.values())


def _as_planned(kind: BoardsOut, plan: SawPlan, listed: Mapping[Key, StockTimber]) -> BoardsOut:
    """The boards of one kind by the saw plan, which cuts them again, from what is on hand too."""
    lines = [line for line in plan.buying if (line.section, line.material) == (kind.section, kind.material)]
    if not lines:
        return kind
    priced = listed[kind.section, kind.material].is_priced
    counts: Counter[float] = Counter()
    for line in lines:
        counts[line.stock_length] += line.count
    value = sum(line.cost if priced else line.count * line.stock_length for line in lines)
    return replace(
        kind,
        lengths=tuple(BoardCount(length=length, count=n) for length, n in sorted(counts.items())),
        value=round(value, 3),
        # It holds for boards that are bought for this kind alone.
        bound=kind.bound if kind.bound is not None and value >= kind.bound else None,
    )


def _row(row: BuyingRow, plan: SawPlan, pieces: Sequence[Piece], stock: Stock) -> BuyingRow:
    lines = tuple(
        line for line in plan.buying if (line.section, line.material) == (row.section, row.material)
    )
    if not lines or row.of_sheet:
        return row
    return replace(row, lengths=lines, spare=_spare(row, plan, pieces, stock))


def _priced(row: BuyingRow, listed: dict[Key, StockTimber], sheets: Collection[Key]) -> BuyingRow:
    """Sheets with their price, where the stock has them in their height."""
    key = (row.section, row.material)
    if key not in sheets or key not in listed:
        return row
    prices = {each.length: each.price for each in listed[key].lengths}
    lines = [
        line.model_copy(update={"cost": round((prices.get(line.stock_length) or 0.0) * line.count, 2)})
        for line in row.lengths
    ]
    return replace(row, lengths=tuple(lines))


def _spare(row: BuyingRow, plan: SawPlan, pieces: Sequence[Piece], stock: Stock) -> SpareOrder | None:
    """Spare lengths for one section: lengths that carry short pieces alone may come bent."""
    bent = stock.bent
    if bent is None:
        return None
    short = {piece.mark for piece in pieces if piece.grade == "short"}
    bought = [
        length
        for length in plan.lengths
        if (length.section, length.material) == (row.section, row.material) and not length.on_hand
    ]
    only_short = sum(all(cut.mark in short for cut in length.cuts) for length in bought)
    return spare_order(len(bought) - only_short, only_short, bent.share, bent.confidence)
