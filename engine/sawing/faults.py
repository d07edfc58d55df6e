"""What is wrong with a request, said so that its writer finds the part and the section."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import Any

from pydantic import ValidationError

from soleplate.engine.building_file import Fault, UnbuildableError, document_error
from soleplate.engine.sawing.request import (
    MOST_PARTS,
    LengthOnHand,
    LengthOnSale,
    SawPlanRequest,
    SectionStock,
    WantedPart,
)
from soleplate.engine.shapes import same_section

Section = tuple[float, float]
Key = tuple[Section | None, str | None]


def described(section: object, material: object) -> str:
    """A section and material as a person says them."""
    size = " x ".join(f"{side:g}" for side in section) if isinstance(section, tuple | list) else ""
    return " ".join(text for text in (size, str(material or "")) if text) or "the only section"


def read_request(document: object) -> SawPlanRequest:
    """A request from plain data (as JSON gives it).

    Raises:
        SchemaError: with a pointer for each fault, and the part or stock that it is in by name.
        UnbuildableError: likewise, of what the JSON Schema cannot say.

    """
    try:
        return SawPlanRequest.model_validate(document)
    except ValidationError as error:
        raise document_error(
            error, document, SawPlanRequest, lambda pointer: _owner(document, pointer)
        ) from None


def _owner(document: Any, pointer: str) -> str:
    """The part or stock that a fault lies in, as a start of a sentence."""
    _, place, index, *_ = (*pointer.split("/"), "", "")
    try:
        item = document[place][int(index)]
        where = described(item.get("section"), item.get("material"))
    except (LookupError, TypeError, AttributeError, ValueError):
        return ""
    return f"part {item.get('name')!r} of {where}: " if place == "parts" else f"stock of {where}: "


def _told_once(sections: Iterable[Section | None]) -> Iterator[Section | None]:
    """Each section as it was told first: those that are one timber are told alike from here on."""
    told: dict[Section, Section] = {}
    for section in sections:
        if section is not None and section not in told:
            told[section] = next((each for each in told.values() if same_section(each, section)), section)
        yield section if section is None else told[section]


def keys(request: SawPlanRequest) -> tuple[list[Key], list[Key]]:
    """The section and material of each part and of each stock, those left out filled in.

    Raises:
        UnbuildableError: a part has no stock, or one left out could be more than one.

    """
    told = _told_once((*(each.section for each in request.stock), *(each.section for each in request.parts)))
    stocks: list[Key] = [(next(told), stock.material) for stock in request.stock]
    parts: list[Key] = [(next(told), part.material) for part in request.parts]
    faults: list[Fault] = []
    if len(stocks) == 1:
        sections = {key[0] for key in (*stocks, *parts)} - {None}
        materials = {key[1] for key in (*stocks, *parts)} - {None}
        section, material = stocks[0]
        if section is None and len(sections) == 1:
            section = next(iter(sections))
        if material is None and len(materials) == 1:
            material = next(iter(materials))
        stocks = [(section, material)]
        parts = [
            (section if key[0] is None else key[0], material if key[1] is None else key[1]) for key in parts
        ]
    for index, key in enumerate(stocks):
        if key in stocks[:index]:
            faults.append(
                Fault(
                    f"/stock/{index}", f"stock of {described(*key)} is listed twice; give each section once"
                )
            )
    for index, (part, key) in enumerate(zip(request.parts, parts, strict=True)):
        if key not in stocks:
            known = "; ".join(described(*stock) for stock in stocks)
            faults.append(
                Fault(
                    f"/parts/{index}",
                    f"part {part.name!r}: no stock of {described(*key)}; there is stock of {known}",
                )
            )
    _raise(faults)
    return parts, stocks


def check_request(request: SawPlanRequest) -> None:
    """Refuse what can be seen to be impossible before any planning.

    Raises:
        UnbuildableError: with a fault for each part or stock concerned.

    """
    parts, stocks = keys(request)
    faults = [*_too_many(request), *_unpriced(request)]
    by_key = dict(zip(stocks, request.stock, strict=True))
    for index, (part, key) in enumerate(zip(request.parts, parts, strict=True)):
        faults += (
            Fault(f"/parts/{index}/length", f"part {part.name!r} of {described(*key)}: {message}")
            for message in _misfits(request, part, by_key[key])
        )
    _raise(faults)


def _too_many(request: SawPlanRequest) -> Iterator[Fault]:
    total = 0
    for index, part in enumerate(request.parts):
        total += part.count
        if total > MOST_PARTS:
            where = described(part.section, part.material)
            message = f"part {part.name!r} of {where} brings the parts to {total}"
            yield Fault(f"/parts/{index}/count", f"{message}; at most {MOST_PARTS} are planned at once")
            return


def _unpriced(request: SawPlanRequest) -> Iterator[Fault]:
    for index, stock in enumerate(request.stock):
        if request.objective_of(stock) != "cost":
            continue
        for place, row in enumerate(stock.lengths):
            if not row.is_priced:
                yield Fault(
                    f"/stock/{index}/lengths/{place}",
                    f"stock of {described(stock.section, stock.material)}: no price; for the least cost"
                    " accepted is a price or price_per_metre for every length on sale",
                )


def _misfits(request: SawPlanRequest, part: WantedPart, stock: SectionStock) -> Iterator[str]:
    if request.kerf > part.length:
        yield f"{part.length:g} mm is less than the saw kerf of {request.kerf:g} mm"
    either = part.grade == "short" and part.length <= request.short_up_to
    lengths: list[LengthOnSale | LengthOnHand] = [*stock.lengths, *stock.on_hand]
    usable = [request.yields(each.length).alone for each in lengths if either or each.grade == "straight"]
    if not usable:
        yield (
            "there is no stock of this section that may yield it" if lengths else "its stock lists no length"
        )
    elif part.length > max(usable) + 1e-9:
        trimmed = f" once {request.trim:g} mm is trimmed off each end" if request.trim else ""
        longest = f"the longest gives {max(usable):g} mm{trimmed}"
        yield f"{part.length:g} mm is longer than any stock that may yield it; {longest}"


def _raise(faults: list[Fault]) -> None:
    if faults:
        raise UnbuildableError(faults)
