"""Edges to be deburred as features: one option for each tool that suits, and the effect of slow corners."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from finishplan.job import LoadedJob
from finishplan.planning.abrasive_feature import EdgeAbrasionDetail, edge_abrasion_options
from finishplan.planning.abrasive_setup import coefficient_band
from finishplan.planning.corners import BrokenEdge, CornerEffect
from finishplan.planning.edge_abrasion_operation import AbradedEdge
from finishplan.planning.edge_desk import open_edge_desk
from finishplan.planning.edge_operation import EdgeCutting, edge_cutting, operating_point
from finishplan.planning.edge_setup import edge_setup
from finishplan.planning.edge_step import edge_corner, edge_step
from finishplan.planning.feature import Option, Points, Step
from finishplan.planning.motion import motion_of
from finishplan.planning.outline import Outline, outlines_of
from finishplan.planning.search import Found
from finishplan.planning.together import Searching, side_by_side
from finishplan.process.edge_cutting import predict


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
        motion = motion_of(self.loaded)
        return [
            Option((edge_step(self.outline, operation, found, motion),))
            for operation, found in zip(operations, founds, strict=True)
        ]

    def reworked(self, step: Step, found: Found) -> Step:
        """The edge at another point of its operation."""
        operation = found.operation
        assert isinstance(operation, BrokenEdge)
        return edge_step(self.outline, operation, found, motion_of(self.loaded))

    def paths(self, step: Step) -> Sequence[Points]:
        """The drawn chains."""
        return [chain.points for chain in self.outline.chains] if self.outline.drawn else []

    def detail(self, chosen: Option) -> EdgeDetail | EdgeAbrasionDetail:
        """Corner effect and untuned band of the chosen operation."""
        (step,) = chosen.steps
        operation = step.found.operation
        assert isinstance(operation, BrokenEdge)
        corner = edge_corner(self.outline, operation, step.found, motion_of(self.loaded))
        if isinstance(operation, AbradedEdge):
            return EdgeAbrasionDetail(operation, self.outline, corner, coefficient_band(operation.desk))
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
