"""One feature under one tool as the search sees it: ranges to search, and an evaluation of any point."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from finishplan import physics
from finishplan.planning.edge_setup import EdgeSetup, target_depth
from finishplan.process.edge_conditions import CompliantMount, EdgeConditions, OperatingPoint
from finishplan.process.edge_cutting import Corner, Prediction, predict
from finishplan.process.edge_limits import edge_limits
from finishplan.process.limits import Limit

SLOWEST_FEED = 0.5e-3
"""Feed below which no edge is worth planning [m/s]."""


@dataclass(frozen=True)
class Range:
    """Closed range of one setting, searched in equal ratios."""

    low: float
    high: float

    def grid(self, count: int) -> np.ndarray:
        return np.geomspace(self.low, self.high, count) if self.high > self.low else np.array([self.low])

    def around(self, middle: float, ratio: float) -> Range:
        """The part of this range within a ratio of the middle."""
        return Range(max(self.low, middle / ratio), min(self.high, middle * ratio))


@dataclass(frozen=True, eq=False)
class Evaluation:
    """Limits and predictions at a point or an array of points."""

    point: OperatingPoint
    predictions: Mapping[Corner, Prediction]
    limits: list[Limit]


@dataclass(frozen=True, eq=False)
class Operation:
    """A feature under a tool, ready to be searched."""

    setup: EdgeSetup
    spindle_speed: Range
    feed: Range
    setting: Range

    def evaluate(self, point: OperatingPoint) -> Evaluation:
        """Run the forward model at every corner of the scatter."""
        predictions = {name: predict(corner, point) for name, corner in self.setup.corners.items()}
        return Evaluation(point, predictions, edge_limits(self.setup.nominal, point, predictions))


def edge_operation(setup: EdgeSetup) -> Operation:
    """The search ranges of an edge: nothing outside them can be feasible."""
    conditions = setup.nominal
    return Operation(
        setup=setup,
        spindle_speed=_speed_range(conditions),
        feed=Range(SLOWEST_FEED, float(conditions.robot.top_speed)),
        setting=_setting_range(conditions),
    )


def _speed_range(conditions: EdgeConditions) -> Range:
    """Speeds the spindle runs at, narrowed to the tool's rated speed and window where they meet."""
    cutter, spindle = conditions.cutter, conditions.spindle
    low, high = float(spindle.speed_min), float(spindle.speed_max)
    window = (
        float(physics.spindle_speed(cutter.diameter, cutter.speed_low)),
        float(min(cutter.rated_speed, physics.spindle_speed(cutter.diameter, cutter.speed_high))),
    )
    return (
        Range(min(max(low, window[0]), high), max(min(high, window[1]), low))
        if window[0] < window[1]
        else Range(low, high)
    )


def _setting_range(conditions: EdgeConditions) -> Range:
    mount = conditions.mount
    if isinstance(mount, CompliantMount):
        return Range(float(mount.force_min), float(mount.force_max))
    aimed = float(target_depth(conditions))
    return Range(aimed / 4, aimed * 4)
