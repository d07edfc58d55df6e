"""Parts in space: what serves walls serves whatever else is framed, laid flat or leaning."""

from __future__ import annotations

import itertools
import json
import math
from dataclasses import asdict
from pathlib import Path

import pytest
from shapely import Polygon, unary_union

from soleplate.engine import Registry, lay_out, load_registry
from soleplate.engine.building_file import Stock, Timber, WallEnd
from soleplate.engine.covering import Cladding, Covered, ToCover, cover
from soleplate.engine.framing import Part
from soleplate.engine.layout import Piece
from soleplate.engine.listing import cutting_list
from soleplate.engine.listing.numbering import number_boards, number_pieces
from soleplate.engine.registry import Asked
from soleplate.engine.rules import Run, StudRule, Support, Surface
from soleplate.engine.shapes import Member, Section, TopLine, View, level, upright

EXAMPLES = Path(__file__).parents[2] / "examples"
SECTION = Section(45.0, 145.0)
LENGTH, WIDTH, DECK = 4000.0, 2700.0, 18.0
FREE = WallEnd("free")


@pytest.fixture(scope="module")
def registry() -> Registry:
    return load_registry(files=[EXAMPLES / "one_file_rule.py"])


def rule_called(registry: Registry, name: str, **members: object) -> object:
    (model,) = [rule.model for rule in registry.rules if rule.name == name]
    return model.model_validate({"rule": name, **members})


def joists(registry: Registry) -> list[float]:
    """Left faces of the joists between the outermost ones, as an author's stud rule spaces them."""
    spacing = rule_called(registry, "even-bays", largest_bay=400.0)
    assert isinstance(spacing, StudRule)
    return list(spacing.place_studs(Run(45.0, LENGTH - 45.0, "whole", breadth=45.0, length=LENGTH)))


def floor(registry: Registry) -> Part:
    """A floor that lies on its face: rims along it, joists across, seen from above."""
    rims = [
        level("sole plate", SECTION, (0.0, LENGTH, z, z + 45.0), (0.0, 145.0)) for z in (0.0, WIDTH - 45.0)
    ]
    inner = TopLine(((0.0, WIDTH - 45.0), (LENGTH, WIDTH - 45.0)))
    across = [upright("stud", SECTION, left, 45.0, inner) for left in (0.0, *joists(registry), LENGTH - 45.0)]
    members = (*rims, *(joist for joist in across if joist is not None))
    plan = View("plan", (0.0, 0.0, -DECK), (1.0, 0.0, 0.0), (0.0, 1.0, 0.0))
    flat = tuple(Member(m.role, m.section, m.outline, m.depth, m.grain, view="plan") for m in members)
    return Part("floor", "floor", (plan,), flat, Timber.named("C24"), SECTION, SECTION)


def decked(part: Part, registry: Registry) -> Covered:
    """The floor decked by the sheets that ship, through the same stage as walls."""
    over = TopLine(((0.0, WIDTH), (LENGTH, WIDTH)))
    supports = tuple(
        Support((m.left + m.right) / 2, m.left, m.right, -math.inf, math.inf)
        for m in part.members
        if m.is_upright
    )
    surface = Surface(
        part=part.name,
        facing="outside",
        ends=(FREE, FREE),
        left=0.0,
        right=LENGTH,
        top=over,
        holes=(),
        timbers=part.members,
        supports=tuple(sorted(supports, key=lambda support: support.centre)),
        behind=(0.0, LENGTH),
        underside=over.raised(-45.0),
        depth=145.0,
    )
    rule = rule_called(registry, "sheets", width=1220, height=2440, thickness=DECK, gap=0)
    asked = Asked(part.name, part.kind, lambda rule: "/floor/deck", registry)
    return cover([ToCover(rule, surface, asked, "floor")], Stock())  # type: ignore[arg-type]


@pytest.fixture(scope="module")
def deck(registry: Registry) -> Cladding:
    return decked(floor(registry), registry).claddings["floor", "outside"]


def test_an_authors_stud_rule_spaces_joists(registry: Registry) -> None:
    lefts = joists(registry)
    edges = [45.0, *(edge for left in lefts for edge in (left, left + 45.0)), LENGTH - 45.0]
    clear = [right - left for left, right in zip(edges[::2], edges[1::2], strict=True)]
    assert len(clear) % 2 == 0
    assert clear == pytest.approx([clear[0]] * len(clear))
    assert clear[0] <= 400.0


def test_the_sheets_that_ship_deck_it_once_everywhere(deck: Cladding) -> None:
    sheets = [Polygon(board.member.outline) for board in deck.boards]
    assert unary_union(sheets).area == pytest.approx(LENGTH * WIDTH, rel=1e-9)
    assert sum(sheet.area for sheet in sheets) == pytest.approx(LENGTH * WIDTH, rel=1e-9)


def test_sheets_meet_over_joists_and_are_fixed_to_them(registry: Registry, deck: Cladding) -> None:
    centres = [left + 22.5 for left in joists(registry)]
    ends = {round(x, 3) for board in deck.boards for x in (board.member.left, board.member.right)}
    assert len(ends) > 2
    assert all(any(abs(end - centre) < 0.01 for centre in centres) for end in ends - {0.0, LENGTH})
    timbers = [Polygon(m.outline) for m in floor(registry).members]
    for board in deck.boards:
        assert board.fixed_at
        assert all(
            any(timber.buffer(0.01).contains(_point(at)) for timber in timbers) for at in board.fixed_at
        )


def _point(at: tuple[float, float]) -> Polygon:
    return Polygon([(at[0] + dx, at[1] + dy) for dx, dy in ((-1e-3, -1e-3), (1e-3, -1e-3), (0.0, 1e-3))])


def numbered(registry: Registry) -> list[Piece]:
    part = floor(registry)
    cladding = decked(part, registry).claddings["floor", "outside"]
    members = number_pieces(part, "FL", "mm", 900.0)
    boards = number_boards(cladding, "FL", len(members) + 1, "mm")
    return [piece for _, piece in (*members, *boards)]


def test_its_pieces_are_numbered_weighed_and_listed_like_those_of_walls(registry: Registry) -> None:
    pieces = numbered(registry)
    assert [piece.mark for piece in pieces] == [f"FL{n}" for n in range(1, len(pieces) + 1)]
    across = [piece for piece in pieces if piece.role == "stud"]
    assert {piece.length for piece in across} == {WIDTH - 90.0}
    assert {piece.view for piece in across} == {"plan"}
    # EN 338: C24 has a mean density of 420 kg/m3.
    assert across[0].weight_kg == pytest.approx(0.045 * 0.145 * 2.61 * 420, abs=0.001)
    # No end of a joist soaks on a sole plate.
    assert all(end.end is None for piece in across for end in piece.ends)
    rows = cutting_list(pieces, "mm", 6)
    marks = list(itertools.chain.from_iterable(row.marks for row in rows))
    assert sorted(marks) == sorted(piece.mark for piece in pieces)


def test_the_deck_ends_at_the_underside_of_the_walls_and_joists_hang_below_it(registry: Registry) -> None:
    (plan,) = floor(registry).views
    heights: dict[str, set[float]] = {}
    for piece in numbered(registry):
        places = (plan.point(*corner, depth) for corner in piece.outline for depth in piece.depth)
        heights.setdefault(piece.role, set()).update(round(place[2], 6) for place in places)
    assert heights["sheet"] == {0.0, -DECK}
    assert heights["stud"] == {-DECK, -DECK - 145.0}


@pytest.mark.parametrize("example", sorted(EXAMPLES.glob("*.json")), ids=lambda path: path.stem)
def test_every_wall_says_where_its_pieces_are_in_the_world(example: Path, registry: Registry) -> None:
    layout = lay_out(registry.read_building(json.loads(example.read_text())), registry)
    assert layout.parts == (*layout.walls, *layout.floors, *layout.roofs)
    assert layout.pieces == tuple(piece for part in layout.parts for piece in part.pieces)
    for wall in layout.walls:
        face = View("face", **asdict(wall.views["face"]))
        turned = math.radians(wall.plan.direction)
        assert face.point(0.0, 0.0) == pytest.approx((*wall.plan.start, 0.0))
        along = (math.cos(turned), math.sin(turned), 0.0)
        assert face.right == pytest.approx(along, abs=0.001)
        # Seen from outside, inwards lies on the left of the way that a wall runs.
        assert face.inwards == pytest.approx((-along[1], along[0], 0.0), abs=0.001)
        assert face.up == (0.0, 0.0, 1.0)
