"""The plugin keeps Soleplate's contract, and its boards are where a builder would set them by hand."""

from typing import Any

import backing_boards
import pytest

from soleplate.engine import Layout, UnbuildableError, contract, lay_out, load_registry

RULES = load_registry()
BAND = {"rule": "backing-board", "height": 900}

OFFERS = [
    *backing_boards.register_rules(),
    *backing_boards.register_drawing_layers(),
    *backing_boards.register_exporters(),
    backing_boards.check_layout,
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


def boards(layout: Layout) -> list[Any]:
    return [piece for piece in layout.walls[0].pieces if piece.role == "backing board"]


def codes(layout: Layout) -> list[str]:
    return [finding.code for finding in layout.findings]


@pytest.mark.parametrize("offer", OFFERS, ids=lambda offer: offer.__name__)
def test_it_keeps_the_contract(offer: Any) -> None:
    contract.check(offer, roles=backing_boards.register_roles())


def test_each_bay_has_a_board_flush_with_the_inside() -> None:
    layout = wall_with(BAND)
    bays = layout.walls[0].bays
    assert [piece.length for piece in boards(layout)] == [bay.clear for bay in bays]
    assert {piece.depth for piece in boards(layout)} == {(48.0, 70.0)}
    assert {(min(z for _, z in p.outline), max(z for _, z in p.outline)) for p in boards(layout)} == {
        (827.5, 972.5)
    }
    assert "backing-missing" not in codes(layout)


def test_rows_lie_on_each_other() -> None:
    lowest = sorted({min(z for _, z in piece.outline) for piece in boards(wall_with({**BAND, "boards": 3}))})
    assert lowest == [827.5, 972.5, 1117.5]


def test_a_noggin_in_the_way_leaves_its_bay_out_with_a_word() -> None:
    noggins = {"rule": "staggered", "heights": [900]}
    studs = {"rule": "fixed-centres"}
    layout = wall_with(
        defaults={"studs": studs, "noggins": noggins, "adjustments": [{**BAND, "height": 1000}]}
    )
    assert 0 < len(boards(layout)) < len(layout.walls[0].bays)
    assert "backing-missing" in codes(layout)


def test_it_keeps_clear_of_an_opening() -> None:
    door = {"name": "door", "kind": "door", "width": 900, "height": 2000, "at": {"left": 300}}
    layout = wall_with(BAND, walls={"partition": {"openings": [door]}})
    assert not [p for p in boards(layout) if any(300.0 < x < 1200.0 for x, _ in p.outline)]


def test_over_the_top_plate_it_is_refused_with_its_place() -> None:
    with pytest.raises(UnbuildableError, match="accepted is a height between the plates") as raised:
        wall_with({**BAND, "height": 2500})
    assert raised.value.faults[0].pointer == "/defaults/adjustments/0"


def test_each_piece_has_its_line_and_its_row() -> None:
    layout = wall_with(BAND)
    marks = [piece.mark for piece in boards(layout)]
    (layer,) = [layer for plugin, layer in RULES.drawing_layers if plugin == "backing-boards"]
    titles = [getattr(shape, "title", "") for shape in layer.draw(layout.walls[0], layout)]
    assert [title for title in titles if title] == [f"backing board {mark}" for mark in marks]
    (exporter,) = [each for plugin, each in RULES.exporters if plugin == "backing-boards"]
    rows = exporter.export(layout).decode().splitlines()
    assert [row.split(",")[1] for row in rows[1:]] == marks
    assert rows[1].split(",")[-1] == "900"
