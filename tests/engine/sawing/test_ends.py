from typing import Any

from soleplate.engine.sawing import FactoryEnds, factory_ends, plan_sawing, read_request


def ends(parts: list[dict[str, Any]], first: tuple[str, ...] = (), **changes: Any) -> FactoryEnds:
    stock = [{"lengths": [{"length": 2400, "price": 3}]}]
    return factory_ends(
        plan_sawing(read_request({"parts": parts, "stock": stock, "kerf": 3} | changes)), first
    )


def test_a_single_piece_keeps_one_end() -> None:
    found = ends([{"name": "A", "length": 1500}])
    assert [(kept.mark, kept.end) for kept in found.kept] == [("A", "start")]
    assert found.fresh == 1


def test_a_piece_as_long_as_its_length_keeps_both() -> None:
    found = ends([{"name": "A", "length": 2400}])
    assert [(kept.mark, kept.end) for kept in found.kept] == [("A", "both")]
    assert found.fresh == 0


def test_two_pieces_a_length_keep_one_each_and_studs_come_first() -> None:
    parts = [{"name": "plate", "length": 900}, {"name": "stud", "length": 700, "count": 2}]
    found = ends(parts, first=("stud",))
    assert [kept.mark for kept in found.kept] == ["stud", "stud"]
    assert {kept.end for kept in found.kept} == {"start", "finish"}
    assert found.fresh == 4
    assert [kept.mark for kept in ends(parts).kept] == ["plate", "stud"]


def test_trimmed_ends_are_fresh() -> None:
    found = ends([{"name": "A", "length": 1500}], trim=5)
    assert found.kept == ()
    assert found.fresh == 2
