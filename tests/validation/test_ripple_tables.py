"""Ripple left by even rasters, against the sum of passes worked out with a general-purpose library.

Depth under a moving tool is the integral of its footprint along the pass (Preston, J. Soc. Glass
Technol. 11 (1927) 214-256), and an even raster is the sum of such passes at one pitch. Here the
integral is scipy.integrate's over each chord and the sum is written out, so that nothing of the
removal map's grid, dwell or transform enters. Origin of every expected value: library. No printed
ripple table was found; the footprints and pitches are those usual in sanding and polishing.
"""

from __future__ import annotations

import math
from collections.abc import Callable

import numpy as np
import pytest
import shapely
from scipy.integrate import quad_vec
from scipy.stats import norm
from shapely.geometry import MultiPolygon

from finishplan.geometry import Coverage, Region, lay_raster, rectangle
from finishplan.process.dwell import at_feed
from finishplan.process.footprint import BeltContact, Field, Footprint, gaussian_pad, orbital_pad, spinning_disc
from finishplan.process.removal_map import Statistics, removal_map

RATE, FEED = 1e-9, 0.1
RADIUS = 0.075
PITCHES = [3 / 2, 4 / 3, 1, 4 / 5, 2 / 3, 1 / 2, 1 / 3, 1 / 4]
"""Pitch over radius of the pad, from 25 to 87.5 % overlap of the passes."""


def interior(footprint: Footprint, reach: float, pitch: float, rows: int) -> Statistics:
    """Depth over one whole pitch in the middle of a raster whose borders are out of reach.

    `rows` counts cells to the reach; the pitch is a whole number of them too. Half a cell around the
    raster puts its lines on centres of cells.
    """
    cell = (reach / 60, reach / rows)
    intervals = 2 * math.ceil(reach / pitch + 1)
    surface = rectangle(4.5 * reach, intervals * pitch + 2 * reach)
    raster = lay_raster(surface, Coverage(reach, pitch, direction=0.0, border_pass=False))
    assert raster.step == pytest.approx(pitch)
    around = box(0.0, -cell[1] / 2, 4.5 * reach, intervals * pitch + 2 * reach + cell[1] / 2)
    middle = reach + intervals * pitch / 2
    one_pitch = box(2.2 * reach, middle - pitch / 2 - cell[1] / 4, 2.3 * reach, middle + pitch / 2 - cell[1] / 4)
    return removal_map(at_feed(raster.paths, FEED), footprint, RATE, around, cell).within(one_pitch)


def box(left: float, bottom: float, right: float, top: float) -> Region:
    return Region(MultiPolygon([shapely.box(left, bottom, right, top)]))


def pass_of(density: Callable[[Field], Field], y: Field) -> Field:
    """Depth across one pass of a round footprint of radius 1, its density given over the distance from the centre."""
    half_chord = np.sqrt(np.maximum(1 - y**2, 0))
    along, _ = quad_vec(lambda u: density(np.hypot(u * half_chord, y)), 0, 1, epsabs=1e-10)
    return 2 * half_chord * along


def expected_ripple(density: Callable[[Field], Field], pitch: float) -> tuple[float, float]:
    """Peak to valley and standard deviation over the mean, for pitch in radii.

    The valleys lie where the rim of a pass begins, so those places are looked at as well.
    """
    numbers = np.arange(-math.ceil(1 / pitch) - 1, math.ceil(1 / pitch) + 2)
    rims = np.mod(1 + numbers * pitch, pitch)
    even = (np.arange(6000) + 0.5) / 6000 * pitch
    y = np.concatenate([even, rims, [0.0, pitch / 2]])
    depth = np.sum([pass_of(density, y - number * pitch) for number in numbers], axis=0)
    return float(np.ptp(depth) / depth[:6000].mean()), float(depth[:6000].std() / depth[:6000].mean())


@pytest.mark.parametrize("pitch", PITCHES)
@pytest.mark.parametrize(
    ("footprint", "density"),
    [
        pytest.param(orbital_pad(RADIUS), np.ones_like, id="orbital"),
        pytest.param(spinning_disc(RADIUS), lambda r: r, id="spinning"),
    ],
)
def test_pads_with_a_sharp_rim(footprint: Footprint, density: Callable[[Field], Field], pitch: float) -> None:
    """Within 1 %: what the sampling of the rim leaves when cells of R/960 and R/240 are carried on to none.

    A valley under a rim has the form of a square root, so the mean over a cell lies above its bottom by
    the square root of the cell's size: twice the finer figure less the coarser one has none of that.
    """
    fine, coarse = (interior(footprint, RADIUS, pitch * RADIUS, rows) for rows in (960, 240))
    peak_to_valley, standard_deviation = expected_ripple(density, pitch)
    assert fine.mean == pytest.approx(RATE / (pitch * RADIUS * FEED), rel=1e-3)
    assert 2 * fine.ripple - coarse.ripple == pytest.approx(peak_to_valley, rel=0.01)
    assert fine.ripple_rms == pytest.approx(standard_deviation, rel=0.01)


@pytest.mark.parametrize("pitch", [1.0, 1.5, 1.75, 2.0, 2.25, 2.5, 3.0, 3.5, 4.0])
def test_gaussian_footprints(pitch: float) -> None:
    """Pitch in standard deviations; the sum of scipy.stats.norm over all passes.

    Within 1 %: cells of p/48, and a footprint cut off at seven standard deviations.
    """
    deviation, pitches_to_reach = 0.01, math.ceil(7 / pitch)
    reach = pitches_to_reach * pitch * deviation
    found = interior(gaussian_pad(deviation), reach, pitch * deviation, 48 * pitches_to_reach)
    y = np.arange(240) / 240 * pitch
    depth = norm.pdf(y - np.arange(-40, 41)[:, None] * pitch).sum(axis=0)
    assert found.mean == pytest.approx(RATE / (pitch * deviation * FEED), rel=1e-9)
    assert found.ripple == pytest.approx(np.ptp(depth) / depth.mean(), rel=0.01)
    assert found.ripple_rms == pytest.approx(depth.std() / depth.mean(), rel=0.01)


class Ridge(BeltContact):
    """A contact whose pressure falls evenly from its middle to nothing at either side."""

    def pressure(self, x: Field, y: Field) -> Field:
        return super().pressure(x, y) * (1 - 2 * np.abs(y) / self.width)


@pytest.mark.parametrize("share", [1, 2, 3, 4])
@pytest.mark.parametrize(
    ("footprint", "widest_pitch"),
    [
        pytest.param(BeltContact(0.05, 0.12), 0.12, id="rectangle: its width"),
        pytest.param(Ridge(0.05, 0.12), 0.06, id="triangle: half its base"),
    ],
)
def test_rectangles_and_triangles_leave_no_ripple_at_whole_shares(
    footprint: Footprint, widest_pitch: float, share: int
) -> None:
    """B-splines of the first and second order add up to one at whole shares of their width.

    De Boor, A Practical Guide to Splines (partition of unity). Within rounding. Origin: printed identity.
    """
    found = interior(footprint, 0.06, widest_pitch / share, 120)
    assert found.ripple < 1e-9
    assert interior(footprint, 0.06, widest_pitch / share * 0.85, 120).ripple > 1e-2


@pytest.mark.parametrize(
    "footprint", [orbital_pad(RADIUS), spinning_disc(RADIUS), gaussian_pad(0.012), Ridge(0.05, 0.12)]
)
def test_volume_is_conserved(footprint: Footprint) -> None:
    """All that a tool removes is missing from a surface it never leaves. Within rounding. Origin: conservation law."""
    surface = rectangle(0.8, 0.6)
    paths = at_feed(lay_raster(surface, Coverage(0.09, 0.07, direction=0.3)).paths, FEED)
    removed = removal_map(paths, footprint, RATE, surface, 2e-3).volume
    assert removed == pytest.approx(RATE * sum(path.seconds.sum() for path in paths), rel=1e-12)
