"""Geometry of what is finished, read from drawings, and the paths that cover its surfaces."""

from __future__ import annotations

from finishplan.geometry.chain import Chain
from finishplan.geometry.coverage import Coverage
from finishplan.geometry.drawing import DrawingEdges, read_chains
from finishplan.geometry.raster import Raster, cross_hatch, lay_raster
from finishplan.geometry.region import OutlineLayer, Region, rectangle, region_from_layers, square
from finishplan.geometry.straightness import departure, lengthened, sharp_turns, straight_runs
from finishplan.geometry.waypoints import Waypoints, waypoints

__all__ = [
    "Chain",
    "Coverage",
    "DrawingEdges",
    "OutlineLayer",
    "Raster",
    "Region",
    "Waypoints",
    "cross_hatch",
    "departure",
    "lay_raster",
    "lengthened",
    "read_chains",
    "rectangle",
    "region_from_layers",
    "sharp_turns",
    "square",
    "straight_runs",
    "waypoints",
]
