"""Rasters: where they go, what they cover, and what they cost."""

from __future__ import annotations

import math
from collections.abc import Callable

import numpy as np
import pytest
import shapely
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from shapely.geometry import MultiPolygon
from shapely.geometry.base import BaseGeometry

from finishplan.errors import GeometryError
from finishplan.geometry import Coverage, Raster, Region, cross_hatch, lay_raster, rectangle
from finishplan.geometry.region import polygons

PAD = 0.05
U_SHAPE = shapely.box(0, 0, 1, 1).difference(shapely.box(0.3, 0.3, 0.7, 1))
RING = shapely.Point(0, 0).buffer(0.5, quad_segs=90).difference(shapely.Point(0.05, 0).buffer(0.2, quad_segs=90))
COMB = shapely.union_all(
    [shapely.box(0, 0, 1.9, 0.2), *(shapely.box(0.2 * i, 0, 0.2 * i + 0.13, 0.8) for i in range(10))]
)
DUMBBELL = shapely.union_all(
    [shapely.box(0, 0, 0.3, 0.3), shapely.box(0.3, 0.1, 0.7, 0.15), shapely.box(0.7, 0, 1, 0.3)]
)


def region(shape: BaseGeometry) -> Region:
    return Region(polygons(shape))


def stays_inside(raster: Raster, room: BaseGeometry) -> bool:
    outside = [shapely.LineString(path).difference(room.buffer(1e-7)).length for path in raster.paths]
    return sum(outside) < 1e-12


def missed(raster: Raster, surface: Region, coverage: Coverage) -> float:
    """Area the pad could reach and does not, the pad taken a thousandth smaller in the first."""
    reach = surface.inset(coverage.inset).buffer(0.999 * coverage.pad_radius).intersection(surface.shape)
    swept = shapely.union_all(
        [shapely.LineString(path).buffer(coverage.pad_radius, quad_segs=64) for path in raster.paths]
    )
    return float(reach.difference(swept).area)


class TestRectangle:
    """0.9 m x 0.5 m, pad of 50 mm radius, nothing over the border: 0.8 m x 0.4 m for its centre."""

    SURFACE = rectangle(0.9, 0.5)

    def test_lines_links_and_border_pass_add_up(self) -> None:
        raster = lay_raster(self.SURFACE, Coverage(PAD, 0.07))
        spacing, clearance = 0.4 / 6, 0.05 - 0.035
        lines, links = 5 * (0.8 - 2 * min(clearance, 0.035)), 4 * spacing + math.hypot(spacing, min(clearance, 0.035))
        assert raster.step == pytest.approx(spacing)
        assert raster.link_length == pytest.approx(links)
        assert raster.path_length == pytest.approx(lines + links + 2 * (0.8 + 0.4))
        assert (raster.turns, raster.lifts, raster.direction) == (4, 0, 0.0)
        assert len(raster.paths) == 1

    def test_without_a_border_pass_the_lines_reach_the_borders(self) -> None:
        raster = lay_raster(self.SURFACE, Coverage(PAD, 0.07, border_pass=False))
        assert raster.path_length == pytest.approx(7 * 0.8 + 0.4, rel=1e-6)
        assert raster.link_length == pytest.approx(0.4, rel=1e-6)
        assert raster.turns == 6

    def test_the_corners_are_out_of_reach(self) -> None:
        """Four corners outside quarter circles; the offset's arcs are chords that leave out 0.04 % of them."""
        raster = lay_raster(self.SURFACE, Coverage(PAD, 0.05))
        assert raster.unreached_area == pytest.approx((4 - math.pi) * PAD**2, rel=3e-3)

    def test_overhang_takes_the_pad_into_the_corners(self) -> None:
        """With an inset below radius/sqrt(2) the pad covers the corner itself."""
        for tilt in np.linspace(0.0, 1.5, 12):
            tilted = region(shapely.affinity.rotate(self.SURFACE.shape, tilt, use_radians=True))
            raster = lay_raster(tilted, Coverage(PAD, 0.05, overhang=0.02))
            assert raster.unreached_area == 0.0, "not even what the arithmetic leaves"

    def test_overhang_moves_the_paths_outwards(self) -> None:
        raster = lay_raster(self.SURFACE, Coverage(PAD, 0.05, overhang=0.01))
        assert np.concatenate(raster.paths).min(axis=0).tolist() == pytest.approx([0.04, 0.04])

    def test_the_direction_with_fewest_turns_is_along_the_length(self) -> None:
        tilt = math.radians(33)
        tilted = region(shapely.affinity.rotate(self.SURFACE.shape, tilt, use_radians=True))
        raster = lay_raster(tilted, Coverage(PAD, 0.05))
        assert raster.direction == pytest.approx(tilt)
        assert raster.path_length == pytest.approx(lay_raster(self.SURFACE, Coverage(PAD, 0.05)).path_length, abs=0.1)
        assert raster.turns == 6

    @pytest.mark.parametrize("direction", [0.0, 0.4, math.pi / 2, 2.0])
    def test_lines_run_in_the_direction_given(self, direction: float) -> None:
        raster = lay_raster(self.SURFACE, Coverage(PAD, 0.02, direction=direction, border_pass=False))
        steps = np.diff(raster.paths[0], axis=0)
        longest = steps[np.argsort(-np.hypot(*steps.T))[:10]]
        assert np.abs(longest @ [-math.sin(direction), math.cos(direction)]).max() < 1e-9
        assert raster.direction == pytest.approx(direction)

    def test_a_cross_hatch_is_two_rasters_square_to_each_other(self) -> None:
        first, second = cross_hatch(self.SURFACE, Coverage(PAD, 0.05))
        assert (first.direction, second.direction) == (0.0, pytest.approx(math.pi / 2))
        assert (first.turns, second.turns) == (6, 14)

    def test_a_part_barely_wider_than_the_pad_gets_a_border_pass_alone(self) -> None:
        raster = lay_raster(rectangle(0.5, 2 * PAD + 0.01), Coverage(PAD, 0.05))
        assert raster.turns == 0
        assert raster.path_length == pytest.approx(2 * (0.4 + 0.01))


@pytest.mark.parametrize("direction", [None, 0.0, 0.3, 1.2, math.pi / 2])
@pytest.mark.parametrize("border_pass", [True, False])
@pytest.mark.parametrize("shape", [U_SHAPE, RING, COMB], ids=["U", "ring", "comb"])
def test_hollow_shapes_are_covered_in_one_path_without_leaving_them(
    shape: BaseGeometry, border_pass: bool, direction: float | None
) -> None:
    surface, coverage = region(shape), Coverage(PAD, 0.06, 0.01, direction, border_pass)
    raster = lay_raster(surface, coverage)
    assert stays_inside(raster, surface.inset(coverage.inset))
    assert raster.lifts == 0
    if border_pass:
        assert missed(raster, surface, coverage) < 1e-12


def test_a_ring_is_reached_everywhere() -> None:
    assert lay_raster(region(RING), Coverage(PAD, 0.05)).unreached_area == pytest.approx(0, abs=1e-5)


def test_a_neck_the_pad_does_not_pass_costs_a_lift_and_is_told() -> None:
    raster = lay_raster(region(DUMBBELL), Coverage(PAD, 0.05))
    corners = 2 * (4 - math.pi) * PAD**2
    assert raster.lifts == 1
    assert raster.air_length > 0.4 - 1e-9
    # The pad reaches into either mouth of the neck, which is half its diameter wide, by a segment of a circle.
    segment = PAD**2 * (math.pi / 6 - math.sqrt(3) / 4)
    assert raster.unreached_area == pytest.approx(0.4 * 0.05 - 2 * segment + corners, rel=1e-3)


def test_separate_parts_are_worked_one_after_another() -> None:
    parts = MultiPolygon([shapely.box(0.4 * i, 0, 0.4 * i + 0.3, 0.3) for i in range(3)])
    raster = lay_raster(Region(parts), Coverage(PAD, 0.05))
    assert raster.lifts == 2
    assert raster.turns == 3 * 3 - 1


def test_a_long_way_to_the_next_cell_can_be_made_in_the_air() -> None:
    holes = [shapely.Point(0.3 * i + 0.2, 0.3 * j + 0.2).buffer(0.05) for i in range(4) for j in range(3)]
    surface = region(shapely.box(0, 0, 1.4, 1).difference(shapely.union_all(holes)))
    tied, free = (lay_raster(surface, Coverage(0.02, 0.02, longest_link=longest)) for longest in (math.inf, 0.1))
    assert tied.lifts == 0
    assert free.lifts > 0
    assert free.path_length < tied.path_length
    assert free.path_length - free.link_length == pytest.approx(tied.path_length - tied.link_length)


@pytest.mark.parametrize(
    "shape",
    [
        shapely.box(0, 0, 0.09, 0.5),
        shapely.Point(0, 0).buffer(0.049),
        COMB.difference(shapely.box(0, 0, 2, 0.2)).buffer(-0.02),
    ],
    ids=["strip", "disc", "teeth"],
)
def test_a_pad_larger_than_the_part_is_refused(shape: BaseGeometry) -> None:
    with pytest.raises(GeometryError) as caught:
        lay_raster(region(shape), Coverage(PAD, 0.05))
    (fault,) = caught.value.faults
    assert fault.given == "a pad of 100 mm with 0 mm overhang"
    assert fault.wanted == "a pad that fits inside the outline"


def test_the_largest_pad_that_fits_is_told_and_fits() -> None:
    surface = rectangle(0.5, 0.09)
    with pytest.raises(GeometryError, match=r"below 4[45](\.\d+)? mm") as caught:
        lay_raster(surface, Coverage(PAD, 0.05))
    largest = float(caught.value.faults[0].write.split("below ")[1].split(" mm")[0]) / 1e3
    assert largest == pytest.approx(0.045, rel=0.01)
    assert lay_raster(surface, Coverage(PAD, 0.05, PAD - 0.98 * largest)).paths


@pytest.mark.parametrize(
    ("make", "message"),
    [
        pytest.param(lambda: Coverage(0.0, 0.01), "pad_radius must be above zero", id="no pad"),
        pytest.param(lambda: Coverage(PAD, 0.0), "step must be above zero", id="no step"),
        pytest.param(lambda: Coverage(PAD, 0.11), "at most the pad's diameter", id="gaps"),
        pytest.param(lambda: Coverage(PAD, 0.05, 0.06), "overhang must be between", id="pad off the part"),
        pytest.param(lambda: Coverage(PAD, math.nan), "step must be above zero", id="no number"),
    ],
)
def test_a_coverage_that_makes_no_sense_is_refused(make: Callable[[], Coverage], message: str) -> None:
    with pytest.raises(ValueError, match=message):
        make()


def some_shape(random: np.random.Generator) -> BaseGeometry:
    """A star of random spikes with round and rectangular holes, some of them cutting into its border."""
    angles = np.sort(random.uniform(0, 2 * math.pi, random.integers(3, 12)))
    radii = random.uniform(0.2, 1.0, angles.size)
    star = shapely.Polygon(np.stack([radii * np.cos(angles), radii * np.sin(angles)], axis=1))
    round_holes = [shapely.Point(*random.uniform(-0.7, 0.7, 2)).buffer(random.uniform(0.01, 0.2)) for _ in range(3)]
    slots = [
        shapely.box(x, y, x + length, y + width)
        for x, y, length, width in random.uniform([-0.8, -0.8, 0.01, 0.01], [0.6, 0.6, 0.5, 0.1], (2, 4))
    ]
    return star.buffer(0).difference(shapely.union_all([*round_holes, *slots]))


@given(
    seed=st.integers(0, 2**32 - 1),
    radius=st.floats(0.01, 0.15),
    overlap=st.floats(0.15, 1.0),
    hanging=st.floats(0.0, 1.0),
    direction=st.none() | st.floats(-4.0, 4.0),
)
@settings(deadline=None, max_examples=30)
def test_any_shape_is_covered_without_crossing_a_hole(
    seed: int, radius: float, overlap: float, hanging: float, direction: float | None
) -> None:
    surface = region(some_shape(np.random.default_rng(seed)))
    coverage = Coverage(radius, 2 * radius * overlap, radius * hanging, direction)
    room = surface.inset(coverage.inset)
    assume(not room.is_empty)
    raster = lay_raster(surface, coverage)
    assert stays_inside(raster, room)
    assert missed(raster, surface, coverage) < 1e-9
    assert raster.lifts == len(raster.paths) - 1 == len(room.geoms) - 1
    assert raster.step <= coverage.step * (1 + 1e-9)
    assert raster.path_length == pytest.approx(sum(shapely.LineString(path).length for path in raster.paths))
    assert 0 <= raster.link_length <= raster.path_length
