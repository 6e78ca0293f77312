"""Breaking an edge with an abrasive as an operation to search: spindle speed, feed and force."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

import numpy as np

from finishplan.formula import Array
from finishplan.job import Abrasive as AbrasiveEntry
from finishplan.job import Edge, LoadedJob
from finishplan.planning import abrasive_setup, surroundings
from finishplan.planning.abrasive_setup import AbrasiveDesk, abrasive_speed_range, open_abrasive_desk
from finishplan.planning.edge_operation import SLOWEST_FEED
from finishplan.planning.edge_setup import edge_state
from finishplan.planning.ledger import Ledger
from finishplan.planning.mounting import compliant_mount, position_errors
from finishplan.planning.operation import ALL_PASSES, Axis, Evaluation, Range, mesh
from finishplan.planning.scatter import burr_scatter
from finishplan.process.edge_abrasion import (
    EdgeAbrasionConditions,
    EdgeAbrasionSetting,
    edge_abrasion_limits,
    predict_edge_abrasion,
)
from finishplan.process.edge_cutting import Corner
from finishplan.reference import Grit
from finishplan.units import MINUTE


@dataclass(frozen=True, eq=False)
class EdgeAbrasion:
    """An edge under an abrasive of one grit, ready to be searched."""

    desk: AbrasiveDesk
    edge: Edge
    corners: Mapping[Corner, EdgeAbrasionConditions]
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
    def ledger(self) -> Ledger:
        return self.desk.ledger

    @property
    def conditions(self) -> EdgeAbrasionConditions:
        return self.corners["nominal"]

    def evaluate(self, settings: Mapping[str, Array], passes: int) -> Evaluation:
        """Run the forward model at every corner of the scatter."""
        setting = EdgeAbrasionSetting(settings["spindle_speed"], settings["feed"], settings["force"], passes)
        predictions = {name: predict_edge_abrasion(corner, setting) for name, corner in self.corners.items()}
        limits = edge_abrasion_limits(self.conditions, setting, predictions)
        return Evaluation(settings, passes, predictions, limits, setting.feed / passes)

    def fastest_pace(self, passes: int) -> float:
        """The highest feed, spread over the passes [m/s]."""
        return self.axes[1].range.high / passes

    def faster(self, settings: Mapping[str, Array], ratio: float) -> Mapping[str, Array]:
        """The feed raised by the ratio, spindle speed and force free."""
        speed, _, force = self.axes
        raised = float(settings["feed"]) * ratio
        return mesh(self.axes, (speed.range, Range(raised, raised), force.range), (24, 1, 48))

    def again(self) -> EdgeAbrasion:
        """The same operation built anew, for a recording."""
        return _operation(self.desk.anew(), self.edge)


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
    axes = (
        Axis("spindle_speed", abrasive_speed_range(nominal.abrasive, nominal.spindle), 8, 1 / MINUTE),
        Axis("feed", Range(SLOWEST_FEED, float(robot.top_speed)), 14),
        Axis("force", Range(float(nominal.mount.force_min), float(nominal.mount.force_max)), 14),
    )
    return EdgeAbrasion(desk, edge, _corners(desk, edge, nominal), axes)


def _corners(desk: AbrasiveDesk, edge: Edge, nominal: EdgeAbrasionConditions) -> dict[Corner, EdgeAbrasionConditions]:
    height, root = burr_scatter(desk, edge)
    removal = float(desk.ledger.assumed("abrasive.removal_scatter", "removal_scatter", "fraction"))

    def varied(burr: int, abrasion: int, force: int) -> EdgeAbrasionConditions:
        state = replace(
            nominal.edge,
            burr_height=np.float64(max(nominal.edge.burr_height + burr * height, 0.0)),
            burr_root_thickness=np.float64(max(nominal.edge.burr_root_thickness + burr * root, 0.0)),
        )
        abrasive = replace(nominal.abrasive, coefficient_factor=np.float64(1 + abrasion * removal))
        mount = replace(nominal.mount, force_error=np.float64(force * nominal.mount.friction))
        return replace(nominal, edge=state, abrasive=abrasive, mount=mount)

    return {
        "nominal": nominal,
        "smallest break": varied(1, -1, -1),
        "largest break": varied(-1, 1, 1),
        "heaviest load": varied(1, -1, 1),
    }
