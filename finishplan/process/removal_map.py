"""Removal maps: the depth removed at every place of a region by the paths of a tool over it.

The depth is the footprint of the tool convolved with its dwell (Preston, The theory and design of
plate glass polishing machines, J. Soc. Glass Technol. 11 (1927) 214-256: depth rate as coefficient
times pressure times speed). It is computed by Fourier transform on equal cells.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray
from scipy.fft import irfft2, next_fast_len, rfft2

from finishplan import physics
from finishplan.geometry.region import Region
from finishplan.geometry.scanline import inside
from finishplan.process.dwell import Dwell, DwellPath, Field, Grid
from finishplan.process.footprint import Footprint, cell_means

_TIPPING = 0.5
"""Share of a stiff pad that may hang over before it tips."""


@dataclass(frozen=True)
class Statistics:
    """Depth over the places of a region, each cell counted alike.

    Attributes
    ----------
    mean, low, high, minimum, maximum : float
        Mean, 5 % and 95 % quantile, least and largest depth [m].
    ripple : float
        Largest less least depth over the mean [1].
    ripple_rms : float
        Standard deviation over the mean [1].
    """

    mean: float
    low: float
    high: float
    minimum: float
    maximum: float
    ripple: float
    ripple_rms: float


@dataclass(frozen=True, eq=False)
class RemovalMap:
    """Depth removed over a region.

    Attributes
    ----------
    depth : (m, n) array
        Mean depth over each cell, rows along y; zero outside the region [m].
    inside : (m, n) array of bool
        Cells whose centre lies in the region.
    x, y : (n,) and (m,) arrays
        Centres of the cells [m].
    cell : (float, float)
        Size of a cell along x and along y [m].
    largest_overhang : float
        Largest share of the pad's contact that hangs over a border anywhere on the paths [1].
    edge_pressure_ratio : float
        Pressure a stiff pad puts on the border there, over its pressure on the full surface, its
        share of area taken for a share of length; infinite where it would tip [1].
    """

    depth: Field
    inside: NDArray[np.bool_]
    x: Field
    y: Field
    cell: tuple[float, float]
    largest_overhang: float
    edge_pressure_ratio: float

    @property
    def volume(self) -> float:
        """Volume removed from the region [m3]."""
        return float(self.depth.sum()) * math.prod(self.cell)

    @property
    def statistics(self) -> Statistics:
        """Depth over the whole region."""
        return _statistics(self.depth[self.inside])

    def within(self, region: Region) -> Statistics:
        """Depth over the cells whose centres lie in this region as well, such as its parts off the border.

        Raises
        ------
        ValueError
            No cell lies in both.
        """
        chosen = self.inside & inside(region.shape, self.x, self.y)
        if not chosen.any():
            raise ValueError("within: no cell of the removal map lies in this region")
        return _statistics(self.depth[chosen])


def removal_map(
    paths: Sequence[DwellPath],
    footprint: Footprint,
    rate: float,
    region: Region,
    cell: float | tuple[float, float],
) -> RemovalMap:
    """Depth removed over a region by paths of one tool.

    Parameters
    ----------
    paths : sequence of DwellPath
        Where the tool goes, and for how long; all passes together.
    footprint : Footprint
        How the removal is spread under the tool.
    rate : float
        Volume the tool removes per time in full contact, K F v [m3/s].
    region : Region
        The surface. Nothing outside it is removed.
    cell : float or (float, float)
        Size of the cells along x and y [m]. The depth is averaged over a cell: the ripple of a pad
        with a sharp rim has narrow valleys, which cells coarser than a hundredth of the radius
        fill up by several per cent of the mean.

    Returns
    -------
    RemovalMap
        Depth on every cell and figures of it.

    Raises
    ------
    ValueError
        Cells that are not above zero, too many or larger than the region.

    Notes
    -----
    Where the pad hangs over a border the set force rests on the part of it inside, so the pressure
    there is taken higher in the same ratio, at most doubled: a stiff pad tips once half of it hangs
    over. The pressure stays even under the pad; a stiff pad tilts and presses more on the border
    itself, by `edge_pressure_ratio` at the worst place.
    """
    size = (float(cell), float(cell)) if isinstance(cell, int | float) else cell
    if not min(size) > 0:
        raise ValueError(f"removal_map: cell must be above zero [m], given {min(size):g}")
    reach = (math.ceil(footprint.reach[0] / size[0]), math.ceil(footprint.reach[1] / size[1]))
    # The sharing of dwell reaches one cell further than the footprint.
    margin = (reach[0] + 1, reach[1] + 1)
    grid = Grid.over(region.shape.bounds, size, margin)
    surface = inside(region.shape, grid.x, grid.y)
    if not surface.any():
        raise ValueError(f"removal_map: cell must be smaller than the region [m], given {max(size):g}")
    dwell = Dwell.on(paths, grid)
    contact, spread = _on_cells(footprint, reach, size)
    carried = _carried(surface, contact)
    volume = _convolved(dwell.on_cells() * local_pressure_scale(carried), spread) * rate
    # Rounding of the transform leaves traces below zero where the tool never comes.
    depth = np.where(surface, np.maximum(volume, 0.0), 0.0) / math.prod(size)
    kept = np.s_[margin[1] : -margin[1], margin[0] : -margin[0]]
    overhang = float(np.max(1 - dwell.means_of(carried), initial=0.0))
    ratio = float(physics.overhang_pressure_ratio(overhang)) if overhang < _TIPPING else math.inf
    return RemovalMap(
        depth[kept],
        surface[kept],
        grid.x[margin[0] : -margin[0]],
        grid.y[margin[1] : -margin[1]],
        size,
        overhang,
        ratio,
    )


@lru_cache(maxsize=16)
def _on_cells(footprint: Footprint, reach: tuple[int, int], size: tuple[float, float]) -> tuple[Field, Field]:
    """Contact and removal of a footprint over the cells around its centre; the surfaces of a job share their tools."""

    def removal(x: Field, y: Field) -> Field:
        return footprint.pressure(x, y) * footprint.speed(x, y)

    return cell_means(footprint.pressure, reach, size), cell_means(removal, reach, size)


def local_pressure_scale(carried: Field) -> Field:
    """Pressure of a pad of which a share rests on the surface, over its pressure with all of it there.

    Parameters
    ----------
    carried : array
        Share of the pad's contact inside the region, weighted with the pressure [1].

    Returns
    -------
    array
        One over the share, at most 2: a stiff pad tips beyond.
    """
    return 1 / np.maximum(carried, 1 - _TIPPING)


def _carried(surface: NDArray[np.bool_], contact: Field) -> Field:
    """Share of the pad's contact on the surface, for its centre over every cell."""
    return np.clip(_convolved(surface.astype(float), contact), 0.0, 1.0)


def _convolved(field: Field, kernel: Field) -> Field:
    """Convolution with a kernel of odd size, centred.

    The transform wraps around; the margin of the grid is as wide as the kernel reaches, so what
    comes back on the far side stays in the margin.
    """
    shape = [next_fast_len(length, real=True) for length in field.shape]
    whole = irfft2(rfft2(field, shape) * rfft2(kernel, shape), shape)
    centred = np.roll(whole, [-(kernel.shape[0] // 2), -(kernel.shape[1] // 2)], axis=(0, 1))
    return centred[: field.shape[0], : field.shape[1]]


def _statistics(depth: Field) -> Statistics:
    mean, least, most = float(depth.mean()), float(depth.min()), float(depth.max())
    low, high = np.quantile(depth, [0.05, 0.95])
    ripple, rms = ((most - least) / mean, float(depth.std()) / mean) if mean > 0 else (math.nan, math.nan)
    return Statistics(mean, float(low), float(high), least, most, ripple, rms)
