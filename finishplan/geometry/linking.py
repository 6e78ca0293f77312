"""Links: the ways a tool takes from one line of a raster to the next without leaving the region."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry import LineString, Polygon

from finishplan.geometry.piece import Points

TOLERANCE: Final = 1e-8
"""Distance by which a way may leave the region through rounding [m]."""


def length_of(points: Points) -> float:
    """Length of a polyline [m]."""
    return float(np.hypot(*np.diff(points, axis=0).T).sum())


class Border:
    """One closed border of a polygon, to be travelled from any place on it to any other."""

    def __init__(self, ring: LineString) -> None:
        self._line = ring
        self._points = shapely.get_coordinates(ring)
        steps = np.hypot(*np.diff(self._points, axis=0).T)
        self._at = np.concatenate([[0.0], np.cumsum(steps)])

    @property
    def length(self) -> float:
        """Once around [m]."""
        return float(self._at[-1])

    def distance(self, point: Points) -> float:
        """From a point to the nearest place on the border [m]."""
        return float(shapely.distance(self._line, shapely.points(point)))

    def around(self, point: Points) -> Points:
        """Once around, from and to the place nearest to a point."""
        start = self._position(point)
        return self._forward(start, start + self.length)

    def way(self, start: Points, end: Points) -> Points:
        """The shorter way along the border between the places nearest to two points."""
        one, other = self._position(start), self._position(end)
        ahead = (other - one) % self.length
        if ahead <= self.length / 2:
            return self._forward(one, one + ahead)
        return self._forward(other, other + self.length - ahead)[::-1]

    def _position(self, point: Points) -> float:
        return float(shapely.line_locate_point(self._line, shapely.points(point)))

    def _forward(self, start: float, end: float) -> Points:
        """From one distance along the border to another, at most once around further."""
        at = np.concatenate([self._at, self._at[1:] + self.length])
        points = np.concatenate([self._points, self._points[1:]])
        passed = points[(at > start) & (at < end)]
        ends = [[np.interp(place, at, points[:, axis]) for axis in (0, 1)] for place in (start, end)]
        return np.concatenate([ends[:1], passed, ends[1:]])


@dataclass(frozen=True, eq=False)
class Ways:
    """The ways inside one polygon: straight where nothing is in between, along the border elsewhere."""

    borders: tuple[Border, ...]
    room: Polygon

    @classmethod
    def within(cls, polygon: Polygon) -> Ways:
        """The ways inside a polygon with its holes."""
        room = polygon.buffer(TOLERANCE, join_style="mitre")
        shapely.prepare(room)
        return cls(tuple(Border(ring) for ring in shapely.get_rings(polygon)), room)

    def straight(self, starts: Points, ends: Points) -> NDArray[np.bool_]:
        """Whether the straight line between each two points stays inside."""
        return np.asarray(shapely.covers(self.room, shapely.linestrings(np.stack([starts, ends], axis=1))))

    def around(self, start: Points, end: Points) -> Points:
        """A way between two points inside: straight on, and along the border where that is in the way.

        Outside the polygon a straight line lies in one hole or beyond the outer border, so it comes
        back in at the same border by which it went out.
        """
        line = LineString([start, end])
        outside = shapely.get_parts(line.difference(self.room))
        gaps = sorted((gap for gap in outside if gap.length > 0), key=lambda gap: line.project(gap.centroid))
        detours = [self._detour(shapely.get_coordinates(gap), start) for gap in gaps]
        return np.concatenate([start[None], *detours, end[None]])

    def _detour(self, gap: Points, start: Points) -> Points:
        leaving, returning = sorted((gap[0], gap[-1]), key=lambda point: float(np.hypot(*(point - start))))
        border = min(self.borders, key=lambda border: border.distance(leaving) + border.distance(returning))
        return border.way(leaving, returning)
