"""Shapes: plane geometry, and members of timber as prisms.

In: numbers, mm. Out: outlines, top lines, regions, members and what is read off them. Nothing here knows of a
building.
"""

from __future__ import annotations

from soleplate.engine.shapes.ends import End, LongPoint, Rip, before_notches, shape
from soleplate.engine.shapes.facets import ConvexBody, Facet, bodies_of, flat_facets, parted
from soleplate.engine.shapes.housings import BodyPart, Housing, bodies, shared, without
from soleplate.engine.shapes.members import ALONG, NOBODY, UPRIGHT, EndFixing, Member, level, upright
from soleplate.engine.shapes.notches import Notch, notches
from soleplate.engine.shapes.outlines import (
    Outline,
    Point,
    area,
    bounds,
    clip,
    contains,
    convex_parts,
    crossing,
    few_convex_parts,
    from_edge,
    hull,
    interlock,
    is_convex,
    is_sliver,
    narrowest,
    overlap,
    pairs,
    rectangle,
    span_at,
)
from soleplate.engine.shapes.partition import Chamber, Parting, Partition, far_to_near, partition
from soleplate.engine.shapes.prisms import Prism, Quarter, Volume, gap, placed, shortfall
from soleplate.engine.shapes.regions import (
    FINE,
    Box,
    Cell,
    Region,
    cut_across,
    is_seen,
    outline_of,
    reach,
    remains,
    roof_limits,
    seen_of,
    span_across,
)
from soleplate.engine.shapes.roles import ROLES, Role, Roles
from soleplate.engine.shapes.rounding import rounded
from soleplate.engine.shapes.seams import without_seams
from soleplate.engine.shapes.sections import Section, same_section
from soleplate.engine.shapes.solids import Solid, overlap_in_space, overlapping, section
from soleplate.engine.shapes.tolerances import TOUCH
from soleplate.engine.shapes.top_lines import TopLine, under
from soleplate.engine.shapes.vectors import cross, dot, minus, moved, turned, unit
from soleplate.engine.shapes.views import Vector, View
