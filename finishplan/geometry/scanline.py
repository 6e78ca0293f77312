"""Scanlines: where horizontal lines cross the borders of polygons.

A line through a vertex counts the edge above it and not the edge below, so that every line crosses
a closed border an even number of times.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry.base import BaseGeometry

from finishplan.geometry.piece import Points


@dataclass(frozen=True, eq=False)
class Chords:
    """The parts of horizontal lines inside a shape, by line and then from left to right.

    Attributes
    ----------
    line : (n,) array of int
        Number of the line each chord lies on.
    left, right : (n,) arrays
        Where each chord begins and ends [m].
    """

    line: NDArray[np.intp]
    left: Points
    right: Points


def chords(shape: BaseGeometry, heights: Points) -> Chords:
    """The parts of lines at ascending heights y [m] that lie inside a valid polygon or several."""
    line, x = _crossings(shape, heights)
    return Chords(line[::2], x[::2], x[1::2])


def inside(shape: BaseGeometry, x: Points, y: Points) -> NDArray[np.bool_]:
    """Which points of a grid lie inside a valid polygon or several.

    Parameters
    ----------
    shape : Polygon or MultiPolygon
        The shape [m].
    x, y : (n,) and (m,) arrays
        Columns and rows of the grid, ascending [m].

    Returns
    -------
    (m, n) array of bool
        True inside.
    """
    line, crossing = _crossings(shape, y)
    first_beyond = np.searchsorted(x, crossing)
    toggles = np.bincount(line * (x.size + 1) + first_beyond, minlength=y.size * (x.size + 1))
    odd = np.cumsum(toggles.reshape(y.size, x.size + 1), axis=1, dtype=np.int32) & 1
    return np.asarray(odd[:, :-1] == 1)


def _crossings(shape: BaseGeometry, heights: Points) -> tuple[NDArray[np.intp], Points]:
    """Number of the line and x of every crossing, by line and then from left to right."""
    low, high = _edges(shape)
    first, beyond = np.searchsorted(heights, low[:, 1]), np.searchsorted(heights, high[:, 1])
    count = beyond - first
    edge = np.repeat(np.arange(count.size), count)
    line = np.arange(edge.size) - np.repeat(np.cumsum(count) - count, count) + first[edge]
    share = (heights[line] - low[edge, 1]) / (high[edge, 1] - low[edge, 1])
    x = low[edge, 0] + share * (high[edge, 0] - low[edge, 0])
    order = np.lexsort((x, line))
    return line[order], x[order]


def _edges(shape: BaseGeometry) -> tuple[Points, Points]:
    """Lower and upper ends of all edges of a shape's borders."""
    points, ring = shapely.get_coordinates(shapely.get_rings(shapely.get_parts(shape)), return_index=True)
    joined = ring[1:] == ring[:-1]
    start, end = points[:-1][joined], points[1:][joined]
    rising = (start[:, 1] <= end[:, 1])[:, None]
    return np.where(rising, start, end), np.where(rising, end, start)
