"""Where closed outlines meet themselves or one another."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import shapely
from numpy.typing import NDArray

from finishplan.geometry.piece import Points

Indices = NDArray[np.intp]


@dataclass(frozen=True, eq=False)
class Meeting:
    """Two outlines that touch, cross or run along each other; the same index twice is one that meets itself.

    Attributes
    ----------
    one, other : int
        Indices of the outlines, the lower first.
    place : (2,) array
        The first place found [m].
    count : int
        Number of places.
    """

    one: int
    other: int
    place: Points
    count: int


@dataclass(frozen=True, eq=False)
class _Segments:
    """The straight segments of all outlines, with the outline each belongs to and its number on it."""

    lines: NDArray[np.object_]
    outline: Indices
    number: Indices
    total: Indices

    def follow_each_other(self, one: Indices, other: Indices) -> NDArray[np.bool_]:
        """Whether segments are neighbours on one outline and share a vertex by right."""
        apart = np.abs(self.number[one] - self.number[other])
        last = self.total[self.outline[one]] - 1
        return np.asarray((self.outline[one] == self.outline[other]) & ((apart == 1) | (apart == last)))


def meetings(outlines: Sequence[Points]) -> list[Meeting]:
    """Every pair of outlines that have a point in common, and every outline that meets itself.

    Parameters
    ----------
    outlines : sequence of (n, 2) arrays
        Closed outlines, the first point repeated last, without double points [m].

    Returns
    -------
    list of Meeting
        In order of the outlines.
    """
    segments = _segments(outlines)
    one, other = shapely.STRtree(segments.lines).query(segments.lines, predicate="intersects")
    one, other = one[one < other], other[one < other]
    shared = shapely.intersection(segments.lines[one], segments.lines[other])
    # Neighbours meet in their vertex; in more than a point only where the outline turns back on itself.
    point = shapely.get_type_id(shared) == shapely.GeometryType.POINT
    wrong = ~(segments.follow_each_other(one, other) & point)
    places = shapely.get_coordinates(shapely.centroid(shared[wrong]))
    pairs = np.sort(np.stack([segments.outline[one[wrong]], segments.outline[other[wrong]]], axis=1), axis=1)
    kinds, first, count = np.unique(pairs, axis=0, return_index=True, return_counts=True)
    return [Meeting(int(a), int(b), places[i], int(n)) for (a, b), i, n in zip(kinds, first, count, strict=True)]


def _segments(outlines: Sequence[Points]) -> _Segments:
    total = np.array([len(points) - 1 for points in outlines], dtype=np.intp)
    ends = np.concatenate([np.stack([points[:-1], points[1:]], axis=1) for points in outlines])
    number = np.concatenate([np.arange(count) for count in total])
    return _Segments(np.asarray(shapely.linestrings(ends)), np.repeat(np.arange(len(outlines)), total), number, total)
