"""Removal maps against closed forms, direct sums and the conservation of volume."""

from __future__ import annotations

import math
import tracemalloc

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy import ndimage
from shapely.geometry import MultiPolygon

from finishplan.geometry import Coverage, Region, lay_raster, rectangle
from finishplan.process.dwell import Dwell, DwellPath, Grid, at_feed
from finishplan.process.footprint import (
    BeltContact,
    Footprint,
    cell_means,
    gaussian_pad,
    orbital_pad,
    spinning_disc,
)
from finishplan.process.removal_map import RemovalMap, local_pressure_scale, removal_map

PAD, RATE, FEED = 0.04, 2e-9, 0.1
PLATE = rectangle(0.5, 0.4)
PADS = [
    pytest.param(orbital_pad(PAD), id="orbital"),
    pytest.param(spinning_disc(PAD), id="spinning"),
    pytest.param(gaussian_pad(PAD / 7), id="gaussian"),
    pytest.param(BeltContact(0.01, 0.05, 0.3), id="belt"),
]


def window(x: float, y: float, width: float, height: float) -> Region:
    return Region(MultiPolygon([shapely.box(x, y, x + width, y + height)]))


def straight_pass(footprint: Footprint, cell: float | tuple[float, float]) -> RemovalMap:
    """One pass along the middle of a plate, begun and ended with the whole pad on it."""
    return removal_map(at_feed([np.array([[0.1, 0.2], [0.4, 0.2]])], FEED), footprint, RATE, PLATE, cell)


@pytest.mark.parametrize("footprint", PADS)
def test_the_volume_removed_is_rate_times_time(footprint: Footprint) -> None:
    result = straight_pass(footprint, 1e-3)
    assert result.volume == pytest.approx(RATE * 0.3 / FEED, rel=1e-12)
    assert result.largest_overhang == pytest.approx(0.0, abs=1e-12)
    assert result.edge_pressure_ratio == pytest.approx(1.0)


@given(
    points=st.lists(st.tuples(st.floats(0.05, 0.45), st.floats(0.05, 0.35)), min_size=2, max_size=8),
    cell=st.floats(2e-3, 6e-3),
)
@settings(deadline=None)
def test_volume_is_conserved_on_any_path(points: list[tuple[float, float]], cell: float) -> None:
    path = DwellPath(np.array(points), np.full(len(points) - 1, 2.0))
    result = removal_map([path], spinning_disc(PAD), RATE, PLATE, cell)
    assert result.volume == pytest.approx(RATE * path.seconds.sum(), rel=1e-12)


def test_a_pad_partly_over_the_border_removes_as_much_with_the_rest() -> None:
    path = DwellPath(np.array([[0.02, 0.02], [0.5, 0.2]]), np.array([3.0]))
    result = removal_map([path], orbital_pad(PAD), RATE, PLATE, 1e-3)
    assert result.volume == pytest.approx(RATE * 3.0, rel=1e-12)
    assert result.largest_overhang == pytest.approx(0.4, abs=0.1)


def test_the_middle_of_an_orbital_pass_has_the_profile_of_its_chords() -> None:
    """h = 2 Q sqrt(R^2 - y^2)/(pi R^2 vf), away from the rim where a cell spans the steep end."""
    result = straight_pass(orbital_pad(PAD), 5e-4)
    y = result.y - 0.2
    middle = result.depth[:, result.x.size // 2]
    expected = 2 * RATE * np.sqrt(np.maximum(PAD**2 - y**2, 0)) / (math.pi * PAD**2 * FEED)
    core = np.abs(y) < 0.9 * PAD
    assert middle[core] == pytest.approx(expected[core], rel=2e-3)
    assert np.abs(middle[np.abs(y) > PAD + 1e-3]).max() < 1e-12 * middle.max()


def test_the_middle_of_a_spinning_pass_has_the_profile_of_its_chords() -> None:
    """h = 3 Q/(2 pi R^3 vf) (R s + y^2 asinh(s/|y|)), s = sqrt(R^2 - y^2)."""
    result = straight_pass(spinning_disc(PAD), 5e-4)
    y = result.y - 0.2
    core = (np.abs(y) < 0.9 * PAD) & (np.abs(y) > 1e-6)
    s = np.sqrt(PAD**2 - y[core] ** 2)
    expected = 3 * RATE / (2 * math.pi * PAD**3 * FEED) * (PAD * s + y[core] ** 2 * np.arcsinh(s / np.abs(y[core])))
    assert result.depth[core, result.x.size // 2] == pytest.approx(expected, rel=3e-3)


def test_a_stay_wears_a_disc_of_even_depth() -> None:
    stay = DwellPath(np.array([[0.25, 0.2], [0.25, 0.2]]), np.array([6.0]))
    result = removal_map([stay], orbital_pad(PAD), RATE, PLATE, 1e-3)
    expected = RATE * 6.0 / (math.pi * PAD**2)
    core = Region(MultiPolygon([shapely.Point(0.25, 0.2).buffer(0.95 * PAD)]))
    figures = result.within(core)
    assert (figures.minimum, figures.maximum) == pytest.approx((expected, expected), rel=2e-3)
    assert figures.ripple == pytest.approx(0, abs=1e-9)


@pytest.mark.parametrize("footprint", PADS)
def test_the_transform_gives_what_the_direct_sum_gives(footprint: Footprint) -> None:
    """The same dwell and footprint summed cell by cell with scipy.ndimage."""
    cell = (5e-3, 4e-3)
    path = DwellPath(np.array([[0.1, 0.1], [0.4, 0.15], [0.2, 0.3]]), np.array([2.0, 5.0]))
    result = removal_map([path], footprint, RATE, PLATE, cell)
    held = Dwell.on([path], Grid.over(PLATE.shape.bounds, cell, (0, 0))).on_cells()
    reach = (math.ceil(footprint.reach[0] / cell[0]), math.ceil(footprint.reach[1] / cell[1]))
    spread = cell_means(lambda x, y: footprint.pressure(x, y) * footprint.speed(x, y), reach, cell)
    direct = ndimage.convolve(held, spread, mode="constant") * RATE / (cell[0] * cell[1])
    # A pad that ends within a cell of the border loses a share of a cell there, in both sums unlike.
    assert result.depth == pytest.approx(direct, rel=1e-9, abs=1e-9 * direct.max())


def test_a_turned_raster_gives_the_turned_map() -> None:
    coverage = Coverage(PAD, 0.05, 0.01)
    turned = Region(shapely.affinity.rotate(PLATE.shape, 90, origin=(0, 0)))
    upright, lying = (
        removal_map(
            at_feed(lay_raster(surface, coverage).paths, FEED), orbital_pad(PAD), RATE, surface, 2e-3
        ).statistics
        for surface in (turned, PLATE)
    )
    assert upright.mean == pytest.approx(lying.mean, rel=1e-6)
    assert upright.maximum == pytest.approx(lying.maximum, rel=2e-3)


def test_the_mean_inside_a_raster_is_the_rate_over_step_and_feed() -> None:
    raster = lay_raster(rectangle(0.6, 0.5), Coverage(PAD, 0.03, border_pass=False))
    result = removal_map(at_feed(raster.paths, FEED), orbital_pad(PAD), RATE, rectangle(0.6, 0.5), 1e-3)
    whole_steps = window(0.2, PAD + 4 * raster.step, 0.2, 3 * raster.step)
    assert result.within(whole_steps).mean == pytest.approx(RATE / (raster.step * FEED), rel=2e-3)


def test_figures_are_those_of_the_cells_inside() -> None:
    hole = shapely.Point(0.25, 0.2).buffer(0.06)
    surface = Region(MultiPolygon([PLATE.shape.geoms[0].difference(hole)]))
    paths = at_feed(lay_raster(surface, Coverage(PAD, 0.03, 0.01)).paths, FEED)
    result = removal_map(paths, orbital_pad(PAD), RATE, surface, 2e-3)
    inside = result.depth[result.inside]
    figures = result.statistics
    assert (result.depth[~result.inside] == 0).all()
    assert inside.size * 4e-6 == pytest.approx(surface.area, rel=2e-3)
    assert figures.mean == pytest.approx(inside.mean())
    assert (figures.low, figures.high) == pytest.approx(tuple(np.quantile(inside, [0.05, 0.95])))
    assert (figures.minimum, figures.maximum) == (inside.min(), inside.max())
    assert figures.ripple == pytest.approx(np.ptp(inside) / inside.mean())
    assert figures.ripple_rms == pytest.approx(inside.std() / inside.mean())
    assert figures.minimum >= 0


def test_without_paths_nothing_is_removed_and_ripple_has_no_meaning() -> None:
    figures = removal_map([], orbital_pad(PAD), RATE, PLATE, 5e-3).statistics
    assert figures.maximum == 0
    assert math.isnan(figures.ripple)


@pytest.mark.parametrize(("carried", "scale"), [(1.0, 1.0), (0.8, 1.25), (0.5, 2.0), (0.2, 2.0), (0.0, 2.0)])
def test_the_set_force_rests_on_what_is_on_the_surface_until_the_pad_tips(carried: float, scale: float) -> None:
    assert local_pressure_scale(np.array([carried]))[0] == pytest.approx(scale)


def test_a_border_quarter_overhang_raises_the_pressure_as_the_area_falls() -> None:
    """A square pad that hangs over by a quarter of its length, moving along a straight border."""
    square = BeltContact(0.08, 0.08)
    path = at_feed([np.array([[0.1, 0.02], [0.4, 0.02]])], FEED)
    result = removal_map(path, square, RATE, PLATE, 1e-3)
    assert result.largest_overhang == pytest.approx(0.25, abs=1e-9)
    # A stiff pad: (1 + 3 f/(1 - f))/(1 - f) at f = 1/4.
    assert result.edge_pressure_ratio == pytest.approx(8 / 3)
    assert result.within(window(0.2, 0.0, 0.1, 0.059)).mean == pytest.approx(RATE / (0.06 * FEED), rel=1e-3)


def test_a_pad_that_would_tip_is_told_by_an_endless_pressure() -> None:
    path = at_feed([np.array([[0.1, -0.01], [0.4, -0.01]])], FEED)
    result = removal_map(path, orbital_pad(PAD), RATE, PLATE, 1e-3)
    assert result.largest_overhang > 0.5
    assert result.edge_pressure_ratio == math.inf


@pytest.mark.parametrize(
    ("cell", "message"), [(0.0, "above zero"), (-1e-3, "above zero"), (math.nan, "above zero"), (1e-7, "too many")]
)
def test_cells_must_have_a_sensible_size(cell: float, message: str) -> None:
    with pytest.raises(ValueError, match=message):
        straight_pass(orbital_pad(PAD), cell)


def test_a_region_that_no_cell_hits_is_told() -> None:
    frame = Region(MultiPolygon([shapely.box(0, 0, 1, 1).difference(shapely.box(0.1, 0.1, 0.9, 0.9))]))
    with pytest.raises(ValueError, match="cell must be smaller than the region"):
        removal_map([], orbital_pad(PAD), RATE, frame, 1.0)
    with pytest.raises(ValueError, match="no cell of the removal map lies in this region"):
        straight_pass(orbital_pad(PAD), 1e-3).within(window(1.0, 1.0, 0.1, 0.1))


def test_a_square_metre_at_a_millimetre_takes_little_memory() -> None:
    surface = rectangle(1.0, 1.0)
    paths = at_feed(lay_raster(surface, Coverage(0.075, 0.05)).paths, FEED)
    tracemalloc.start()
    result = removal_map(paths, orbital_pad(0.075), RATE, surface, 1e-3)
    _, peak = tracemalloc.get_traced_memory()
    tracemalloc.stop()
    assert result.depth.shape == (1000, 1000)
    assert peak < 200e6
