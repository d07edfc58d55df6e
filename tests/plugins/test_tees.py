"""Partitions' ends: what they are nailed to, and whether a lining finds timber beside them."""

from __future__ import annotations

from typing import Any

import pytest

from soleplate.engine.layout import FindingOut, Layout
from tests.buildings import building, layout_of, wall_of

LINED = {"rule": "rebated", "thickness": 14, "cover": 110}


def parted(corners: str, *, lined: bool = True, runs: str = "front-back", at: float = 2000) -> Layout:
    """A building of 45 x 70 timber with one partition, 70 deep."""
    defaults: dict[str, Any] = {"studs": {"rule": "equal-bays", "number": 2}, "corners": {"rule": corners}}
    return layout_of(
        building(
            outline={"length": 4500, "width": 2700, "partitions": [{"name": "net", "runs": runs, "at": at}]},
            roof={"form": "level", "height": 2300},
            defaults=defaults | ({"lining": LINED} if lined else {}),
        )
    )


def found(layout: Layout, code: str) -> list[FindingOut]:
    return [each for each in layout.findings if each.code == code]


@pytest.mark.parametrize("runs", ["front-back", "left-right"])
@pytest.mark.parametrize(("corners", "studs"), [("plain", 1), ("three-stud", 2), ("boxed", 2)])
def test_each_end_is_nailed_to_what_stands_behind_it(corners: str, studs: int, runs: str) -> None:
    layout = parted(corners, runs=runs, at=1300)
    told = found(layout, "tee-nailed")
    hosts = ("front", "back") if runs == "front-back" else ("left", "right")
    assert [each.message.split(":")[0] for each in told] == [
        f"its left end meets wall {hosts[0]}",
        f"its right end meets wall {hosts[1]}",
    ]
    for each, host in zip(told, hosts, strict=True):
        assert (each.level, each.wall) == ("note", "net")
        pieces = {piece.mark: piece for piece in wall_of(layout, host).pieces}
        assert len(each.pieces) == studs
        assert {pieces[mark].role for mark in each.pieces} == {"corner stud"}
        where = "through near both edges to" if studs == 2 else "through to"
        assert f"{where} {', '.join(each.pieces)} behind it" in each.message


@pytest.mark.parametrize(
    ("corners", "ledge"),
    [
        # One stud of 45 behind 70 shows nothing; two stand half out of the partition's faces.
        ("plain", 0.0), ("three-stud", None), ("boxed", None),
    ],
)  # fmt: skip
def test_a_lining_without_20_mm_beside_the_partition_is_told(corners: str, ledge: float | None) -> None:
    """Common practice, no source."""
    told = found(parted(corners), "tee-unpacked")
    assert [(each.wall, each.value, each.limit) for each in told] == (
        [] if ledge is None else [("front", ledge, 20.0), ("back", ledge, 20.0)]
    )
    assert all("where net meets it at " in each.message for each in told)


def test_a_bare_wall_needs_no_packing() -> None:
    layout = parted("plain", lined=False)
    assert len(found(layout, "tee-nailed")) == 2
    assert found(layout, "tee-unpacked") == []


def test_a_building_without_partitions_has_no_tees() -> None:
    assert found(layout_of(building()), "tee-nailed") == []
