"""Figures of the order of work for the page: as SVG to look at, about 340 px wide."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

import svg

from soleplate.engine.building_file import Units
from soleplate.engine.layout import BlockedWay, InTheWay, OrderOfWork, SitePlan, WorkStep
from soleplate.viewer.drawings.lettering import FONTS
from soleplate.viewer.drawings.no_order import draw_blocked, draw_change
from soleplate.viewer.drawings.site_view import SiteView, extent_of
from soleplate.viewer.drawings.step_plan import draw_step, raise_of
from soleplate.viewer.markup import svg_text

WIDE: Final = 318
TALL: Final = 350
"""px that a drawing has on a phone 340 px wide."""

TEXT: Final = 13
"""px that a text on it is high there."""


def step_svg(order: OrderOfWork, site: SitePlan, step: WorkStep, alt: str) -> str:
    """A step of an order; 1 unit 1 mm, the front at the bottom."""
    view = _view(order, site, [raise_of(order, step) or step])
    return _svg(draw_step(order, step, view), view, alt)


def blocked_svg(order: OrderOfWork, site: SitePlan, way: BlockedWay, units: Units, alt: str) -> str:
    """A way that is blocked, likewise."""
    view = _view(order, site)
    return _svg(draw_blocked(order, way, units, view), view, alt)


def change_svg(order: OrderOfWork, site: SitePlan, change: InTheWay, units: Units, alt: str) -> str:
    """A change with which there is an order, likewise."""
    view = _view(order, site)
    return _svg(draw_change(order, change, units, view), view, alt)


def _view(order: OrderOfWork, site: SitePlan, steps: Sequence[WorkStep] = ()) -> SiteView:
    """What of the site some steps have to do with, with texts of their size on the page."""
    left, right, front, back = extent_of(order, site, steps)
    size = TEXT * max((right - left) / WIDE, (back - front) / TALL)
    return SiteView(site, left, right, front, back, size)


def _svg(parts: Sequence[svg.Element], view: SiteView, alt: str) -> str:
    return svg_text(
        svg.SVG(
            viewBox=svg.ViewBoxSpec(*(round(each) for each in view.box)),
            class_=["raising-plan"],
            extra={"role": "img", "aria-label": alt},
            elements=[svg.G(fill="currentColor", extra={"font-family": FONTS}, elements=list(parts))],
        )
    )
