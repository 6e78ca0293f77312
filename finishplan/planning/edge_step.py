"""The step that breaks an edge, by a cutter or an abrasive alike: its time, and what corners do to it."""

from __future__ import annotations

from finishplan.planning.corners import BrokenEdge, CornerEffect, corner_effect
from finishplan.planning.feature import Step, StepTime
from finishplan.planning.motion import Motion
from finishplan.planning.outline import Outline, outline_ends
from finishplan.planning.search import Found, with_limits
from finishplan.planning.travel import Travel, approach_speed, return_time, travel


def edge_step(outline: Outline, operation: BrokenEdge, found: Found, motion: Motion) -> Step:
    """An edge at a point of its operation, judged at its slowest corner as well."""
    way = _way(outline, operation, found, motion)
    corner = corner_effect(operation, found, way, motion)
    judged = found if corner is None else with_limits(found, [corner.limit])
    return Step(judged, _time(outline, found, way, motion), *outline_ends(outline))


def edge_corner(outline: Outline, operation: BrokenEdge, found: Found, motion: Motion) -> CornerEffect | None:
    """What the slowest corner does to the edge; None where the feed is kept all along."""
    return corner_effect(operation, found, _way(outline, operation, found, motion), motion)


def _way(outline: Outline, operation: BrokenEdge, found: Found, motion: Motion) -> Travel:
    return travel(outline, float(found.settings["feed"]), motion, operation.turning_radius)


def _time(outline: Outline, found: Found, way: Travel, motion: Motion) -> StepTime:
    speed = approach_speed(found)
    entries = sum(1 if chain.closed else found.passes for chain in outline.chains)
    return StepTime(
        contact=found.passes * way.time,
        approach=entries * motion.entry_time(speed) + return_time(outline, found.passes, motion),
        approach_speed=speed,
        entries=entries,
        slowest=way.slowest,
    )
