"""Edges to be deburred as features: one option for each tool that suits, and the effect of slow corners."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from finishplan import physics
from finishplan.job import LoadedJob
from finishplan.planning.edge_operation import EdgeCutting, edge_cutting, operating_point
from finishplan.planning.edge_setup import edge_setup
from finishplan.planning.feature import Option, Points, Step, StepTime
from finishplan.planning.motion import motion_of
from finishplan.planning.outline import Outline, edge_outlines
from finishplan.planning.search import Found, search
from finishplan.process.edge_conditions import CompliantMount
from finishplan.process.edge_cutting import predict


@dataclass(frozen=True, eq=False)
class CornerEffect:
    """What the slowest corner of a path does to the edge break under an unchanged setting."""

    feed: float
    leg: float
    setting_to_hold: float | None


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

    def options(self, margin: float) -> list[Option]:
        """One step with each tool whose family has a window for the material."""
        tools = self.loaded.tools_for(self.loaded.job.edge[self.index])
        operations = [edge_cutting(edge_setup(self.loaded, self.index, tool)) for tool in tools]
        return [self._option(operation, search(operation, margin)) for operation in operations]

    def _option(self, operation: EdgeCutting, found: Found) -> Option:
        starts, ends = _ends(self.outline)
        return Option((Step(found, self._time(operation, found), starts, ends),))

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
        allowed = float(found.evaluation.predictions["nominal"].approach_speed) * (1 - found.margin)
        speed = min(allowed, float(conditions.rules.approach_speed_max))
        entries = sum(1 if chain.closed else found.passes for chain in self.outline.chains)
        return StepTime(
            contact=found.passes * sum(profile.time for profile in profiles),
            approach=entries * motion.entry_time(speed),
            approach_speed=speed,
            entries=entries,
            slowest=min(profile.slowest for profile in profiles),
        )

    def detail(self, chosen: Option) -> EdgeDetail:
        """Corner effect and untuned band of the chosen operation."""
        (step,) = chosen.steps
        operation = step.found.operation
        assert isinstance(operation, EdgeCutting)
        point = operating_point(step.found.settings, step.found.passes)
        corners = operation.setup.coefficient_corners
        untuned = [float(predict(corners[name], point).leg) for name in ("smallest break", "largest break")]
        return EdgeDetail(operation, self.outline, _corner_effect(operation, step), (untuned[0], untuned[1]))


def edge_features(loaded: LoadedJob) -> list[EdgeFeature]:
    """Every edge of a job.

    Raises
    ------
    JobError
        Faults in the drawings the job names.
    """
    return [EdgeFeature(loaded, index, outline) for index, outline in enumerate(edge_outlines(loaded))]


def _ends(outline: Outline) -> tuple[Points, Points]:
    """First and last points of the drawn chains."""
    chains = outline.chains if outline.drawn else ()
    starts = np.array([chain.points[0] for chain in chains]).reshape(-1, 2)
    ends = np.array([chain.points[-1] for chain in chains]).reshape(-1, 2)
    return starts, ends


def _corner_effect(operation: EdgeCutting, step: Step) -> CornerEffect | None:
    """Break at the slowest corner, and the setting that would hold the nominal break there."""
    settings, passes, slowest = step.found.settings, step.found.passes, step.time.slowest
    if slowest >= float(settings["feed"]) * 0.999:
        return None
    nominal = operation.setup.nominal
    at_corner = {**settings, "feed": np.float64(slowest)}
    leg = float(predict(nominal, operating_point(at_corner, passes)).leg)
    if not isinstance(nominal.mount, CompliantMount):
        return CornerEffect(slowest, leg, None)
    forces = np.linspace(0.02, 1.2, 300) * float(settings["setting"])
    legs = predict(nominal, operating_point({**at_corner, "setting": forces}, passes)).leg
    wanted = float(step.found.evaluation.predictions["nominal"].leg)
    return CornerEffect(slowest, leg, float(np.interp(wanted, legs, forces)))
