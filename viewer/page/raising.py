"""The place *Raising*: the order of work, a figure a step, side by side to be gone through and ticked off."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from soleplate.engine.building_file import Units
from soleplate.engine.layout import FindingOut, Layout, OrderOfWork, SitePlan
from soleplate.viewer.drawings import blocked_svg, change_svg, step_svg
from soleplate.viewer.lists import (
    change_told,
    hours_told,
    names_told,
    none_told,
    raised_seen,
    sentence,
    step_told,
    way_name,
    way_told,
)
from soleplate.viewer.markup import Markup, element, joined
from soleplate.viewer.page.tools import button
from soleplate.viewer.page.wall import finding_list
from soleplate.viewer.pictures import raised
from soleplate.viewer.words import Texts


def raising_place(steps: Markup, texts: Texts, *, live: bool) -> Markup:
    """The place, with the steps that are known; where a server is, with the button that asks for them."""
    said = texts.raising
    ask = Markup("")
    if live:
        asked = element("p", button(said.ask, "raising"), class_="live-only", hidden=True)
        ask = joined(_site(texts), asked, element("noscript", element("p", said.without_script)))
    return element(
        "section",
        element("h2", said.place),
        element("p", said.about),
        ask,
        element("p", id="raising-said", role="status"),
        steps or element("div", id="raising-steps"),
        id="raising",
        aria_label=said.place,
    )


def _site(texts: Texts) -> Markup:
    """Where the script draws the site: what stands round the building, to be drawn and moved."""
    said = texts.raising
    return element(
        "div",
        element("h3", said.site),
        element("div", class_="site-board"),
        element("div", class_="site-figures", aria_live="polite"),
        element("p", button(said.draw, "draw-obstacle"), " ", button(said.add, "add-obstacle")),
        id="site-plan",
        hidden=True,
    )


def raising_steps(
    layout: Layout, order: OrderOfWork | None, found: Sequence[FindingOut], texts: Texts
) -> Markup:
    """The steps of an order of a layout, or what is in the way of one; what was found, and the hours."""
    said, units = texts.raising, layout.units
    if order is None:
        return element("div", element("p", said.alone), id="raising-steps")
    if order.site is None or order.possible is None:
        return element("div", element("p", said.unknown), finding_list(found, texts), id="raising-steps")
    if order.possible:
        lead, figures = said.lead, list(_steps(layout, order, order.site, texts))
        more = [element("ul", *(element("li", line) for line in hours_told(order, texts)), class_="to-note")]
    else:
        lead, figures = (
            f"{none_told(order, texts)} {said.lead_none}",
            list(_blocked(order, order.site, units, texts)),
        )
        helps = [element("li", sentence(each.display)) for each in order.may_help]
        more = (
            [joined(element("h3", said.may_help), element("ul", *helps, class_="to-note"))] if helps else []
        )
    return element(
        "div",
        element("p", lead, class_="raising-lead"),
        element(
            "div", *figures, class_="raising-figures", tabindex="0", role="group",
            aria_label=said.title if order.possible else said.none,
        ),
        finding_list(found, texts),
        *more,
        id="raising-steps",
    )  # fmt: skip


def _steps(layout: Layout, order: OrderOfWork, site: SitePlan, texts: Texts) -> Iterator[Markup]:
    said, pictures = texts.raising, raised(layout, order)
    count = f"{len(order.steps)}"
    for step in order.steps:
        told = step_told(order, step, texts)
        alt = said.alt.format(
            number=step.number, sentence=told.sentence, walls=names_told(step.standing, texts)
        )
        tick = element(
            "label",
            element("input", type="checkbox", data_tick=f"{told.name}: {told.sentence}"),
            " ",
            said.tick,
        )
        yield _figure(
            f"{step.number}",
            said.step_name.format(number=step.number, count=count, name=told.name),
            step_svg(order, site, step, alt),
            Markup(pictures.svg(step, raised_seen(step, texts)))
            if pictures is not None and pictures.has(step)
            else Markup(""),
            element("p", told.figures, " ", element("strong", told.stop)),
            *(element("p", line) for line in (told.sentence, told.braces, told.reasons) if line),
            tick,
        )


def _blocked(order: OrderOfWork, site: SitePlan, units: Units, texts: Texts) -> Iterator[Markup]:
    said = texts.raising
    for number, change in enumerate(order.in_the_way, 1):
        told = change_told(change, units, texts)
        name = f"{said.something}: {said.together.join(change.obstacles)}"
        drawn = change_svg(order, site, change, units, told)
        yield _figure(f"change-{number}", name, drawn, element("p", told))
    for number, way in enumerate(order.ways, 1):
        name, told = way_name(way, texts), way_told(way, units, texts)
        drawn = blocked_svg(order, site, way, units, f"{name}: {told}")
        yield _figure(f"way-{number}", name, drawn, element("p", told))


def _figure(key: str, name: str, drawn: str, *said: Markup) -> Markup:
    return element(
        "article",
        element("h3", name),
        Markup(drawn),
        *said,
        class_="raising-step",
        data_step=key,
        aria_label=name,
    )
