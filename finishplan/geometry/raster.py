"""Coverage rasters: paths of a pad over a region, line by line, around every hole and along every border."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np
from shapely.geometry import MultiPolygon
from shapely.ops import polylabel

from finishplan.errors import Fault, GeometryError
from finishplan.geometry.coverage import Coverage
from finishplan.geometry.lines import Lines, Room, best_direction, lines_through, rooms
from finishplan.geometry.linking import Ways, length_of
from finishplan.geometry.piece import Points
from finishplan.geometry.region import QUARTER_SEGMENTS, Region, polygons
from finishplan.geometry.runs import BorderRun, Joined, air_length, in_order, joined

LEAST_UNREACHED = 1e-9
"""Share of an area below which what is left of it is noise of the arithmetic."""


@dataclass(frozen=True, eq=False)
class Raster:
    """The paths that cover a region.

    Attributes
    ----------
    paths : tuple of (n, 2) arrays
        Where the pad's centre goes, in contact from the first to the last point of each path [m].
    path_length : float
        Length of all paths, links included [m].
    link_length : float
        Length of the links between lines and borders alone [m].
    turns : int
        Changes from one line to the next.
    lifts : int
        Times the tool leaves the surface between its first and its last contact.
    unreached_area : float
        Area the pad cannot reach, however it is led: corners and necks [m2].
    direction : float
        Direction of the lines from the x axis, from 0 up to pi [rad].
    step : float
        Largest distance between lines that came of dividing the region evenly [m].
    """

    paths: tuple[Points, ...]
    path_length: float
    link_length: float
    turns: int
    lifts: int
    unreached_area: float
    direction: float
    step: float

    @property
    def air_length(self) -> float:
        """Length of the moves in the air from path to path, taken straight [m]."""
        return air_length(self.paths)


def lay_raster(region: Region, coverage: Coverage) -> Raster:
    """Cover a region line by line.

    Parameters
    ----------
    region : Region
        The surface.
    coverage : Coverage
        Pad, step, overhang and direction.

    Returns
    -------
    Raster
        Paths that stay inside the region offset inwards by the pad's radius less the overhang,
        within 1e-8 m. With a border pass the pad sweeps all it can reach.

    Raises
    ------
    GeometryError
        The pad fits nowhere.
    """
    parts = rooms(region, coverage)
    if not parts:
        raise GeometryError([_fits_nowhere(region, coverage)])
    direction = best_direction(parts, coverage) if coverage.direction is None else coverage.direction
    lines = [lines_through(room, coverage, direction) for room in parts]
    laid = _joined(parts, lines, coverage)
    paths = tuple(path for part in laid for path in part.paths)
    return Raster(
        paths,
        math.fsum(length_of(path) for path in paths),
        math.fsum(part.link_length for part in laid),
        max(sum(part.count for part in lines) - 1, 0),
        len(paths) - 1,
        _unreached(region, parts, coverage),
        direction % math.pi,
        max(part.step for part in lines),
    )


def cross_hatch(region: Region, coverage: Coverage) -> tuple[Raster, Raster]:
    """Cover a region twice, the second time square to the first; arguments as for `lay_raster`."""
    first = lay_raster(region, coverage)
    return first, lay_raster(region, replace(coverage, direction=first.direction + math.pi / 2))


def _fits_nowhere(region: Region, coverage: Coverage) -> Fault:
    given = f"a pad of {2e3 * coverage.pad_radius:g} mm with {1e3 * coverage.overhang:g} mm overhang"
    largest = 1e3 * _inner_radius(region)
    write = f"a pad radius less overhang below {largest:.4g} mm, the largest circle inside the outline"
    return Fault(region.name, region.key, "a pad that fits inside the outline", given, write)


def _inner_radius(region: Region) -> float:
    """Radius of the largest circle inside the region, within a thousandth of its extent [m]."""
    return max(
        float(part.boundary.distance(polylabel(part, 1e-3 * math.sqrt(part.area)))) for part in region.shape.geoms
    )


def _joined(parts: Sequence[Room], lines: Sequence[Lines], coverage: Coverage) -> list[Joined]:
    """The parts one after another, each begun where the one before has ended."""
    laid: list[Joined] = []
    here = np.array(parts[0].centre.bounds[:2])
    for room, drawn in zip(parts, lines, strict=True):
        ways = Ways.within(room.centre)
        borders = [BorderRun(border) for border in ways.borders] if coverage.border_pass else []
        laid.append(joined(list(in_order([*drawn.runs(), *borders], here)), ways, coverage.longest_link))
        here = laid[-1].paths[-1][-1]
    return laid


def _unreached(region: Region, parts: Sequence[Room], coverage: Coverage) -> float:
    """Area of the region outside all that the pad sweeps from where its centre may be."""
    centres = MultiPolygon([room.centre for room in parts])
    swept = polygons(centres.buffer(coverage.pad_radius, quad_segs=QUARTER_SEGMENTS))
    left = region.area - swept.intersection(region.shape).area
    return left if left > LEAST_UNREACHED * region.area else 0.0
