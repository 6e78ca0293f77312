"""What was read from drawings, and the waypoints of a planned feature."""

from __future__ import annotations

import csv
import io
import math
from collections.abc import Iterator

import numpy as np
from numpy.typing import NDArray
from rich.console import Console
from rich.table import Table
from rich.text import Text

from finishplan import units
from finishplan.errors import Fault, JobError, nearest
from finishplan.geometry import Region, waypoints
from finishplan.job import LoadedJob
from finishplan.planning.contour_operation import TrimmedContour
from finishplan.planning.corners import BrokenEdge
from finishplan.planning.feature import Points, Step
from finishplan.planning.motion import Motion, motion_of
from finishplan.planning.outline import Outline, outlines_of
from finishplan.planning.plan import FeaturePlan, Plan
from finishplan.planning.surface_feature import surface_features
from finishplan.planning.travel import feed_along, ratio_along
from finishplan.units import System

HEADINGS = ("feature", "runs", "length or area", "closed", "smallest radius", "sharp corners or holes")


def print_geometry(loaded: LoadedJob, system: System, console: Console) -> None:
    """Print what every drawn feature of a job was read as."""
    table = Table(box=None, pad_edge=False, padding=(0, 2, 0, 0))
    for heading in HEADINGS:
        table.add_column(heading, header_style="dim", justify="left" if heading == "feature" else "right")
    for contour, outline in zip(loaded.job.contour, outlines_of(loaded, "contour"), strict=True):
        table.add_row(Text(contour.name), *_edge_cells(outline, system))
    for edge, outline in zip(loaded.job.edge, outlines_of(loaded, "edge"), strict=True):
        table.add_row(Text(edge.name), *_edge_cells(outline, system))
    for feature in surface_features(loaded):
        table.add_row(Text(feature.name), *_surface_cells(feature.region, system))
    console.print(table)


def _edge_cells(outline: Outline, system: System) -> Iterator[str]:
    radius = outline.smallest_radius
    yield str(len(outline.chains))
    yield units.show(outline.length, "long length", system)
    yield str(sum(chain.closed for chain in outline.chains))
    yield "straight" if math.isinf(radius) else units.show(radius, "length", system)
    yield str(outline.sharp_corners)


def _surface_cells(region: Region, system: System) -> Iterator[str]:
    parts = list(region.shape.geoms)
    yield str(len(parts))
    yield units.show(region.area, "large area", system)
    yield "-"
    yield "-"
    yield str(sum(len(part.interiors) for part in parts))


def waypoint_csv(plan: Plan, feature: str, spacing: float, system: System) -> str:
    """Waypoints of a feature's steps: place, direction of travel, direction to the tool, and on edges and contours
    the feed there with the section it takes at a constant force over that at the programmed feed.

    Raises
    ------
    JobError
        A feature the job does not have, or one of which nothing is drawn.
    """
    chosen = _feature(plan, feature)
    out = io.StringIO()
    unit, feed_unit = (units.KINDS[kind].shown(system).suffix for kind in ("length", "feed"))
    motion = motion_of(plan.loaded)
    axes = [*(f"{axis}_{unit}" for axis in "xyz"), *(f"{name}_{axis}" for name in ("travel", "tool") for axis in "xyz")]
    writer = csv.writer(out, lineterminator="\n")
    writer.writerow(["step", "run", *axes, f"feed_{feed_unit}", "section_ratio"])
    for number, step in enumerate(chosen.chosen.steps, start=1):
        for run, path in enumerate(chosen.feature.paths(step), start=1):
            places = waypoints(path, spacing)
            shown = units.shown_value(1.0, "length", system) * places.position
            travelled = _travelled(step, path, places.along, motion, system)
            for row, feed in zip(np.hstack([shown, places.tangent, places.normal]), travelled, strict=True):
                writer.writerow([number, run, *(f"{value:.8g}" for value in row + 0.0), *feed])
    return out.getvalue()


def _travelled(
    step: Step, path: Points, along: NDArray[np.float64], motion: Motion, system: System
) -> list[tuple[str, str]]:
    """Feed and section ratio at distances along a path; blank for a raster, which is drawn without its turns."""
    operation = step.found.operation
    if not isinstance(operation, BrokenEdge | TrimmedContour):
        return [("", "")] * len(along)
    feed, closed = float(step.found.settings["feed"]), bool(np.allclose(path[0], path[-1]))
    profile = feed_along(path, feed, motion, operation.turning_radius, closed=closed)
    ratios = ratio_along(profile, along, feed, motion.acceleration)
    shown = units.shown_value(1.0, "feed", system) * feed / ratios
    return [(f"{value:.6g}", f"{ratio:.4g}") for value, ratio in zip(shown, ratios, strict=True)]


def _feature(plan: Plan, name: str) -> FeaturePlan:
    shown = plan.loaded.where().file
    known = [feature.name for feature in plan.features]
    chosen = next((feature for feature in plan.features if feature.name == name), None)
    if chosen is None:
        close = nearest(name, known, 1)
        write = repr(close[0]) if close else ""
        raise JobError([Fault(shown, "feature", f"one of {', '.join(known)}", repr(name), write)])
    if not any(chosen.feature.paths(step) for step in chosen.chosen.steps):
        raise JobError([Fault(shown, name, "a feature read from a drawing, or a surface", "a length alone")])
    return chosen
