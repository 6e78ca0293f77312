"""The removal map of a chosen step: what the raster really leaves, borders included."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Final

import numpy as np

from finishplan.geometry import Raster, Region
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
    tool, force = conditions.abrasive.tool, float(found.settings["force"])
    # every line once, at the feed that leaves there what all passes leave
    feed = float(prediction.feed) * len(rasters) / found.passes
    # volume per time over the lines: the mean depth on a step's width, both rasters together
    rate = float(prediction.mean_depth) * float(found.settings["step"]) * feed / len(rasters)
    cell = _cell(region, float(tool.reach))
    made = [
        removal_map(at_feed(raster.paths, feed), tool.footprint(force, raster.direction), rate, region, cell)
        for raster in rasters
    ]
    together = replace(made[0], depth=np.sum([each.depth for each in made], axis=0))
    return MapResult(
        together.statistics,
        max(each.largest_overhang for each in made),
        max(each.edge_pressure_ratio for each in made),
    )


def _cell(region: Region, reach: float) -> float:
    """Cell size: fine against the tool, and no more cells than are worth their time [m]."""
    left, bottom, right, top = region.shape.bounds
    return max(reach / CELLS_PER_REACH, float(np.sqrt((right - left) * (top - bottom) / MOST_CELLS)))


def map_limit(operation: SurfaceAbrasion, found: Found, result: MapResult) -> Limit:
    """Sand-through at the deepest place of the map, the scatter from part to part included."""
    surface, predictions = operation.setup.nominal.surface, found.evaluation.predictions
    harder = predictions["most removal"].force / predictions["nominal"].force
    factor = operation.setup.corners["most removal"].abrasive.removal_factor * harder
    deepest = result.statistics.maximum * factor + surface.taken_before
    return Limit(
        "sand-through: deepest place of the map", deepest, surface.layer - surface.keep, "roughness", "at most",
        "surface.layer", "less overhang, less removal, a smaller step, or a thicker layer",
    )  # fmt: skip
