"""The removal map of a chosen step: what the raster really leaves, borders included."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np

from finishplan.geometry import Raster, Region
from finishplan.physics.abrasion import removal_rate
from finishplan.planning.search import Found
from finishplan.planning.surface_operation import SurfaceAbrasion
from finishplan.process.dwell import at_feed
from finishplan.process.limits import Limit
from finishplan.process.removal_map import Statistics, removal_map

CELLS_PER_REACH: Final = 30
"""Cells of the map over the reach of the tool; finer ones change the statistics by less than their use."""

MOST_CELLS: Final = 400_000


@dataclass(frozen=True)
class MapResult:
    """Depth over the surface after one step, and how far the pad hangs over its borders."""

    statistics: Statistics
    largest_overhang: float
    edge_pressure_ratio: float


def mapped(operation: SurfaceAbrasion, found: Found, region: Region, rasters: Sequence[Raster]) -> MapResult:
    """Lay the step's rasters and add up what it removes.

    All passes are laid on the same lines here, so the map errs towards the uneven side; the plan
    asks for every pass to be shifted by its share of the step.
    """
    conditions, prediction = operation.setup.nominal, found.evaluation.predictions["nominal"]
    abrasive = conditions.abrasive
    footprint = abrasive.tool.footprint(float(found.settings["force"]), rasters[0].direction)
    rate = float(removal_rate(abrasive.coefficient, found.settings["force"], prediction.sliding_speed))
    # every line once, at the feed that leaves there what all passes leave
    feed = float(prediction.feed) * len(rasters) / found.passes
    made = removal_map(
        [path for raster in rasters for path in at_feed(raster.paths, feed)],
        footprint,
        rate,
        region,
        _cell(region, float(abrasive.tool.reach)),
    )
    return MapResult(made.statistics, made.largest_overhang, made.edge_pressure_ratio)


def _cell(region: Region, reach: float) -> float:
    """Cell size: fine against the tool, and no more cells than are worth their time [m]."""
    left, bottom, right, top = region.shape.bounds
    return max(reach / CELLS_PER_REACH, float(np.sqrt((right - left) * (top - bottom) / MOST_CELLS)))


def map_limit(operation: SurfaceAbrasion, result: MapResult) -> Limit:
    """Sand-through at the deepest place of the map, the scatter from part to part included."""
    surface, most = operation.setup.nominal.surface, operation.setup.corners["most removal"]
    deepest = result.statistics.maximum * most.abrasive.coefficient_factor + surface.taken_before
    return Limit(
        "sand-through: deepest place of the map", deepest, surface.layer - surface.keep, "roughness", "at most",
        "surface.layer", "less overhang, less removal, a smaller step, or a thicker layer",
    )  # fmt: skip
