"""Ridges and ties of a duo-pitch roof: a board between rafters, or a beam under them on posts; ties."""

from __future__ import annotations

import itertools
from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING

from soleplate.engine.rules import (
    ALONG,
    TOUCH,
    UPRIGHT,
    Against,
    CannotFrame,
    Member,
    Mm,
    Outline,
    Reach,
    RoofShape,
    Section,
    at_least,
    at_most,
    clip,
    rectangle,
)
from soleplate.plugins.roofs.closing import blocking_of
from soleplate.plugins.roofs.members import RidgeBeam, RidgeBoard
from soleplate.plugins.roofs.pitched import Pitched, longest_seat, mirrored

if TYPE_CHECKING:
    from soleplate.plugins.roofs.rafters import Rafters


def beam_seat(beam: RidgeBeam, run: float, pitch: float, section: Section) -> tuple[float, float]:
    """The birdsmouth of a rafter on a ridge beam: r of its plumb face, and its level one, mm."""
    half = beam.section.breadth / 2
    return run - half, min(half, longest_seat(pitch, section.depth))


def underside_of_ridge(rule: Rafters, rafter: Pitched) -> float:
    """Height of the ridge's underside, mm."""
    assert rule.ridge is not None  # noqa: S101 - a duo-pitch roof has one
    return _top_of_ridge(rule, rafter) - rule.ridge.section.depth


def _top_of_ridge(rule: Rafters, rafter: Pitched) -> float:
    if isinstance(rule.ridge, RidgeBeam):
        face, seat = rafter.seats[-1]
        return rafter.underside(face) + seat * rafter.tan
    return rafter.top(rafter.end)


def ridge_members(rule: Rafters, shape: RoofShape, rafter: Pitched, out: float) -> Iterator[Member]:
    """The ridge board, notched over the walls that run with the slopes; or the beam with its posts.

    Raises:
        CannotFrame: too little is left of the board over a wall, or the beam has no height for posts.
    """
    if isinstance(rule.ridge, RidgeBoard):
        yield _board(rule.ridge, rule, shape, rafter, out)
    elif rule.ridge is not None:
        yield from _beam(rule.ridge, rule, shape, rafter)


def _board(ridge: RidgeBoard, rule: Rafters, shape: RoofShape, rafter: Pitched, out: float) -> Member:
    thick, depth = ridge.section
    top = _top_of_ridge(rule, rafter)
    bottom = top - depth
    run = shape.slopes[0].run
    apex = rafter.line(run) if rule.raked_plates == "as set out" else rafter.underside(run)
    cut = apex - bottom
    if cut > depth / 2 + TOUCH:
        raise CannotFrame(
            "the notch over the gables is {cut} deep and leaves under half of {depth}; accepted is a"
            " board of up"
            " to {most}, or a beam",
            cut=Mm(cut, ".1f"),
            depth=Mm(depth),
            most=at_most(2 * (top - apex), ".1f"),
        ).at("ridge")
    left, right = -out, shape.length + out
    under = [(left, bottom)]
    if cut > TOUCH:
        for wall in shape.along:
            start, end = max(wall.left - wall.covered[0], left), min(wall.right + wall.covered[1], right)
            under += [(start, bottom), (start, apex), (end, apex), (end, bottom)]
    under.append((right, bottom))
    outline = _tidied([*under, (right, top), (left, top)])
    return Member(
        "ridge board", ridge.section, outline, (-thick / 2, thick / 2), ALONG, material=ridge.material,
        view="ridge",
    )  # fmt: skip


def _tidied(points: Sequence[tuple[float, float]]) -> Outline:
    """An outline without doubled corners and without spikes, where a notch begins or ends at an end."""
    kept: list[tuple[float, float]] = []
    for point in points:
        if kept and abs(point[0] - kept[-1][0]) < TOUCH and abs(point[1] - kept[-1][1]) < TOUCH:
            continue
        while (
            len(kept) > 1 and abs(kept[-1][0] - kept[-2][0]) < TOUCH and abs(kept[-1][0] - point[0]) < TOUCH
        ):
            kept.pop()
        kept.append(point)
    if abs(kept[0][0] - kept[1][0]) < TOUCH and abs(kept[0][0] - kept[-1][0]) < TOUCH:
        del kept[0]
    return tuple(kept)


def _beam(ridge: RidgeBeam, rule: Rafters, shape: RoofShape, rafter: Pitched) -> Iterator[Member]:
    """The beam between the gables' inner faces, and a post under each end."""
    broad, depth = ridge.section
    top = _top_of_ridge(rule, rafter)
    bottom = top - depth
    left, right = between_gables(shape)
    across, along = ridge.post
    if bottom <= 0.0 or right - left < 2 * along:
        raise CannotFrame(
            "there is no room for posts under the beam, which is {room} long and has its underside at"
            " {height}",
            room=Mm(right - left),
            height=Mm(bottom, ".0f"),
        ).at("ridge")
    inside = [wall for wall in shape.along if wall.partition]
    if inside:
        raise CannotFrame(
            f"the beam would pass through partition {inside[0].name}; accepted is a ridge board, or no such"
            " partition"
        ).at("ridge")
    yield Member(
        "ridge beam", ridge.section, rectangle(left, right, bottom, top), (-broad / 2, broad / 2), ALONG,
        material=ridge.material, view="ridge",
    )  # fmt: skip
    run = shape.slopes[0].run
    outline = mirrored(rectangle(run - across / 2, run + across / 2, 0.0, bottom))
    for start, end in _posts(ridge, shape):
        yield Member("post", ridge.post, outline, (start, end), UPRIGHT, view="side")


def between_gables(shape: RoofShape) -> tuple[float, float]:
    """The inner faces of the outer walls that run with the slope, x, mm."""
    outer = [wall for wall in shape.along if not wall.partition]
    return outer[0].right, outer[-1].left


def against_gables(ridge: RidgeBeam, shape: RoofShape) -> tuple[Against, ...]:
    """Where the beam and its posts stand against the gables."""
    half = max(ridge.section.breadth, ridge.post.breadth) / 2
    run = shape.slopes[0].run
    outer = [wall.name for wall in shape.along if not wall.partition]
    return tuple(Against(name, run - half, run + half) for name in (outer[0], outer[-1]))


def _posts(ridge: RidgeBeam, shape: RoofShape) -> tuple[tuple[float, float], tuple[float, float]]:
    """What the posts under a beam take up along the eaves, mm."""
    left, right = between_gables(shape)
    along = ridge.post.depth
    return (left, left + along), (right - along, right)


def tie_members(rule: Rafters, shape: RoofShape, rafter: Pitched, lefts: Sequence[float]) -> Iterator[Member]:
    """Ties beside pairs of rafters, on their sides towards the middle; none at the outermost pairs.

    Raises:
        CannotFrame: they lie below a plate or in the ridge, or have no room between rafters.
    """
    ties = rule.ties
    if ties is None:
        return
    thick, depth = ties.section
    lowest = max(slope.plates[0].top for slope in shape.slopes)
    most = underside_of_ridge(rule, rafter) - depth
    if not lowest - TOUCH <= ties.height <= most + TOUCH:
        raise CannotFrame(
            "their undersides are at {height}; accepted is {room}: from the plates to under the ridge",
            height=Mm(ties.height, ".1f"),
            room=Reach(lowest, max(most, lowest), ".1f"),
        ).at("ties")
    blocking = blocking_of(rule)
    inset = 0.0 if blocking is None else (blocking.section or rule.section).breadth
    outline = mirrored(_tie(shape, rafter, (ties.height, ties.height + depth), inset))
    breadth = rule.section.breadth
    made: list[tuple[float, float]] = []
    for left in lefts[1:-1][:: ties.every]:
        on_right = left + breadth / 2 < shape.length / 2 + TOUCH
        start = left + breadth if on_right else left - thick
        made.append((start, start + thick))
        yield Member("tie", ties.section, outline, made[-1], ALONG, material=ties.material, view="side")
    posts = _posts(rule.ridge, shape) if isinstance(rule.ridge, RidgeBeam) else ()
    for start, end in posts:
        if any(start < right - TOUCH and left < end - TOUCH for left, right in made):
            raise CannotFrame(
                "a tie would stand in the post under the ridge beam ({post} along the eaves); accepted"
                " are rafters"
                " spaced so that none stands beside a post, or none of either",
                post=Reach(start, end, ".0f"),
            ).at("ties")
    outer = [wall for wall in shape.along if not wall.partition]
    first, last = outer[0].right + outer[0].covered[1], outer[-1].left - outer[-1].covered[0]
    if made and (made[0][0] < first - TOUCH or made[-1][1] > last + TOUCH):
        raise CannotFrame(
            "a tie would stand in what lines a wall that runs with the slope; accepted are ties within"
            " {room} along"
            " the eaves: rafters spaced otherwise, or a thinner lining",
            room=Reach(first, last, ".0f"),
        ).at("ties")
    taken = sorted([*made, *((x, x + breadth) for x in lefts)])
    for (_, end), (start, _) in itertools.pairwise(taken):
        if start < end - TOUCH:
            raise CannotFrame(
                "ties of {thick} have no room beside the rafters at {place}; accepted is {more} more between"
                " rafters",
                thick=Mm(thick),
                place=Mm(start, ".0f"),
                more=at_least(end - start, ".1f"),
            ).at("ties")


def _tie(shape: RoofShape, rafter: Pitched, heights: tuple[float, float], inset: float) -> Outline:
    """A tie's side, (r, z): to the rafters' upper edges, plumb `inset` mm within the walls' outer faces."""
    width, run = shape.width, shape.slopes[0].run
    outline = rectangle(inset, width - inset, *heights)
    apex = rafter.top(run)
    outline = clip(outline, (run, apex), (0.0, rafter.top(0.0)))
    return clip(outline, (width, apex - (width - run) * rafter.tan), (run, apex))
