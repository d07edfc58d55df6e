"""The building as IFC4, read back by IfcOpenShell: what is in it, and its bodies by a geometry kernel."""

from __future__ import annotations

import sys
from collections import Counter
from typing import Any

import ifcopenshell
import ifcopenshell.geom
import ifcopenshell.util.element
import ifcopenshell.util.placement
import ifcopenshell.util.pset
import ifcopenshell.util.shape
import numpy as np
import pytest
from starlette.testclient import TestClient

from soleplate.engine.layout import Layout, PartOut, Piece
from soleplate.engine.shapes import area
from soleplate.viewer.bodies import ifc4
from soleplate.viewer.exports.bodies import IfcExport
from tests.buildings import building, layout_of, wall_of
from tests.floors import solid_of
from tests.viewer.bodies.ifc_checks import rewritten_otherwise
from tests.viewer.bodies.models import BUILDINGS, empty, layout_named

Built = tuple[Layout, Any]


def read(layout: Layout) -> Any:
    return ifcopenshell.file.from_string(ifc4(layout).decode("ascii"))


@pytest.fixture(scope="module", params=BUILDINGS, name="built")
def built_(request: pytest.FixtureRequest) -> Built:
    layout = layout_named(request.param)
    return layout, read(layout)


def named(name: str) -> Built:
    layout = layout_named(name)
    return layout, read(layout)


def by_mark(model: Any) -> dict[str, Any]:
    elements = [each for each in model.by_type("IfcElement") if each.Tag]
    found = {each.Tag: each for each in elements}
    assert len(found) == len(elements), "each mark is there once"
    return found


def pieces(layout: Layout) -> list[tuple[PartOut, Piece]]:
    return [(part, piece) for part in layout.parts for piece in part.pieces]


def above(element: Any) -> list[Any]:
    """What an element is put together in, and so on up to the project."""
    found = []
    while element := ifcopenshell.util.element.get_aggregate(element):
        found.append(element)
    return found


def volume_of(piece: Piece, part: PartOut) -> float:
    """What is left of it, m3."""
    housed = sum(area(each.outline) * each.deep for each in piece.housings or ())
    return (solid_of(piece, part).volume - housed) / 1e9


def test_each_piece_is_an_element_of_its_part(built: Built) -> None:
    layout, model = built
    found = by_mark(model)
    assert set(found) == {piece.mark for piece in layout.pieces}
    for part, piece in pieces(layout):
        element = found[piece.mark]
        assert (element.Name, element.ObjectType) == (piece.mark, piece.role)
        wholes = above(element)
        in_leaf = [each for each in wholes if each.is_a() in {"IfcDoor", "IfcWindow"}]
        if in_leaf:
            (leaf,) = in_leaf
            wholes = [leaf.FillsVoids[0].RelatingOpeningElement.VoidsElements[0].RelatingBuildingElement]
        assert part.name in [each.Name for each in wholes if each.is_a() in {"IfcWall", "IfcSlab"}]


def test_bodies_are_as_large_as_the_pieces_and_stand_where_they_do(built: Built) -> None:
    layout, model = built
    found = by_mark(model)
    settings = ifcopenshell.geom.settings()
    for part, piece in pieces(layout):
        shape: Any = ifcopenshell.geom.create_shape(settings, found[piece.mark])
        # The kernel has cut the openings of its wall out of it: nothing may be lost by them.
        volume = ifcopenshell.util.shape.get_volume(shape.geometry)
        assert volume == pytest.approx(volume_of(piece, part), rel=1e-6), piece.mark
        turned = np.array(shape.transformation.matrix).reshape(4, 4).T
        corners = np.array(shape.geometry.verts).reshape(-1, 3)
        corners = corners @ turned[:3, :3].T + turned[:3, 3]
        least, most = solid_of(piece, part).extent
        if piece.housings is None:
            assert corners.min(axis=0) * 1000 == pytest.approx(least, abs=1e-4)
            assert corners.max(axis=0) * 1000 == pytest.approx(most, abs=1e-4)


def test_quantities_are_those_of_the_layout(built: Built) -> None:
    layout, model = built
    found = by_mark(model)
    templates = ifcopenshell.util.pset.get_template("IFC4")
    for part, piece in pieces(layout):
        element = found[piece.mark]
        ((name, told),) = ifcopenshell.util.element.get_psets(element, qtos_only=True).items()
        assert name == f"Qto_{element.is_a().removeprefix('Ifc')}BaseQuantities"
        figures = {each: value for each, value in told.items() if each != "id"}
        standard = {each.Name for each in templates.get_by_name(name).HasPropertyTemplates}
        assert set(figures) <= standard
        assert figures.pop("NetVolume") == pytest.approx(volume_of(piece, part), rel=1e-6)
        assert figures.pop("NetWeight") == piece.weight_kg
        if element.is_a("IfcPlate"):
            assert figures == {"Width": pytest.approx(piece.depth[1] - piece.depth[0])}
        else:
            assert figures == {"Length": piece.length}


def test_materials_and_sections_are_those_of_the_layout(built: Built) -> None:
    layout, model = built
    found = by_mark(model)
    for _, piece in pieces(layout):
        profiles = ifcopenshell.util.element.get_material(found[piece.mark])
        assert profiles.is_a("IfcMaterialProfileSet")
        (profile,) = profiles.MaterialProfiles
        assert profile.Material.Name == piece.material
        assert (profile.Profile.XDim, profile.Profile.YDim) == piece.section
    assert len(model.by_type("IfcMaterialProfileSet")) == len(
        {(piece.section, piece.material) for piece in layout.pieces}
    )


def test_lengths_are_millimetres_whatever_the_building_is_shown_in() -> None:
    layout, model = named("studio_in_inches")
    assert layout.units == "in"
    (units,) = model.by_type("IfcUnitAssignment")
    (length,) = (each for each in units.Units if each.UnitType == "LENGTHUNIT")
    assert (length.Prefix, length.Name) == ("MILLI", "METRE")


@pytest.mark.parametrize(
    ("name", "role", "entity", "predefined"),
    [
        ("honey_house", "king stud", "IfcMember", "STUD"),
        ("honey_house", "raked plate", "IfcMember", "PLATE"),
        ("honey_house", "lintel", "IfcBeam", "LINTEL"),
        ("honey_house", "noggin", "IfcMember", "USERDEFINED"),
        ("honey_house", "leaf board", "IfcMember", "USERDEFINED"),
        ("kiln_shelter", "sheet", "IfcPlate", "SHEET"),
        ("on a floor", "joist", "IfcBeam", "JOIST"),
        ("on a floor", "rim joist", "IfcBeam", "JOIST"),
        ("on a floor", "bearer", "IfcBeam", "BEAM"),
        ("under a roof", "fly rafter", "IfcMember", "RAFTER"),
        ("two slopes", "ridge board", "IfcMember", "USERDEFINED"),
    ],
)
def test_what_pieces_are_in_the_standard(name: str, role: str, entity: str, predefined: str) -> None:
    layout, model = named(name)
    found = by_mark(model)
    marks = [piece.mark for piece in layout.pieces if piece.role == role]
    assert marks
    assert {(found[mark].is_a(), found[mark].PredefinedType) for mark in marks} == {(entity, predefined)}


def test_assemblies_have_no_shape_and_stand_in_the_storey() -> None:
    (storey,) = (model := named("on a floor")[1]).by_type("IfcBuildingStorey")
    stored = ifcopenshell.util.element.get_contained(storey)
    told = Counter(each.is_a() for each in stored)
    assert (told["IfcWall"], told["IfcSlab"]) == (4, 1)
    assert {each.PredefinedType for each in model.by_type("IfcWall")} == {"ELEMENTEDWALL"}
    assert [each.PredefinedType for each in model.by_type("IfcSlab")] == ["FLOOR"]
    assert all(each.Representation is None for each in stored)
    assert [each.is_a() for each in above(storey)] == ["IfcBuilding", "IfcSite", "IfcProject"]


@pytest.mark.parametrize(
    ("name", "form", "slopes"), [("under a roof", "SHED_ROOF", 1), ("two slopes", "GABLE_ROOF", 2)]
)
def test_a_roof_is_one_and_has_its_slopes(name: str, form: str, slopes: int) -> None:
    layout, model = named(name)
    (roof,) = model.by_type("IfcRoof")
    parts = ifcopenshell.util.element.get_parts(roof)
    assert roof.PredefinedType == form
    assert [part.Name for part in parts] == [slope.name for slope in layout.roofs]
    assert {part.PredefinedType for part in parts} == {"ROOF"}
    assert len(parts) == slopes


def test_panes_are_a_window_each_between_the_studs_that_run_through() -> None:
    layout, model = named("honey_house")
    studs = [piece for piece in wall_of(layout, "back").pieces if piece.role == "stud"]
    windows = [each for each in model.by_type("IfcWindow") if each.Name == "panes"]
    # Rows at 492 mm (the honey house's studs) less a stud of 45, between noggins that stand 20 in the hole.
    assert [(each.OverallWidth, each.OverallHeight) for each in windows] == [(447.0, 560.0)] * 5
    assert len(studs) >= len(windows) + 1


def test_a_finished_opening_is_as_large_as_it_is_clear() -> None:
    layout, model = named("honey_house")
    (window,) = (each for each in wall_of(layout, "right").openings if each.name == "window")
    assert window.finish
    (made,) = (each for each in model.by_type("IfcWindow") if each.Name == "window")
    # Cover strips outside leave 5 mm of the linings to be seen at the sides, and none of them is cut.
    assert made.OverallWidth <= window.finish.clear_width
    assert made.OverallHeight <= window.finish.clear_height


def test_leaves_hang_in_their_door() -> None:
    layout, model = named("honey_house")
    (opening,) = (each for each in wall_of(layout, "front").openings if each.kind == "door")
    assert opening.finish
    (door,) = model.by_type("IfcDoor")
    hung = {part.Tag for part in ifcopenshell.util.element.get_parts(door)}
    assert hung == {mark for leaf in opening.finish.leaves for mark in leaf.pieces}
    (fills,) = door.FillsVoids
    (voids,) = fills.RelatingOpeningElement.VoidsElements
    assert voids.RelatingBuildingElement.Name == "front"


@pytest.mark.parametrize(
    ("name", "kind", "wall"), [("honey_house", "IfcDoor", "front"), ("tool_store", "IfcWindow", "right")]
)
def test_doors_and_windows_stand_upright_in_the_outer_face(name: str, kind: str, wall: str) -> None:
    """X along the wall, Y into it and Z up, from the lower left corner of what is clear."""
    layout, model = named(name)
    (made,) = (each for each in model.by_type(kind) if each.Name in {"doors", "window"})
    built = wall_of(layout, wall)
    (opening,) = built.openings
    view = built.views["face"]
    turned = ifcopenshell.util.placement.get_local_placement(made.ObjectPlacement)
    assert turned[:3, 0] == pytest.approx(view.right)
    assert turned[:3, 2] == pytest.approx((0.0, 0.0, 1.0))
    least = min(piece.depth[0] for piece in built.pieces)
    place = turned[:3, 3] - np.array(view.origin)
    assert place @ np.array(view.right) >= opening.left
    assert place @ np.array(view.right) + made.OverallWidth <= opening.right
    assert opening.bottom <= place[2] < place[2] + made.OverallHeight <= opening.top
    assert place @ turned[:3, 1] == pytest.approx(least)


def test_gaps_are_cut_and_not_filled() -> None:
    for name, part in (("on a floor", "floor"), ("under a roof", "roof back"), ("kiln_shelter", "front")):
        model = named(name)[1]
        (whole,) = (e for e in model.by_type("IfcElement") if e.Name == part and not e.Tag)
        (voids,) = (v for v in whole.HasOpenings if not v.RelatedOpeningElement.HasFillings)
        assert voids.RelatedOpeningElement.PredefinedType == "OPENING"


def test_pieces_of_a_panel_are_together_and_boards_are_not() -> None:
    layout, model = named("in panels")
    found = by_mark(model)
    assert any(wall.panels for wall in layout.walls)
    for wall in layout.walls:
        for piece in wall.pieces:
            (whole, *_) = above(found[piece.mark])
            in_panel = piece.is_frame and piece.panel is not None
            assert whole.Name == (f"{wall.name} {piece.panel}" if in_panel else wall.name)
            assert whole.is_a() == ("IfcElementAssembly" if in_panel else "IfcWall")


def test_goods_and_anchors_are_told() -> None:
    defaults = building()["defaults"]
    defaults |= {"holding_down": {"rule": "anchor-bolts"}, "bracing": [{"rule": "straps"}]}
    layout = layout_of(building(defaults=defaults, fixings=[]))
    model = read(layout)
    told = {each.ObjectType: each.BaseQuantity for each in model.by_type("IfcConstructionMaterialResource")}
    assert len(model.by_type("IfcConstructionMaterialResource")) == len(layout.goods) + len(
        layout.fixings_list
    )
    anchors = [anchor for wall in layout.walls for anchor in wall.anchors]
    assert anchors
    assert told["anchor bolt"].CountValue == len(anchors)
    (strap,) = (row for row in layout.goods if row.kind == "bracing strap")
    assert told["bracing strap"].LengthValue == pytest.approx(strap.to_buy * 1000)
    bolts = model.by_type("IfcMechanicalFastener")
    assert [(bolt.NominalDiameter, bolt.NominalLength, bolt.PredefinedType) for bolt in bolts] == [
        (anchor.diameter, anchor.length, "ANCHORBOLT") for anchor in anchors
    ]


def test_ids_are_the_same_each_time_and_no_two_are_alike(built: Built) -> None:
    layout, model = built
    assert ifc4(layout) == ifc4(layout)
    ids = [each.GlobalId for each in model.by_type("IfcRoot")]
    assert len(ids) == len(set(ids))


def test_a_piece_keeps_its_id_when_another_wall_changes() -> None:
    one = layout_of(building())
    other = layout_of(building(walls={"left": {"studs": {"rule": "equal-bays", "largest_bay": 400}}}))
    before, after = by_mark(read(one)), by_mark(read(other))
    for piece in wall_of(one, "front").pieces:
        assert before[piece.mark].GlobalId == after[piece.mark].GlobalId


def test_what_is_written_is_what_is_read(built: Built) -> None:
    assert rewritten_otherwise(ifc4(built[0])) == []


HOSTILE = "');\n#1=IFCWALL($);/* \\X2\\0041\\X0\\ */ ENDSEC; \u2028 \U0001f528 é '"


def test_names_stay_names() -> None:
    name = HOSTILE.replace("\n", " ")
    value = building(name=name, frame={"section": [45, 70], "material": name, "density": 400})
    data = ifc4(layout_of(value))
    assert rewritten_otherwise(data) == []
    model: Any = ifcopenshell.file.from_string(data.decode("ascii"))
    (project,) = model.by_type("IfcProject")
    assert project.Name == name
    assert {each.Name for each in model.by_type("IfcMaterial")} == {name}
    assert len(model.by_type("IfcWall")) == 4


def test_a_layout_without_a_piece_is_a_file_too() -> None:
    model = read(empty())
    assert not model.by_type("IfcElement")
    assert rewritten_otherwise(ifc4(empty())) == []
    (storey,) = model.by_type("IfcBuildingStorey")
    assert [each.is_a() for each in above(storey)] == ["IfcBuilding", "IfcSite", "IfcProject"]


def test_without_the_library_it_is_said_what_to_install(
    client: TestClient, monkeypatch: pytest.MonkeyPatch
) -> None:
    assert IfcExport().wants() is None
    monkeypatch.setitem(sys.modules, "ifcopenshell", None)
    answer = client.post("/v1/exports/ifc", json=building())
    assert answer.status_code == 422
    assert "pip install 'soleplate[ifc]'" in answer.json()["errors"][0]["detail"]


def test_over_http_it_is_the_same_file(client: TestClient) -> None:
    answer = client.post("/v1/exports/ifc", json=building())
    assert answer.headers["content-type"] == "application/x-step"
    assert answer.headers["content-disposition"] == 'attachment; filename="plain-ifc.ifc"'
    assert answer.content == ifc4(layout_of(building()))
