"""Regions from outlines, and what is refused."""

from __future__ import annotations

import math
from collections.abc import Callable
from typing import Any, TypeAlias

import pytest
import shapely
from shapely.geometry import MultiPolygon

from finishplan.errors import Fault, GeometryError
from finishplan.geometry.chain import Chain, join
from finishplan.geometry.piece import Piece, arc, straight
from finishplan.geometry.region import OutlineLayer, Region, polygons, rectangle, region_from_layers, square

Corners: TypeAlias = list[tuple[float, float]]
Sheet: TypeAlias = Any


def outline(*corners: tuple[float, float]) -> list[Piece]:
    return [straight(start, end) for start, end in zip(corners, corners[1:] + corners[:1], strict=True)]


def box(x: float, y: float, side: float) -> list[Piece]:
    return outline((x, y), (x + side, y), (x + side, y + side), (x, y + side))


def circle(x: float, y: float, radius: float) -> list[Piece]:
    return [arc((x, y), radius, 0.0, 2 * math.pi)]


def layer(*outlines: list[Piece], name: str = "FACE") -> OutlineLayer:
    """Each outline joined by itself, so that those which touch stay apart."""
    chains: list[Chain] = [chain for pieces in outlines for chain in join(pieces).chains]
    return OutlineLayer(chains, "part.dxf", name)


def faults(*layers: OutlineLayer) -> list[Fault]:
    with pytest.raises(GeometryError) as caught:
        region_from_layers(*layers)
    return list(caught.value.faults)


def test_an_outline_encloses_a_region_whichever_way_it_is_drawn() -> None:
    corners: Corners = [(0.0, 0.0), (0.03, 0.0), (0.03, 0.02), (0.0, 0.02)]
    for drawn in (corners, corners[::-1]):
        assert region_from_layers(layer(outline(*drawn))).area == pytest.approx(6e-4)


def test_outlines_nest_to_any_depth_and_stand_side_by_side() -> None:
    nested = [box(0.01 * depth, 0.01 * depth, 0.1 - 0.02 * depth) for depth in range(4)]
    region = region_from_layers(layer(*reversed(nested), box(0.2, 0.0, 0.03), circle(0.21, 0.01, 0.002)))
    rings = 0.1**2 - 0.08**2 + 0.06**2 - 0.04**2
    assert region.area == pytest.approx(rings + 0.03**2 - math.pi * 0.002**2, rel=1e-4)
    assert sorted(len(part.interiors) for part in region.shape.geoms) == [1, 1, 1]
    assert region.shape.is_valid


def test_a_hole_on_a_layer_of_its_own_is_left_out() -> None:
    region = region_from_layers(layer(box(0, 0, 0.1)), layer(circle(0.05, 0.05, 0.02), name="MASKED"))
    assert region.area == pytest.approx(0.01 - math.pi * 4e-4, rel=1e-4)
    assert (region.name, region.key) == ("part.dxf", "layer 'FACE'")


def test_flattened_arcs_keep_the_area_within_the_flattening() -> None:
    assert region_from_layers(layer(circle(0, 0, 0.05))).area == pytest.approx(
        math.pi * 0.05**2, abs=1e-5 * math.pi * 0.1
    )


def test_an_outline_that_crosses_itself_is_refused_with_the_place() -> None:
    (fault,) = faults(layer(outline((0, 0), (0.02, 0.02), (0.02, 0.0), (0.0, 0.02))))
    assert str(fault) == (
        "part.dxf: layer 'FACE': given an outline that crosses itself at (10, 10) mm; "
        "wanted outlines that do not cross; write the outline anew"
    )


def test_places_are_shown_in_the_unit_of_the_drawing() -> None:
    pieces = outline((0, 0), (0.0508, 0.0508), (0.0508, 0.0), (0.0, 0.0508))
    (fault,) = faults(OutlineLayer(join(pieces).chains, "part.dxf", "FACE", "in"))
    assert "at (1, 1) in" in fault.given


def test_an_outline_that_turns_back_on_itself_is_refused() -> None:
    (fault,) = faults(layer(outline((0, 0), (0.02, 0), (0.02, 0.02), (0.02, 0.03), (0.02, 0.02 - 1e-3), (0, 0.02))))
    assert "crosses itself" in fault.given


@pytest.mark.parametrize(
    "second",
    [
        pytest.param(box(0.05, 0.05, 0.1), id="crossing"),
        pytest.param(box(0.1, 0.0, 0.1), id="along an edge"),
        pytest.param(box(0.1, 0.1, 0.1), id="in a corner"),
        pytest.param(outline((0.02, 0.02), (0.1, 0.05), (0.02, 0.08)), id="hole touching from inside"),
    ],
)
def test_outlines_that_meet_are_refused(second: list[Piece]) -> None:
    (fault,) = faults(layer(box(0, 0, 0.1), second))
    assert fault.given.startswith("two outlines that cross or touch at (")
    assert fault.wanted == "outlines apart from each other"


def test_the_number_of_places_is_told() -> None:
    (fault,) = faults(layer(box(0, 0, 0.1), circle(0.05, 0.05, 0.06)))
    assert fault.given.endswith("and 7 more places")


def test_an_open_run_is_refused_with_its_ends() -> None:
    (fault,) = faults(layer(box(0, 0, 0.1), [straight((0.2, 0.0), (0.3, 0.01))]))
    assert fault.given == "an open run from (200, 0) mm to (300, 10) mm"


def test_open_runs_are_counted_in_one_fault_for_each_layer() -> None:
    runs = [[straight((x, 0.0), (x, 0.01))] for x in (0.2, 0.3, 0.4)]
    found = faults(layer(box(0, 0, 0.1), *runs), layer(*runs[:1], name="MASKED"))
    assert [fault.key for fault in found] == ["layer 'FACE'", "layer 'MASKED'"]
    assert found[0].given.startswith("3 open runs, the first from")


def test_an_outline_without_area_is_refused() -> None:
    (fault,) = faults(layer(box(0, 0, 0.1), outline((0.2, 0), (0.25, 0), (0.3, 1e-12))))
    assert fault.given == "an outline at (200, 0) mm that encloses no area"


def test_a_layer_without_outline_is_refused() -> None:
    (fault,) = faults(layer())
    assert fault.given == "no outline"


@pytest.mark.parametrize("place", [(0.2, 0.2), (0.05, 0.05)], ids=["beside the outline", "inside another hole"])
def test_a_hole_outside_every_outline_is_refused(place: tuple[float, float]) -> None:
    (fault,) = faults(layer(box(0, 0, 0.1), box(0.04, 0.04, 0.03)), layer(circle(*place, 0.005), name="MASKED"))
    assert fault.key == "layer 'MASKED'"
    assert "outside every outline" in fault.given


def test_every_fault_of_a_kind_is_told_at_once() -> None:
    bow = outline((1, 0), (1.02, 0.02), (1.02, 0.0), (1.0, 0.02))
    found = faults(layer(box(0, 0, 0.1), box(0.05, 0.05, 0.1), bow))
    assert len(found) == 2


@pytest.mark.parametrize(
    ("make", "key"),
    [
        pytest.param(lambda: rectangle(0.0, 1.0), "length", id="no length"),
        pytest.param(lambda: rectangle(1.0, math.inf), "width", id="endless width"),
        pytest.param(lambda: square(-1.0), "area", id="negative area"),
    ],
)
def test_a_rectangle_needs_an_extent(make: Callable[[], Region], key: str) -> None:
    with pytest.raises(GeometryError) as caught:
        make()
    assert [fault.key for fault in caught.value.faults] == [key]


def test_plain_regions_have_the_area_asked_for() -> None:
    assert rectangle(0.3, 0.2).area == pytest.approx(0.06)
    assert square(0.25).shape.bounds == pytest.approx((0, 0, 0.5, 0.5))


def test_an_inset_is_taken_from_every_border() -> None:
    region = region_from_layers(layer(box(0, 0, 0.1), box(0.04, 0.04, 0.02)))
    # The hole grows by 10 mm with round corners, within the chords of the offset's arcs.
    assert region.inset(0.01).area == pytest.approx(0.08**2 - (0.02**2 + 4 * 0.02 * 0.01 + math.pi * 1e-4), rel=1e-4)
    assert region.inset(0.025).is_empty


def test_lines_and_points_are_no_polygons() -> None:
    mixed = shapely.GeometryCollection(
        [shapely.Point(0, 0), shapely.box(0, 0, 1, 1), MultiPolygon([shapely.box(2, 0, 3, 1)])]
    )
    assert polygons(mixed).area == pytest.approx(2.0)
    assert polygons(shapely.LineString([(0, 0), (1, 1)])).is_empty


def test_a_drawing_layer_becomes_a_region(sheet: Sheet) -> None:
    """A plate of 200 mm x 100 mm with corners of 10 mm radius and a bore of 30 mm."""
    bulge = math.tan(math.pi / 8)
    corners = [(10, 0, 0), (190, 0, bulge), (200, 10, 0), (200, 90, bulge), (190, 100, 0), (10, 100, bulge)]
    sheet.model.add_lwpolyline([*corners, (0, 90, 0), (0, 10, bulge)], format="xyb", close=True, dxfattribs=sheet.on)
    sheet.model.add_circle((60, 50), 15, dxfattribs=sheet.on)
    drawn = sheet.read()
    region = region_from_layers(OutlineLayer(drawn.chains, "part.dxf", "EDGES", drawn.unit))
    exact = 0.02 - (4 - math.pi) * 1e-4 - math.pi * 0.015**2
    assert region.area == pytest.approx(exact, abs=1e-5 * math.pi * 0.05)
    assert len(region.shape.geoms[0].interiors) == 1
