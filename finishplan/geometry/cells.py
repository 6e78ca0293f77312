"""Cells of a raster: stacks of lines that can be worked back and forth without meeting a hole.

A cell ends where a line is split by a hole or a notch, where two parts of a line grow together,
and where the region begins or ends (the boustrophedon decomposition of Choset, Coverage of known
spaces: the boustrophedon cellular decomposition, Autonomous Robots 9 (2000) 247-253, taken at
the lines themselves).
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray
from scipy.sparse import coo_array
from scipy.sparse.csgraph import connected_components

from finishplan.geometry.scanline import Chords

Indices = NDArray[np.intp]


def cells(chords: Chords) -> list[Indices]:
    """Group the chords of one polygon into cells.

    Parameters
    ----------
    chords : Chords
        Of one polygon, by line and then from left to right.

    Returns
    -------
    list of (m,) arrays of int
        The chords of each cell, one on each of m lines that follow one another; cells in the order
        of their first chord.
    """
    total = chords.line.size
    lower, upper = _continued(chords)
    links = coo_array((np.ones(lower.size), (lower, upper)), shape=(total, total))
    _, label = connected_components(links, directed=False)
    order = np.argsort(label, kind="stable")
    grouped = np.split(order, np.flatnonzero(np.diff(label[order])) + 1) if total else []
    return sorted(grouped, key=lambda cell: int(cell[0]))


def _continued(chords: Chords) -> tuple[Indices, Indices]:
    """Pairs of chords on adjacent lines that overlap each other and no third chord between the two lines."""
    first_above, above = _overlapping(chords, 1)
    first_below, below = _overlapping(chords, -1)
    single = np.flatnonzero(above == 1)
    partner = first_above[single]
    mutual = (below[partner] == 1) & (first_below[partner] == single)
    return single[mutual], partner[mutual]


def _overlapping(chords: Chords, offset: int) -> tuple[Indices, Indices]:
    """The first of the chords `offset` lines on that overlap each chord, and how many do."""
    if not chords.line.size:
        return chords.line, chords.line
    left, right = chords.left - chords.left.min(), chords.right - chords.left.min()
    # Chords in one row of numbers: each line's chords lie in a span of their own.
    span = 2 * right.max() + 1.0
    ends, starts = chords.line * span + right, chords.line * span + left
    first = np.searchsorted(ends, starts + offset * span, side="right")
    beyond = np.searchsorted(starts, ends + offset * span, side="left")
    return first, np.maximum(beyond - first, 0)
