"""The building as a whole on the page: turned by a script, and from four sides where none runs."""

from __future__ import annotations

from soleplate.engine.layout import Layout
from soleplate.viewer.markup import Markup, data_block, element
from soleplate.viewer.page.view import PageView
from soleplate.viewer.pictures import (
    FOUR_SIDES,
    MOST_PICTURED,
    PICTURE_LAYERS,
    Look,
    chosen,
    layer_of,
    packed,
    picture_svg,
    seen_from,
)
from soleplate.viewer.words import Texts


def whole_section(layout: Layout, view: PageView) -> Markup:
    """The whole in its place: what a script turns, and where it has to do without, pictures of four sides."""
    said = view.texts.pictures
    if len(layout.pieces) > MOST_PICTURED:
        inside = [element("p", said.too_many.format(most=MOST_PICTURED))]
    else:
        inside = [_turned(layout, view.texts), _sides(layout, view)]
    return element(
        "section",
        element("header", element("h2", said.whole, id="whole-name"), class_="wall-head"),
        *inside,
        id="whole",
        class_="whole",
        aria_labelledby="whole-name",
        tabindex="-1",
    )


def _turned(layout: Layout, texts: Texts) -> Markup:
    """What the script fills, with all that it needs for it; hidden until it does."""
    said = texts.pictures
    words = {
        "places": list(said.places),
        "above": said.above,
        "below": said.below,
        "straightAbove": said.straight_above,
        "straightBelow": said.straight_below,
        "turned": said.turned,
    }
    there = {layer_of(each.part, each.piece) for each in chosen(layout, Look())}
    looks = FOUR_SIDES | {"top": Look(0.0, 90.0)}
    buttons = [
        element(
            "button",
            said.top if side == "top" else said.side_names[side],
            type="button",
            data_turn=f"{look.azimuth:g} {look.elevation:g}",
        )
        for side, look in looks.items()
    ]
    switches = [
        element(
            "label",
            element("input", type="checkbox", name="picture-layer", value=layer, checked=True),
            " ",
            said.layer_names[layer],
        )
        for layer in PICTURE_LAYERS
        if layer in there
    ]
    return element(
        "div",
        element(
            "div",
            element("fieldset", element("legend", said.layers), *switches, class_="layers"),
            element("div", *buttons, class_="nearness", role="group", aria_label=said.sides),
            class_="board-bar",
        ),
        element(
            "div", class_="turn", tabindex="0", role="group", aria_labelledby="whole-name",
            aria_describedby="whole-keys",
        ),
        element("p", class_="seen", role="status"),
        element("p", said.keys, id="whole-keys", class_="facts"),
        data_block("space", packed(layout, Look(), texts) | {"words": words}),
        class_="turntable",
        hidden=True,
    )  # fmt: skip


def _sides(layout: Layout, view: PageView) -> Markup:
    """The pictures for where no script runs, drawn here or in files beside the document."""
    if view.is_followed:
        return Markup("")
    texts = view.texts
    figures = []
    for side, look in FOUR_SIDES.items():
        seen = seen_from(layout, look, texts)
        if view.pictures:
            drawn = element(
                "a",
                element("img", src=view.pictures[side], alt=seen, loading="lazy"),
                href=view.pictures[side],
            )
        else:
            drawn = Markup(picture_svg(layout, look, texts))
        figures.append(element("figure", drawn, element("figcaption", seen)))
    return element("div", *figures, class_="four-sides")
