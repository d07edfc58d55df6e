"""What is on sale: one answer for plates, boards and the saw plan."""

from __future__ import annotations

from soleplate.engine.building_file import Stock

STOCK = Stock.model_validate_json(
    """{"trim": 10, "stock": [
        {"section": [45, 70], "material": "C16", "lengths": [
            {"length": 3000, "price": 6}, {"length": 4800, "price": 9, "grade": "short"}]},
        {"section": [45, 70], "material": "C24", "lengths": [{"length": 5400, "price_per_metre": 2}]},
        {"section": [20, 120], "on_hand": [{"length": 2000}, {"length": 3900, "grade": "short"}]}]}"""
)


def lengths(material: str, grade: str = "straight") -> list[float]:
    return [row.length for row in STOCK.on_sale((45.0, 70.0), material, grade)]  # type: ignore[arg-type]


def test_bent_lengths_serve_short_pieces_alone() -> None:
    assert lengths("C16") == [3000.0]
    assert lengths("C16", "short") == [3000.0, 4800.0]


def test_another_material_is_another_timber() -> None:
    assert lengths("C24") == [5400.0]
    assert lengths("larch") == []
    assert [row.cost for row in STOCK.on_sale((45.0, 70.0), "C24")] == [10.8]


def test_sections_are_compared_at_the_resolution_of_the_layout() -> None:
    assert STOCK.on_sale((45.0004, 70.0), "C16")
    assert not STOCK.on_sale((45.002, 70.0), "C16")


def test_the_longest_is_straight_and_trimmed() -> None:
    assert STOCK.longest_of((45.0, 70.0), "C16") == 2980.0
    assert STOCK.longest_of((20.0, 120.0), "larch") == 1980.0
    assert STOCK.longest_of((45.0, 95.0), "C16") == 6000.0
