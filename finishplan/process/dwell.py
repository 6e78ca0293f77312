"""Dwell: how long a tool's centre stays over each cell of a grid."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

Field = NDArray[np.float64]
Indices = NDArray[np.intp]

MOST_CELLS: Final = 20_000_000
"""Largest grid; a map of this size takes about 1 GB of memory."""


@dataclass(frozen=True, eq=False)
class DwellPath:
    """A path in contact and the time taken for it.

    Attributes
    ----------
    points : (n, 2) array
        Where the tool's centre goes [m]; a point repeated is a stay.
    seconds : (n - 1,) array
        Time from each point to the next, at even feed [s].
    """

    points: Field
    seconds: Field


def at_feed(paths: Iterable[Field], feed: float) -> list[DwellPath]:
    """Paths [m] travelled at one feed [m/s]."""
    if not 0 < feed < math.inf:
        raise ValueError(f"at_feed: feed must be above zero [m/s], given {feed:g}")
    return [DwellPath(points, np.hypot(*np.diff(points, axis=0).T) / feed) for points in paths]


@dataclass(frozen=True)
class Grid:
    """Equal rectangular cells.

    Attributes
    ----------
    first : (float, float)
        Centre of the first cell [m].
    cell : (float, float)
        Size of a cell along x and along y [m].
    columns, rows : int
        Number of cells along x and along y.
    """

    first: tuple[float, float]
    cell: tuple[float, float]
    columns: int
    rows: int

    @classmethod
    def over(
        cls, bounds: tuple[float, float, float, float], cell: tuple[float, float], margin: tuple[int, int]
    ) -> Grid:
        """Cells over a box (x, y lowest, x, y highest) [m], with a margin of cells on every side.

        Raises
        ------
        ValueError
            Cells that are not above zero in size, or too many.
        """
        if not (min(cell) > 0 and math.isfinite(max(cell))):
            raise ValueError(f"Grid: cells must be above zero in size [m], given {min(cell):g}")
        extent = (bounds[2] - bounds[0], bounds[3] - bounds[1])
        if math.prod(extent[axis] / cell[axis] + 2 * margin[axis] for axis in (0, 1)) > MOST_CELLS:
            raise ValueError(f"Grid: cells of {cell[0]:g} m x {cell[1]:g} m are too many: more than {MOST_CELLS}")
        count = [max(math.ceil(extent[axis] / cell[axis] - 1e-9), 1) for axis in (0, 1)]
        first = [
            (bounds[axis] + bounds[axis + 2]) / 2 - ((count[axis] - 1) / 2 + margin[axis]) * cell[axis]
            for axis in (0, 1)
        ]
        return cls((first[0], first[1]), cell, count[0] + 2 * margin[0], count[1] + 2 * margin[1])

    @property
    def x(self) -> Field:
        """Centres of the columns [m]."""
        return self.first[0] + self.cell[0] * np.arange(self.columns, dtype=np.float64)

    @property
    def y(self) -> Field:
        """Centres of the rows [m]."""
        return self.first[1] + self.cell[1] * np.arange(self.rows, dtype=np.float64)


@dataclass(frozen=True, eq=False)
class Dwell:
    """Paths cut where they cross the lines through the cells' centres, with the time of each piece.

    Between four centres anything shared out by nearness changes along a straight piece as a
    quadratic at most, so that its integral has a closed form.

    Attributes
    ----------
    grid : Grid
        The cells.
    cell : (n, 2) array of int
        Column and row of the centre below and left of each piece.
    fraction, travel : (n, 2) arrays
        Place of the piece's middle between the centres, and the way from its start to its end [cells].
    seconds : (n,) array
        Time of the piece [s].
    """

    grid: Grid
    cell: Indices
    fraction: Field
    travel: Field
    seconds: Field

    @classmethod
    def on(cls, paths: Sequence[DwellPath], grid: Grid) -> Dwell:
        """The pieces of paths over a grid; what lies outside it is left out."""
        start, end, seconds = _segments(paths, grid)
        segment, begin, until = _pieces(start, end)
        travel = end[segment] - start[segment]
        middle = start[segment] + travel * ((begin + until) / 2)[:, None]
        cell = np.floor(middle).astype(np.intp)
        held = np.all((cell >= 0) & (cell < [grid.columns - 1, grid.rows - 1]), axis=1)
        share = (until - begin)[held]
        return cls(
            grid, cell[held], (middle - cell)[held], travel[held] * share[:, None], seconds[segment[held]] * share
        )

    def on_cells(self) -> Field:
        """Dwell on every cell [s], rows along y.

        Each moment counts for the four cells whose centres surround the tool, the more the nearer.
        So the total time and its centre of gravity are kept, wherever a path lies between the cells.
        """
        weights = self._shares * self.seconds
        size = self.grid.rows * self.grid.columns
        total = np.bincount(self._corners.ravel(), weights.ravel(), minlength=size).astype(np.float64)
        return total.reshape(self.grid.rows, self.grid.columns)

    def means_of(self, field: Field) -> Field:
        """Mean over every piece of a field given on the cells and linear between their centres."""
        return np.asarray((self._shares * field.ravel()[self._corners]).sum(axis=0))

    @property
    def _corners(self) -> Indices:
        """The four cells around each piece, as places in the flattened grid."""
        base = self.cell[:, 1] * self.grid.columns + self.cell[:, 0]
        return np.stack([base, base + 1, base + self.grid.columns, base + self.grid.columns + 1])

    @property
    def _shares(self) -> Field:
        """Shares of the four cells in the time of each piece."""
        right, up = self.fraction.T
        bend = self.travel[:, 0] * self.travel[:, 1] / 12
        return np.stack(
            [(1 - right) * (1 - up) + bend, right * (1 - up) - bend, (1 - right) * up - bend, right * up + bend]
        )


def _segments(paths: Sequence[DwellPath], grid: Grid) -> tuple[Field, Field, Field]:
    """Starts and ends of all segments, counted in cells from the first centre, and their times."""
    if not paths:
        return np.empty((0, 2)), np.empty((0, 2)), np.empty(0)
    placed = [(path.points - np.array(grid.first)) / np.array(grid.cell) for path in paths]
    return (
        np.concatenate([points[:-1] for points in placed]),
        np.concatenate([points[1:] for points in placed]),
        np.concatenate([path.seconds for path in paths]),
    )


def _pieces(start: Field, end: Field) -> tuple[Indices, Field, Field]:
    """Segments cut at every whole coordinate: the segment of each piece, and the shares of it at its ends."""
    whole = np.arange(len(start))
    cuts = [_cuts(start[:, axis], end[:, axis]) for axis in (0, 1)]
    segment = np.concatenate([whole, whole, *(of for of, _ in cuts)])
    share = np.concatenate([np.zeros(len(start)), np.ones(len(start)), *(at for _, at in cuts)])
    order = np.lexsort((share, segment))
    segment, share = segment[order], share[order]
    piece = np.flatnonzero(segment[1:] == segment[:-1])
    return segment[piece], share[piece], share[piece + 1]


def _cuts(start: Field, end: Field) -> tuple[Indices, Field]:
    """Whole numbers strictly between start and end: the segment of each, and its share of the way."""
    first = np.floor(np.minimum(start, end)) + 1
    count = np.maximum(np.ceil(np.maximum(start, end)) - first, 0).astype(np.intp)
    segment = np.repeat(np.arange(count.size), count)
    number = first[segment] + np.arange(segment.size) - np.repeat(np.cumsum(count) - count, count)
    return segment, (number - start[segment]) / (end - start)[segment]
