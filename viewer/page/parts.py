"""The parts of the page that follow from a building: elements with ids, replaced when it changes."""

from __future__ import annotations

import svg

from soleplate.engine.layout import Layout
from soleplate.viewer.drawings import (
    BEHIND,
    BOARDED,
    FINDINGS,
    FIXINGS,
    OFF_AT_FIRST,
    SHOWN,
    drawn_as,
    plan_svg,
    saw_patterns,
    storey_rod_svg,
    tone_patterns,
)
from soleplate.viewer.markup import Markup, element, joined, svg_text
from soleplate.viewer.page.lists import buying_list, cautions, cutting_list, findings
from soleplate.viewer.page.saw import saw_plan
from soleplate.viewer.page.view import PageView
from soleplate.viewer.page.wall import wall_section
from soleplate.viewer.page.whole import whole_section
from soleplate.viewer.words import Texts, wall_id, weight_text

PARTS = ("facts", "way", "walls", "lists", "patterns")
"""The ids, in the order in which they stand."""


def board_parts(layout: Layout, view: PageView, *, listed: bool = True) -> dict[str, Markup]:
    """Every part of a building's page, by id; without the lists unless they are to be `listed`."""
    return {
        "facts": facts(layout, view.texts),
        "way": way_round(layout, view),
        "walls": walls(layout, view),
        **({"lists": lists(layout, view.texts)} if listed else {}),
        "patterns": patterns(layout),
    }


def facts(layout: Layout, texts: Texts) -> Markup:
    """The building's name, and its size in a few figures."""
    pieces = len(layout.pieces)
    said = (
        (texts.walls, f"{len(layout.walls)}"),
        (texts.pieces, f"{pieces}"),
        (texts.weight, weight_text(layout.weight_kg)),
        (texts.units, texts.unit_names[layout.units]),
    )
    cells = [element("div", element("dt", name), element("dd", value)) for name, value in said]
    return element("div", element("h1", layout.name), element("dl", *cells), id="facts", class_="title-block")


def way_round(layout: Layout, view: PageView) -> Markup:
    """The plan, by which a wall is chosen, and the way to the lists."""
    texts = view.texts
    links = [
        ("findings", texts.findings),
        ("cutting-list", texts.cutting_list),
        ("buying-list", texts.buying_list),
        *([("saw-plan", texts.saw_plan)] if layout.saw_plan else []),
        *([("storey-rod", texts.rod)] if layout.storey_rod or layout.lining_rod else []),
        *([("raising", texts.raising.place)] if has_raising(layout, view) else []),
        ("cautions", texts.cautions),
    ]
    return element(
        "div",
        Markup(plan_svg(layout, view.wall, texts=texts, address=view.address)),
        *(_part_link(floor.name, "floor", view) for floor in layout.floors),
        *(_part_link(slope.name, "roof", view) for slope in layout.roofs),
        *(
            [
                element(
                    "a",
                    texts.pictures.whole,
                    href=view.address_of_whole,
                    class_="all-walls",
                    data_whole=True,
                    aria_current="true" if view.whole else None,
                ),
                " ",
            ]
            if view.pictures or view.query is not None
            else []
        ),
        element("a", texts.all_walls, href=view.address(None), class_="all-walls", data_wall=""),
        element(
            "ul",
            *(element("li", element("a", name, href=f"#{place}")) for place, name in links),
            class_="contents",
            aria_label=texts.contents,
        ),
        id="way",
    )


def has_raising(layout: Layout, view: PageView) -> bool:
    """Whether there is a place for the order of work: where it is known, or a server can be asked for it."""
    return layout.order_of_work is not None or (
        view.query is not None and "walls" not in layout.building.get("outline", {})
    )


def _part_link(name: str, member: str, view: PageView) -> Markup:
    """The way to a floor or slope, which the plan of the walls does not show, with its member of the file."""
    said, address = view.texts.go_to_floor.format(floor=name), view.address(name)
    link = element("a", said, href=address, class_="all-walls", data_wall=wall_id(name), data_member=member)
    return joined(link, " ")


def walls(layout: Layout, view: PageView) -> Markup:
    """The walls that are shown."""
    shown = [
        wall_section(wall, layout, view.sheet(layout, wall), beside=view.beside.get(wall.name))
        for wall in view.walls(layout)
    ]
    if view.whole or view.pictures:
        shown.append(whole_section(layout, view))
    return element("div", *shown, id="walls", tabindex="-1")


def lists(layout: Layout, texts: Texts) -> Markup:
    """What holds for the whole building."""
    return element(
        "div",
        findings(layout, texts),
        cutting_list(layout, texts),
        buying_list(layout, texts),
        saw_plan(layout, texts),
        _storey_rod(layout, texts),
        cautions(layout, texts),
        id="lists",
        role="region",
        aria_label=texts.contents,
    )


def _storey_rod(layout: Layout, texts: Texts) -> Markup:
    """The storey rods of all walls, where any is clad or lined in courses."""
    if not (layout.storey_rod or layout.lining_rod):
        return Markup("")
    drawn = element("div", Markup(storey_rod_svg(layout, texts)), class_="board", tabindex="0", role="group",
                    aria_label=texts.rod)  # fmt: skip
    return element("section", element("h2", texts.rod), drawn, id="storey-rod")


def patterns(layout: Layout) -> Markup:
    """The patterns that the pieces of all drawings refer to."""
    roles = sorted({drawn_as(piece) for piece in layout.pieces})
    held: list[svg.Element] = [tone_patterns(roles)]
    if layout.saw_plan:
        held.append(saw_patterns())
    holder = svg.SVG(
        width=0, height=0, id="patterns", class_=["patterns"], extra={"aria-hidden": "true"}, elements=held
    )
    return Markup(svg_text(holder))


def layer_switches(added: tuple[str, ...], texts: Texts) -> Markup:
    """What lies on the drawings, to be switched on and off; what plugins `added` is, where a script runs."""
    switches = [
        element(
            "label",
            element(
                "input",
                type="checkbox",
                checked=layer not in OFF_AT_FIRST,
                value=layer,
                name="layer",
                data_added=layer in added or None,
            ),
            " ",
            texts.layer_names.get(layer, layer.replace("-", " ").capitalize()),
        )
        for layer in (*SHOWN, BEHIND, *BOARDED, FIXINGS, *added, FINDINGS)
    ]
    return element("fieldset", element("legend", texts.layers), joined(*switches), class_="layers")
