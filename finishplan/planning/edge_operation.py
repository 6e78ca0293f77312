"""Cutting an edge as an operation to search: spindle speed, feed, and contact force or aimed depth."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Self

import numpy as np

from finishplan import physics
from finishplan.formula import Array
from finishplan.job import LoadedJob
from finishplan.planning.edge_setup import EdgeSetup, edge_setup, target_depth
from finishplan.planning.ledger import Ledger
from finishplan.planning.operation import ALL_PASSES, Axis, Evaluation, Range, mesh
from finishplan.process.edge_conditions import CompliantMount, Cutter, EdgeConditions, OperatingPoint, Spindle
from finishplan.process.edge_cutting import Corner, predict
from finishplan.process.edge_limits import edge_limits
from finishplan.units import MINUTE

SLOWEST_FEED = 0.5e-3
"""Feed below which no edge is worth planning [m/s]."""


@dataclass(frozen=True, eq=False)
class EdgeCutting:
    """An edge under a cutter, ready to be searched."""

    setup: EdgeSetup
    axes: Sequence[Axis]
    pass_counts: Sequence[int] = ALL_PASSES

    @property
    def conditions(self) -> EdgeConditions:
        return self.setup.nominal

    @property
    def feature(self) -> str:
        return self.setup.edge.name

    @property
    def tool(self) -> str:
        return self.setup.tool.name

    @property
    def station(self) -> str:
        return self.setup.tool.name

    @property
    def turning_radius(self) -> float:
        """Radius on which the tool's centre turns a sharp corner of the edge [m]."""
        return float(self.conditions.cutter.diameter) / 2

    @property
    def ledger(self) -> Ledger:
        return self.setup.ledger

    @property
    def figures(self) -> Mapping[Corner, EdgeConditions]:
        """Conditions at every corner of the scatter."""
        return self.setup.corners

    def with_figures(self, figures: Mapping[Corner, EdgeConditions]) -> Self:
        """The same edge under the same cutter, under other conditions."""
        return replace(self, setup=replace(self.setup, corners=figures))

    def evaluate(self, settings: Mapping[str, Array], passes: int) -> Evaluation:
        """Run the forward model at every corner of the scatter."""
        point = operating_point(settings, passes)
        predictions = {name: predict(corner, point) for name, corner in self.setup.corners.items()}
        limits = edge_limits(self.setup.nominal, point, predictions)
        return Evaluation(settings, passes, predictions, limits, point.feed / passes)

    def fastest_pace(self, passes: int) -> float:
        """The highest feed, spread over the passes [m/s]."""
        return self.axes[1].range.high / passes

    def again(self, loaded: LoadedJob | None = None) -> EdgeCutting:
        """The same operation built anew, for a recording or under another cell."""
        return edge_cutting(edge_setup(self.setup.desk.anew(loaded)))

    def faster(self, settings: Mapping[str, Array], ratio: float) -> Mapping[str, Array]:
        """The feed raised by the ratio, spindle speed and setting free."""
        speed, _, setting = self.axes
        raised = float(settings["feed"]) * ratio
        return mesh(self.axes, (speed.range, Range(raised, raised), setting.range), (12, 1, 32))


def operating_point(settings: Mapping[str, Array], passes: int) -> OperatingPoint:
    """The settings as the forward model takes them."""
    return OperatingPoint(settings["spindle_speed"], settings["feed"], settings["setting"], passes)


def edge_cutting(setup: EdgeSetup) -> EdgeCutting:
    """The operation with its search ranges: nothing outside them can be feasible."""
    conditions = setup.nominal
    axes = (
        Axis("spindle_speed", speed_range(conditions.cutter, conditions.spindle), 8, 1 / MINUTE),
        Axis("feed", Range(SLOWEST_FEED, float(conditions.robot.top_speed)), 14),
        Axis("setting", _setting_range(conditions), 14),
    )
    return EdgeCutting(setup, axes)


def speed_range(cutter: Cutter, spindle: Spindle) -> Range:
    """Speeds the spindle runs at, narrowed to the tool's rated speed and window where they meet."""
    window_low = physics.spindle_speed(cutter.diameter, cutter.speed_low)
    window_high = np.minimum(cutter.rated_speed, physics.spindle_speed(cutter.diameter, cutter.speed_high))
    low, high = float(max(spindle.speed_min, window_low)), float(min(spindle.speed_max, window_high))
    return Range(low, high) if low <= high else Range(float(spindle.speed_min), float(spindle.speed_max))


def _setting_range(conditions: EdgeConditions) -> Range:
    mount = conditions.mount
    if isinstance(mount, CompliantMount):
        return Range(float(mount.force_min), float(mount.force_max))
    aimed = float(target_depth(conditions))
    return Range(aimed / 4, aimed * 4)
