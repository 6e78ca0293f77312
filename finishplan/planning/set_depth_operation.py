"""Breaking an edge with a wheel or brush at a set depth as an operation to search: spindle speed, feed and depth."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace

import numpy as np

from finishplan import physics
from finishplan.formula import Array
from finishplan.job import Abrasive as AbrasiveEntry
from finishplan.job import Edge, LoadedJob
from finishplan.physics.contact import winkler_cylinder
from finishplan.planning import abrasive_setup, surroundings
from finishplan.planning.abrasive_setup import AbrasiveDesk, open_abrasive_desk
from finishplan.planning.edge_abrasion_operation import AbradedEdge, edge_corners, travel_axes
from finishplan.planning.edge_setup import edge_state
from finishplan.planning.ledger import describe
from finishplan.planning.mounting import arm_mount
from finishplan.planning.operation import Axis, Evaluation, Range
from finishplan.planning.scatter import path_scatter
from finishplan.process.edge_cutting import Corner
from finishplan.process.set_depth import (
    PenetrationWindow,
    SetDepthConditions,
    SetDepthSetting,
    predict_set_depth,
    set_depth_limits,
)
from finishplan.reference import Grit


@dataclass(frozen=True, eq=False)
class SetDepthAbrasion(AbradedEdge):
    """An edge under a wheel or brush of one grit that is fed in by a set depth, ready to be searched."""

    corners: Mapping[Corner, SetDepthConditions]

    @property
    def conditions(self) -> SetDepthConditions:
        return self.corners["nominal"]

    def evaluate(self, settings: Mapping[str, Array], passes: int) -> Evaluation:
        """Run the forward model at every corner of the scatter."""
        setting = SetDepthSetting(settings["spindle_speed"], settings["feed"], settings["depth"], passes)
        predictions = {name: predict_set_depth(corner, setting) for name, corner in self.corners.items()}
        limits = set_depth_limits(self.conditions, setting, predictions)
        return Evaluation(settings, passes, predictions, limits, setting.feed / passes)

    def again(self, loaded: LoadedJob | None = None) -> SetDepthAbrasion:
        """The same operation built anew, for a recording or under another cell."""
        return _operation(self.desk.anew(loaded), self.edge)


def set_depth_abrasion(loaded: LoadedJob, index: int, entry: AbrasiveEntry, grit: Grit) -> SetDepthAbrasion:
    """Edge number `index` under an abrasive of the cell that the robot carries rigidly."""
    edge = loaded.job.edge[index]
    return _operation(open_abrasive_desk(loaded, "edge", index, edge, entry, grit), edge)


def _operation(desk: AbrasiveDesk, edge: Edge) -> SetDepthAbrasion:
    state, robot = edge_state(desk, edge), surroundings.robot(desk)
    nominal = SetDepthConditions(
        edge=state,
        abrasive=abrasive_setup.abrasive(desk),
        thermal=abrasive_setup.thermal(desk, None),
        spindle=surroundings.spindle(desk),
        mount=arm_mount(desk),
        robot=robot,
        rules=surroundings.rules(desk),
        window=_window(desk),
    )
    path = path_scatter(desk, state.waviness_amplitude, robot)

    def displaced(conditions: SetDepthConditions, sense: int) -> SetDepthConditions:
        return replace(conditions, edge=replace(conditions.edge, path_error=np.float64(sense * path)))

    depth = Axis("depth", _depth_range(nominal), 14)
    return SetDepthAbrasion(desk, edge, edge_corners(desk, edge, nominal, displaced), (*travel_axes(nominal), depth))


def _window(desk: AbrasiveDesk) -> PenetrationWindow | None:
    """What the filaments of a brush bear; they are taken to be as long as the layer that yields."""
    ledger, entry = desk.ledger, desk.family.penetration
    if entry is None:
        return None
    share = entry.of_free_length.value * desk.abrasive.diameter / 4
    text = f"the smaller of {describe(entry.high)} and of {describe(entry.of_free_length)} on half the radius"
    return PenetrationWindow(
        low=ledger.looked_up("window.low", entry.low, "length"),
        high=ledger.derived("window.high", min(entry.high.value, share), "length", text),
    )


def _depth_range(conditions: SetDepthConditions) -> Range:
    """Depths that press with the usual forces."""
    tool, abrasive = conditions.roller, conditions.abrasive
    layer = physics.layer_stiffness(tool.modulus, tool.thickness)
    loads = np.array([abrasive.force_low, abrasive.force_high]) / tool.width
    low, high = winkler_cylinder(loads, tool.diameter / 2, layer).approach
    return Range(float(low), float(high))
