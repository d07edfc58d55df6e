"""A wall in several parts, each of them raised by itself."""

from __future__ import annotations

from dataclasses import replace

from soleplate.engine.raising.axes import Axes
from soleplate.engine.raising.panels import SitePanel
from soleplate.engine.rules import PanelSpan
from soleplate.engine.shapes import TOUCH, bounds


def in_parts(panel: SitePanel, number: int) -> tuple[SitePanel, ...]:
    """A panel in so many parts of one length, numbered 1, 2, ... from the left."""
    own, length = panel.panel, panel.panel.length / number
    parts: list[SitePanel] = []
    for index in range(number):
        left, right = index * length, (index + 1) * length
        spans = tuple(
            PanelSpan(max(span.left, left) - left, min(span.right, right) - left, span.height)
            for span in own.spans
            if min(span.right, right) - max(span.left, left) > TOUCH
        )
        part = replace(
            own,
            name=f"{own.name} {index + 1}",
            length=length,
            spans=spans,
            weight_kg=own.weight_kg / number,
        )
        frame = tuple(p for p in panel.frame if left <= sum(bounds(p.outline)[:2]) / 2 < right)
        parts.append(
            replace(
                panel,
                panel=part,
                axes=Axes(panel.axes.point(left, 0.0), panel.axes.run),
                part=index + 1,
                frame=frame,
                bare_m2=panel.bare_m2 / number,
                face_m2=panel.face_m2 / number,
            )
        )
    return tuple(parts)
