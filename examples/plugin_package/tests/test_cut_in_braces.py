"""The plugin keeps Soleplate's contract, and its braces are what a builder would set out by hand."""

import math
from typing import Any

import cut_in_braces
import pytest

from soleplate.engine import Layout, UnbuildableError, contract, lay_out, load_registry

RULES = load_registry()
FROM_LEFT = {"rule": "cut-in-brace"}
FROM_RIGHT = {"rule": "cut-in-brace", "from": "right", "angle": 50}

OFFERS = [
    *cut_in_braces.register_rules(),
    *cut_in_braces.register_drawing_layers(),
    *cut_in_braces.register_exporters(),
    cut_in_braces.check_layout,
]


def wall_with(*adjustments: dict[str, Any], **more: Any) -> Layout:
    """One level wall, 4500 x 2400 mm in 45 x 70 timber, with studs at 600 mm centres."""
    value = {
        "format": "soleplate.building/1",
        "name": "Partition",
        "frame": {"section": [45, 70]},
        "outline": {"walls": [{"name": "partition", "length": 4500}]},
        "roof": {"form": "level", "height": 2400},
        "defaults": {"adjustments": list(adjustments), "studs": {"rule": "fixed-centres", "centres": 600}},
        **more,
    }
    return lay_out(RULES.read_building(value), RULES)


def braces(layout: Layout) -> list[Any]:
    return [piece for piece in layout.walls[0].pieces if piece.role == "brace"]


@pytest.mark.parametrize("offer", OFFERS, ids=lambda offer: offer.__name__)
def test_it_keeps_the_contract(offer: Any) -> None:
    contract.check(offer, roles=cut_in_braces.register_roles())


def test_the_brace_runs_from_plate_to_plate_in_one_line() -> None:
    pieces = braces(wall_with(FROM_LEFT))
    lowest = min(z for piece in pieces for _, z in piece.outline)
    highest = max(z for piece in pieces for _, z in piece.outline)
    assert (lowest, highest) == (45.0, 2355.0)
    plumb = 45.0 / math.cos(math.radians(45.0))
    for piece in pieces[1:-1]:
        xs = sorted({x for x, _ in piece.outline})
        assert xs[1] - xs[0] == pytest.approx(555.0)
        assert piece.length == pytest.approx(555.0 * math.sqrt(2) + 45.0, abs=0.001)
        assert max(z for x, z in piece.outline if x == xs[0]) - min(
            z for x, z in piece.outline if x == xs[0]
        ) == pytest.approx(plumb, abs=0.001)


def test_both_ends_of_a_piece_between_studs_are_cut_at_45_degrees() -> None:
    for piece in braces(wall_with(FROM_LEFT))[1:-1]:
        assert [(end.cut, end.angle) for end in piece.ends] == [("bevel", 45.0), ("bevel", 45.0)]


def test_it_keeps_clear_of_an_opening() -> None:
    door = {"name": "door", "kind": "door", "width": 900, "height": 2000, "at": {"left": 300}}
    layout = wall_with(FROM_LEFT, walls={"partition": {"openings": [door]}})
    assert min(x for piece in braces(layout) for x, _ in piece.outline) > 1200.0


def test_a_noggin_in_the_way_is_left_out() -> None:
    noggins = {"studs": {"rule": "fixed-centres"}, "noggins": {"rule": "straight", "rows": 1}}
    plain = wall_with(defaults=noggins)
    braced = wall_with(defaults={**noggins, "adjustments": [FROM_LEFT]})
    count = [sum(p.role == "noggin" for p in layout.walls[0].pieces) for layout in (plain, braced)]
    assert 0 < count[1] < count[0]


def test_a_wall_too_short_is_refused_with_its_place() -> None:
    with pytest.raises(UnbuildableError, match="accepted is a steeper one") as raised:
        wall_with(FROM_LEFT, outline={"walls": [{"name": "partition", "length": 1200}]})
    assert raised.value.faults[0].pointer == "/defaults/adjustments/0"


def test_braces_that_rise_one_way_are_told() -> None:
    def codes(layout: Layout) -> list[str]:
        return [finding.code for finding in layout.findings]

    assert "braces-one-way" in codes(wall_with(FROM_LEFT))
    assert "braces-one-way" not in codes(wall_with(FROM_LEFT, FROM_RIGHT))
    assert "no-bracing" in codes(wall_with())
    assert "no-bracing" not in codes(wall_with(FROM_LEFT))


def test_each_piece_has_its_line_and_its_row() -> None:
    layout = wall_with(FROM_LEFT)
    marks = [piece.mark for piece in braces(layout)]
    (layer,) = [layer for plugin, layer in RULES.drawing_layers if plugin == "cut-in-braces"]
    titles = [getattr(shape, "title", "") for shape in layer.draw(layout.walls[0], layout)]
    assert sorted(title for title in titles if title) == sorted(f"brace {mark}" for mark in marks)
    (exporter,) = [each for plugin, each in RULES.exporters if plugin == "cut-in-braces"]
    rows = exporter.export(layout).decode().splitlines()
    assert [row.split(",")[0] for row in rows[1:]] == marks
    assert "bevel 45.0" in rows[2]
