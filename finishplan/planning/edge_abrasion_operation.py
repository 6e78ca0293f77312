"""Breaking an edge with an abrasive under a set force as an operation to search: spindle speed, feed and force."""

from __future__ import annotations

from abc import ABC, abstractmethod
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any, Self, TypeVar

import numpy as np

from finishplan.formula import Array
from finishplan.job import Abrasive as AbrasiveEntry
from finishplan.job import Edge, LoadedJob
from finishplan.planning import abrasive_setup, surroundings
from finishplan.planning.abrasive_setup import AbrasiveDesk, abrasive_speed_range, open_abrasive_desk
from finishplan.planning.edge_operation import SLOWEST_FEED
from finishplan.planning.edge_setup import edge_state
from finishplan.planning.ledger import Ledger
from finishplan.planning.mounting import compliant_mount, position_errors, with_force_error
from finishplan.planning.operation import ALL_PASSES, Axis, Evaluation, Range, mesh
from finishplan.planning.scatter import burr_scatter
from finishplan.process.edge_abrasion import (
    EdgeAbrasionConditions,
    EdgeAbrasionSetting,
    EdgeUnderAbrasive,
    edge_abrasion_limits,
    predict_edge_abrasion,
)
from finishplan.process.edge_cutting import Corner
from finishplan.reference import Grit
from finishplan.units import MINUTE

State = TypeVar("State", bound=EdgeUnderAbrasive)


@dataclass(frozen=True, eq=False)
class AbradedEdge(ABC):
    """An edge under an abrasive of one grit; its third axis is what presses it."""

    desk: AbrasiveDesk
    edge: Edge
    corners: Mapping[Corner, EdgeUnderAbrasive]
    axes: Sequence[Axis]
    pass_counts: Sequence[int] = ALL_PASSES

    @property
    def feature(self) -> str:
        return self.edge.name

    @property
    def tool(self) -> str:
        return self.desk.label

    @property
    def station(self) -> str:
        return self.desk.abrasive.name

    @property
    def turning_radius(self) -> float:
        """Radius on which the tool's centre turns a sharp corner of the edge [m]."""
        return float(self.conditions.abrasive.tool.diameter) / 2

    @property
    def ledger(self) -> Ledger:
        return self.desk.ledger

    @property
    def conditions(self) -> EdgeUnderAbrasive:
        return self.corners["nominal"]

    @property
    def figures(self) -> Mapping[Corner, EdgeUnderAbrasive]:
        """Conditions at every corner of the scatter."""
        return self.corners

    def with_figures(self, figures: Mapping[Corner, Any]) -> Self:
        """The same edge under the same abrasive, under other conditions."""
        return replace(self, corners=figures)

    @abstractmethod
    def evaluate(self, settings: Mapping[str, Array], passes: int) -> Evaluation:
        """Run the forward model at every corner of the scatter."""

    @abstractmethod
    def again(self, loaded: LoadedJob | None = None) -> AbradedEdge:
        """The same operation built anew, for a recording or under another cell."""

    def fastest_pace(self, passes: int) -> float:
        """The highest feed, spread over the passes [m/s]."""
        return self.axes[1].range.high / passes

    def faster(self, settings: Mapping[str, Array], ratio: float) -> Mapping[str, Array]:
        """The feed raised by the ratio, spindle speed and what presses free."""
        speed, _, pressing = self.axes
        raised = float(settings["feed"]) * ratio
        return mesh(self.axes, (speed.range, Range(raised, raised), pressing.range), (12, 1, 32))


@dataclass(frozen=True, eq=False)
class EdgeAbrasion(AbradedEdge):
    """An edge under an abrasive that a device presses with a set force, ready to be searched."""

    corners: Mapping[Corner, EdgeAbrasionConditions]

    @property
    def conditions(self) -> EdgeAbrasionConditions:
        return self.corners["nominal"]

    def evaluate(self, settings: Mapping[str, Array], passes: int) -> Evaluation:
        """Run the forward model at every corner of the scatter."""
        setting = EdgeAbrasionSetting(settings["spindle_speed"], settings["feed"], settings["force"], passes)
        predictions = {name: predict_edge_abrasion(corner, setting) for name, corner in self.corners.items()}
        limits = edge_abrasion_limits(self.conditions, setting, predictions)
        return Evaluation(settings, passes, predictions, limits, setting.feed / passes)

    def again(self, loaded: LoadedJob | None = None) -> EdgeAbrasion:
        """The same operation built anew, for a recording or under another cell."""
        return _operation(self.desk.anew(loaded), self.edge)


def edge_abrasion(loaded: LoadedJob, index: int, entry: AbrasiveEntry, grit: Grit) -> EdgeAbrasion:
    """Edge number `index` under an abrasive of the cell."""
    edge = loaded.job.edge[index]
    return _operation(open_abrasive_desk(loaded, "edge", index, edge, entry, grit), edge)


def _operation(desk: AbrasiveDesk, edge: Edge) -> EdgeAbrasion:
    assert desk.device is not None
    state, robot = edge_state(desk, edge), surroundings.robot(desk)
    nominal = EdgeAbrasionConditions(
        edge=state,
        abrasive=abrasive_setup.abrasive(desk),
        thermal=abrasive_setup.thermal(desk, None),
        spindle=surroundings.spindle(desk),
        mount=compliant_mount(desk, desk.device, position_errors(desk, state.waviness_amplitude, robot)),
        robot=robot,
        rules=surroundings.rules(desk),
    )
    force = Axis("force", Range(float(nominal.mount.force_min), float(nominal.mount.force_max)), 14)
    corners = edge_corners(desk, edge, nominal, _with_force_error)
    return EdgeAbrasion(desk, edge, corners, (*travel_axes(nominal), force))


def _with_force_error(conditions: EdgeAbrasionConditions, sense: int) -> EdgeAbrasionConditions:
    """Friction and spring of the device add to the force or take from it."""
    return replace(conditions, mount=with_force_error(conditions.mount, sense))


def travel_axes(conditions: EdgeUnderAbrasive) -> tuple[Axis, Axis]:
    """Axes of the motion: nothing outside their ranges can be feasible."""
    return (
        Axis("spindle_speed", abrasive_speed_range(conditions.abrasive, conditions.spindle), 8, 1 / MINUTE),
        Axis("feed", Range(SLOWEST_FEED, float(conditions.robot.top_speed)), 14),
    )


def edge_corners(
    desk: AbrasiveDesk, edge: Edge, nominal: State, pressed: Callable[[State, int], State]
) -> dict[Corner, State]:
    """The nominal conditions and the extremes the variation from part to part can reach.

    `pressed` gives the conditions with the scatter of what presses, in the sense of more or less force.
    """
    height, root = burr_scatter(desk, edge)
    removal = float(desk.ledger.assumed("abrasive.removal_scatter", "removal_scatter", "fraction"))

    def varied(burr: int, abrasion: int, force: int) -> State:
        state = replace(
            nominal.edge,
            burr_height=np.float64(max(nominal.edge.burr_height + burr * height, 0.0)),
            burr_root_thickness=np.float64(max(nominal.edge.burr_root_thickness + burr * root, 0.0)),
        )
        abrasive = nominal.abrasive.scattered(abrasion * removal)
        return pressed(replace(nominal, edge=state, abrasive=abrasive), force)

    return {
        "nominal": nominal,
        "smallest break": varied(1, -1, -1),
        "largest break": varied(-1, 1, 1),
        "heaviest load": varied(1, -1, 1),
    }
