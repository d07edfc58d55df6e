"""Steps of the work, and what is in the way of one, as the page and the sheets tell them."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Final

from soleplate.engine.building_file import Units, format_length
from soleplate.engine.layout import BlockedWay, InTheWay, OrderOfWork, WorkStep
from soleplate.viewer.words import Texts, weight_text

GRAVITY: Final = 9.81
"""N that 1 kg weighs (ISO 80000-3: 9.80665 m/s2)."""


@dataclass(frozen=True, slots=True)
class StepTold:
    """A step in words, each of them sentences."""

    name: str
    """What it is called."""
    sentence: str
    """What to do."""
    figures: str
    """How heavy, by how many, how long, and in which wind."""
    stop: str
    """Whether one may stop at it."""
    braces: str
    """Those that are set up with it and when they come off, and those that come off; empty without any."""
    reasons: str
    """Why now, and why so; empty where there is none to tell."""

    @property
    def paragraphs(self) -> tuple[str, ...]:
        """All but the name, as few as can be read, in the order in which they are needed."""
        needed = f"{self.figures} {self.stop}"
        done = " ".join(each for each in (self.sentence, self.braces) if each)
        return tuple(each for each in (needed, done, self.reasons) if each)


def step_told(order: OrderOfWork, step: WorkStep, texts: Texts) -> StepTold:
    """A step of an order."""
    return StepTold(
        name=step_name(step, texts),
        sentence=sentence(step.display),
        figures=" ".join([sentence(", ".join(_figures(step, texts))), *_wind(order, step, texts)]),
        stop=texts.raising.stop_no if step.whole else texts.raising.stop_yes,
        braces=" ".join([*_braces(step, texts), *_braces_off(order, step, texts)]),
        reasons=" ".join(map(sentence, step.reasons)),
    )


def step_name(step: WorkStep, texts: Texts) -> str:
    """What is done to which wall: `raise back`."""
    said = texts.raising
    kind = said.kinds[step.kind]
    if step.called is None:
        return said.whole.get(step.kind, kind)
    # Nothing of what is framed where it stands is lifted at once.
    text = said.framed if step.peak_kg == 0.0 else said.step_of
    return text.format(kind=kind, wall=step.called)


def raised_seen(step: WorkStep, texts: Texts) -> str:
    """What a picture of a step shows."""
    return texts.raising.seen.format(number=step.number, name=step_name(step, texts))


def sentence(text: str) -> str:
    """A sentence as it stands by itself."""
    return f"{text[:1].upper()}{text[1:]}" + ("" if text.endswith(".") else ".")


def _figures(step: WorkStep, texts: Texts) -> Iterator[str]:
    said = texts.raising
    if step.weight_kg is not None and step.peak_kg:
        yield said.weight.format(weight=weight_text(step.weight_kg), peak=weight_text(step.peak_kg))
    yield said.person if step.people == 1 else said.people.format(count=step.people)
    yield said.hours.format(hours=f"{step.hours:.1f}" if step.hours >= 0.1 else f"{step.hours:.2f}")
    if step.during is not None:
        yield said.during.format(during=step.during)
    else:
        yield said.dry if step.dry else said.under_cover


def _wind(order: OrderOfWork, step: WorkStep, texts: Texts) -> Iterator[str]:
    if step.wind is not None and order.wind is not None and step.called is not None:
        newtons = order.wind.newtons[step.called]
        yield texts.raising.wind.format(
            beaufort=step.wind, weight=weight_text(newtons / GRAVITY), newtons=f"{newtons:.0f}"
        )


def _braces(step: WorkStep, texts: Texts) -> Iterator[str]:
    for brace in step.braces:
        where = texts.raising.where[brace.where]
        yield texts.raising.brace.format(wall=brace.called, where=where, step=brace.off_after)


def _braces_off(order: OrderOfWork, step: WorkStep, texts: Texts) -> Iterator[str]:
    """Those that are needed no more; what is set up anew at another place has its own sentence."""
    later = {b.called for each in order.steps for b in each.braces if b.off_after > step.number}
    ended = [b.called for each in order.steps for b in each.braces if b.off_after == step.number]
    if names := [name for name in dict.fromkeys(ended) if name not in later]:
        yield texts.raising.braces_off.format(walls=texts.raising.together.join(names))


def change_told(change: InTheWay, units: Units, texts: Texts) -> str:
    """What has to change for an order, in a sentence."""
    said = texts.raising
    names = said.together.join(change.obstacles)
    lengths = ((said.raised, change.raise_), (said.lowered, change.lower), (said.pushed, change.push))
    changes = [text.format(length=format_length(by, units)) for text, by in lengths if by is not None]
    if not changes:
        return said.without.format(names=names)
    return said.change.format(names=names, changes=said.alternatively.join(changes))


def way_name(way: BlockedWay, texts: Texts) -> str:
    """Which wall, and how it would be raised."""
    how = " ".join([way.way, *([way.how] if way.how else [])])
    return texts.raising.blocked.format(wall=way.called, way=how)


def way_told(way: BlockedWay, units: Units, texts: Texts) -> str:
    """What is in a blocked way, and by how much."""
    said = texts.raising
    inside = [
        *(
            said.too_near.format(name=name, length=format_length(by, units))
            for name, by in way.obstacles.items()
        ),
        *([said.walls_in_it.format(names=", ".join(way.walls))] if way.walls else []),
        *(said.no_brace.format(name=name) for name in way.braces),
        *([] if way.width is None else [said.no_way.format(length=format_length(way.width, units))]),
    ]
    return sentence("; ".join(inside)) if inside else ""


def none_told(order: OrderOfWork, texts: Texts) -> str:
    """That there is no order, and how far the walls come."""
    furthest = order.furthest[0] if order.furthest else ()
    return texts.raising.none_told.format(walls=names_told(furthest, texts))


def names_told(names: Sequence[str], texts: Texts) -> str:
    """Names in a row, or that there are none."""
    return ", ".join(names) or texts.raising.nothing


def hours_told(order: OrderOfWork, texts: Texts) -> list[str]:
    """What the whole takes, when the roof is on, what is done before and after, and where one may stop."""
    said = texts.raising
    lines: list[str] = []
    if order.hours is not None:
        lines.append(
            said.dry_told.format(dry=f"{order.hours.dry:.1f}", cover=f"{order.hours.under_cover:.1f}")
        )
    if (closed := order.closed_in) is not None:
        lines.append(
            said.roof_short.format(hours=f"{closed.short_hours:.1f}")
            if closed.after is None
            else said.roof_on.format(after=closed.after)
        )
        for text, numbers in ((said.before, closed.before), (said.later, closed.later)):
            if numbers:
                lines.append(text.format(steps=", ".join(map(str, numbers))))
    whole = [f"{step.number}" for step in order.steps if step.whole]
    if whole:
        lines.append(said.stops.format(steps=", ".join(whole)))
    return lines
