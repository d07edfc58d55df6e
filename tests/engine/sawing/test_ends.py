from typing import Any

from soleplate.engine.sawing import FactoryEnds, SawPlan, keeping_factory_ends, plan_sawing, read_request


def kept_ends(
    parts: list[dict[str, Any]], first: tuple[str, ...] = (), **changes: Any
) -> tuple[SawPlan, FactoryEnds]:
    stock = [{"lengths": [{"length": 2400, "price": 3}]}]
    request = read_request({"parts": parts, "stock": stock, "kerf": 3} | changes)
    return keeping_factory_ends(plan_sawing(request), first)


def ends(parts: list[dict[str, Any]], first: tuple[str, ...] = (), **changes: Any) -> FactoryEnds:
    return kept_ends(parts, first, **changes)[1]


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


def test_a_length_on_hand_has_no_factory_ends() -> None:
    """Nobody knows which of its ends were cut since it came."""
    on_hand = {"lengths": [{"length": 2400, "price": 3}], "on_hand": [{"length": 1600}]}
    plan, found = kept_ends([{"name": "A", "length": 1500, "count": 2}], stock=[on_hand])
    assert [length.on_hand for length in plan.lengths] == [True, False]
    assert [(kept.length, kept.end) for kept in found.kept] == [(1, "start")]
    assert found.fresh == 3


def test_the_pieces_that_keep_an_end_are_cut_first_and_last() -> None:
    parts = [
        {"name": "plate", "length": 900},
        {"name": "noggin", "length": 400},
        {"name": "stud", "length": 500, "count": 2},
    ]
    plan, found = kept_ends(parts, first=("stud",))
    (length,) = plan.lengths
    assert [cut.mark for cut in length.cuts] == ["stud", "plate", "noggin", "stud"]
    assert [(kept.cut, kept.end) for kept in found.kept] == [(0, "start"), (3, "finish")]
    assert [(cut.from_, cut.to) for cut in length.cuts] == [(0, 500), (503, 1403), (1406, 1806), (1809, 2309)]
    assert length.offcut == 2400 - 2309 - 3


def test_lengths_that_keep_their_ends_otherwise_are_another_set_up() -> None:
    parts = [{"name": name, "length": size} for name in "AB" for size in (1000, 700, 600)]
    for index, part in enumerate(parts):
        part["name"] = f"{part['name']}{index % 3}"
    plan, _ = kept_ends(parts, first=("A0", "A1", "A2", "B1", "B2"))
    assert [[cut.mark for cut in length.cuts] for length in plan.lengths] == [
        ["A0", "A2", "A1"],
        ["B1", "B0", "B2"],
    ]
    assert [length.set_up for length in plan.lengths] == [1, 2]
    assert plan.set_ups == 2
