"""Lines of a raster: where they lie in a region, and the direction that takes fewest of them."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry import MultiPolygon, Polygon

from finishplan.geometry.cells import cells
from finishplan.geometry.coverage import Coverage
from finishplan.geometry.piece import COINCIDENT, Points
from finishplan.geometry.region import Region
from finishplan.geometry.runs import CellRun
from finishplan.geometry.scanline import Chords, chords

_LONGEST_SIDES: Final = 6
"""Sides of the outline whose directions are tried for the lines."""

_SAME_DIRECTION: Final = math.radians(1)


@dataclass(frozen=True, eq=False)
class Room:
    """One connected part of where the pad's centre may be.

    Attributes
    ----------
    centre : Polygon
        Where links and border passes may lie [m].
    lines : tuple of Polygon
        Where lines may lie, clear of the border passes [m].
    """

    centre: Polygon
    lines: tuple[Polygon, ...]


@dataclass(frozen=True, eq=False)
class Lines:
    """The lines in one room: chords of its polygons, turned so that they run along x.

    Attributes
    ----------
    chords : tuple of Chords
        For every polygon the lines may lie in.
    heights : (n,) array
        Where the turned lines lie [m].
    direction : float
        Direction of the lines from the x axis [rad].
    step : float
        Distance from line to line [m].
    """

    chords: tuple[Chords, ...]
    heights: Points
    direction: float
    step: float

    @property
    def count(self) -> int:
        """Number of lines, parted ones counted in every part."""
        return sum(part.line.size for part in self.chords)

    @property
    def length(self) -> float:
        """Length of all lines [m]."""
        return float(sum((part.right - part.left).sum() for part in self.chords))

    def runs(self) -> list[CellRun]:
        """One run for each cell, turned back into place."""
        return [
            CellRun(self._placed(part, part.left, cell), self._placed(part, part.right, cell))
            for part in self.chords
            for cell in cells(part)
        ]

    def _placed(self, part: Chords, x: Points, cell: NDArray[np.intp]) -> Points:
        return _turned(np.stack([x[cell], self.heights[part.line[cell]]], axis=1), self.direction)


def rooms(region: Region, coverage: Coverage) -> list[Room]:
    """The parts of a region the pad's centre may be in; none where it fits nowhere.

    Both offsets are taken from the outline itself, as an offset of an offset rounds twice.
    """
    centre = region.inset(coverage.inset)
    if not coverage.line_end:
        return [Room(part, (part,)) for part in centre.geoms]
    inner = [(piece, piece.representative_point()) for piece in region.inset(coverage.inset + coverage.line_end).geoms]
    return [Room(part, tuple(piece for piece, point in inner if part.contains(point))) for part in centre.geoms]


def lines_through(room: Room, coverage: Coverage, direction: float) -> Lines:
    """Lines in a direction [rad], at even distances of at most the coverage's step."""
    _, low, _, high = _upright(room.centre, direction).bounds
    heights, step = _heights(low, high, coverage)
    return Lines(tuple(chords(_upright(part, direction), heights) for part in room.lines), heights, direction, step)


def best_direction(parts: Sequence[Room], coverage: Coverage) -> float:
    """The direction [rad] with the fewest lines, hence turns, and among equals the least length of line."""

    def cost(direction: float) -> tuple[int, float]:
        laid = [lines_through(room, coverage, direction) for room in parts]
        return sum(lines.count for lines in laid), round(math.fsum(lines.length for lines in laid), 6)

    return min(_candidates(MultiPolygon([room.centre for room in parts])), key=cost)


def _candidates(centres: MultiPolygon) -> list[float]:
    """Directions of the smallest rectangle around the region, and of its longest sides."""
    hull = shapely.get_coordinates(shapely.minimum_rotated_rectangle(centres))[:3]
    outline = shapely.get_coordinates(shapely.get_rings(shapely.get_parts(centres)), return_index=True)
    sides = np.diff(outline[0], axis=0)[np.diff(outline[1]) == 0]
    longest = sides[np.argsort(-np.hypot(*sides.T), kind="stable")[:_LONGEST_SIDES]]
    return _apart(float(math.atan2(y, x)) % math.pi for x, y in [*np.diff(hull, axis=0), *longest])


def _apart(directions: Iterable[float]) -> list[float]:
    """The directions without those within a degree of an earlier one."""
    kept: list[float] = []
    for direction in directions:
        if all(abs((direction - other + math.pi / 2) % math.pi - math.pi / 2) > _SAME_DIRECTION for other in kept):
            kept.append(direction)
    return kept


def _upright(shape: Polygon, direction: float) -> Polygon:
    """The shape turned so that lines in this direction run along x."""
    return shapely.transform(shape, lambda points: _turned(points, -direction))


def _heights(low: float, high: float, coverage: Coverage) -> tuple[Points, float]:
    """Heights of the lines and the distance between them.

    The border pass is the first and the last of them; without it the lines lie a hair inside.
    """
    intervals = max(math.ceil((high - low) / coverage.step - 1e-9), 1)
    heights = np.linspace(low, high, intervals + 1)
    if coverage.border_pass:
        heights = heights[1:-1]
    else:
        hair = min(COINCIDENT, (high - low) / 4)
        heights[[0, -1]] += [hair, -hair]
    return heights, (high - low) / intervals


def _turned(points: Points, angle: float) -> Points:
    """Points turned about the origin by an angle [rad]."""
    cosine, sine = math.cos(angle), math.sin(angle)
    return np.asarray(points @ np.array([[cosine, sine], [-sine, cosine]]))
