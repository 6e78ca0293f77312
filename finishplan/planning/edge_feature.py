"""Edges to be deburred as features: one option for each tool that suits, and the effect of slow corners."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from finishplan import physics
from finishplan.job import LoadedJob
from finishplan.planning.abrasive_feature import (
    EdgeAbrasionDetail,
    approach_speed,
    edge_abrasion_option,
    edge_abrasion_options,
    return_time,
)
from finishplan.planning.abrasive_setup import coefficient_band
from finishplan.planning.edge_abrasion_operation import AbradedEdge
from finishplan.planning.edge_desk import open_edge_desk
from finishplan.planning.edge_operation import EdgeCutting, edge_cutting, operating_point
from finishplan.planning.edge_setup import edge_setup
from finishplan.planning.feature import Option, Points, Step, StepTime
from finishplan.planning.motion import motion_of
from finishplan.planning.outline import Outline, outline_ends, outlines_of
from finishplan.planning.search import Found, with_limits
from finishplan.planning.together import Searching, side_by_side
from finishplan.process.edge_conditions import CompliantMount
from finishplan.process.edge_cutting import predict
from finishplan.process.edge_limits import corner_limit
from finishplan.process.limits import Limit


@dataclass(frozen=True, eq=False)
class CornerEffect:
    """What the slowest corner of a path does to the edge break.

    `leg` is the break under an unchanged setting. `setting_to_hold` is the force that comes closest
    to the nominal break within the range of the device, and `limit` judges the break it leaves.
    """

    feed: float
    leg: float
    setting_to_hold: float | None
    limit: Limit


@dataclass(frozen=True, eq=False)
class EdgeDetail:
    """What is told of an edge besides its settings and limits.

    `untuned_break` is the band of the nominal break over the published bands of the coefficients,
    which a trial narrows.
    """

    operation: EdgeCutting
    outline: Outline
    corner: CornerEffect | None
    untuned_break: tuple[float, float]


@dataclass(frozen=True, eq=False)
class EdgeFeature:
    """One edge section of a job with the chains it names."""

    loaded: LoadedJob
    index: int
    outline: Outline

    @property
    def name(self) -> str:
        return self.loaded.job.edge[self.index].name

    @property
    def notes(self) -> Sequence[str]:
        return self.outline.notes

    def options(self) -> Searching[list[Option]]:
        """One step with each cutter and each abrasive whose family has a window for the material."""
        abraded = edge_abrasion_options(self.loaded, self.index, self.outline)
        ways = yield from side_by_side([self._cut(), abraded])
        return [option for options in ways for option in options]

    def _cut(self) -> Searching[list[Option]]:
        tools = self.loaded.tools_for(self.loaded.job.edge[self.index])
        desks = [open_edge_desk(self.loaded, self.index, tool) for tool in tools]
        operations = [edge_cutting(edge_setup(desk)) for desk in desks]
        founds = yield operations
        return [self._option(operation, found) for operation, found in zip(operations, founds, strict=True)]

    def _option(self, operation: EdgeCutting, found: Found) -> Option:
        time = self._time(operation, found)
        corner = corner_effect(operation, found, time.slowest)
        judged = found if corner is None else with_limits(found, [corner.limit])
        return Option((Step(judged, time, *outline_ends(self.outline)),))

    def reworked(self, step: Step, found: Found) -> Step:
        """The edge at another point of its operation."""
        if isinstance(found.operation, EdgeCutting):
            return self._option(found.operation, found).steps[0]
        return edge_abrasion_option(self.outline, found, motion_of(self.loaded)).steps[0]

    def _time(self, operation: EdgeCutting, found: Found) -> StepTime:
        motion, conditions = motion_of(self.loaded), operation.setup.nominal
        profiles = [
            physics.feed_profile(
                chain.points,
                float(found.settings["feed"]),
                motion.acceleration,
                motion.normal_acceleration,
                closed=chain.closed,
                # the tool's centre turns a sharp corner of the edge on the tool's radius
                corner_radius=float(conditions.cutter.diameter) / 2,
            )
            for chain in self.outline.chains
        ]
        speed = approach_speed(found)
        entries = sum(1 if chain.closed else found.passes for chain in self.outline.chains)
        return StepTime(
            contact=found.passes * sum(profile.time for profile in profiles),
            approach=entries * motion.entry_time(speed) + return_time(self.outline, found.passes, motion),
            approach_speed=speed,
            entries=entries,
            slowest=min(profile.slowest for profile in profiles),
        )

    def paths(self, step: Step) -> Sequence[Points]:
        """The drawn chains."""
        return [chain.points for chain in self.outline.chains] if self.outline.drawn else []

    def detail(self, chosen: Option) -> EdgeDetail | EdgeAbrasionDetail:
        """Corner effect and untuned band of the chosen operation."""
        (step,) = chosen.steps
        operation = step.found.operation
        if isinstance(operation, AbradedEdge):
            return EdgeAbrasionDetail(operation, self.outline, coefficient_band(operation.desk))
        assert isinstance(operation, EdgeCutting)
        corner = corner_effect(operation, step.found, step.time.slowest)
        point = operating_point(step.found.settings, step.found.passes)
        corners = operation.setup.coefficient_corners
        untuned = [float(predict(corners[name], point).leg) for name in ("smallest break", "largest break")]
        return EdgeDetail(operation, self.outline, corner, (untuned[0], untuned[1]))


def edge_features(loaded: LoadedJob) -> list[EdgeFeature]:
    """Every edge of a job.

    Raises
    ------
    JobError
        Faults in the drawings the job names.
    """
    return [EdgeFeature(loaded, index, outline) for index, outline in enumerate(outlines_of(loaded, "edge"))]


def corner_effect(operation: EdgeCutting, found: Found, slowest: float) -> CornerEffect | None:
    """Break at the slowest corner, and what the force there has to be."""
    settings, passes = found.settings, found.passes
    if slowest >= float(settings["feed"]) * 0.999:
        return None
    nominal = operation.setup.nominal
    at_corner = {**settings, "feed": np.float64(slowest)}
    leg = float(predict(nominal, operating_point(at_corner, passes)).leg)
    if not isinstance(nominal.mount, CompliantMount):
        return CornerEffect(slowest, leg, None, corner_limit(nominal.edge, leg))
    forces = np.geomspace(float(nominal.mount.force_min), float(nominal.mount.force_max), 400)
    legs = predict(nominal, operating_point({**at_corner, "setting": forces}, passes)).leg
    # more force never leaves a smaller break
    force = np.interp(float(found.evaluation.predictions["nominal"].leg), legs, forces)
    held = float(predict(nominal, operating_point({**at_corner, "setting": force}, passes)).leg)
    return CornerEffect(slowest, leg, float(force), corner_limit(nominal.edge, held))
