"""Every limit of deburring an edge with a cutter, held against the corners of the scatter.

A limit's `source` names the condition its bound comes from as "group.field"; the planner knows
for each of them the line of the job or cell file, or the entry of the reference tables.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from functools import singledispatch
from typing import Protocol

from finishplan import physics
from finishplan.formula import Array
from finishplan.process.cutter_limits import chip_limits
from finishplan.process.edge_break import half_band_depth
from finishplan.process.edge_conditions import (
    CompliantMount,
    EdgeConditions,
    EdgeState,
    Mount,
    OperatingPoint,
    RigidMount,
)
from finishplan.process.edge_cutting import Corner, Prediction
from finishplan.process.equipment_limits import (
    approach_limit,
    device_limits,
    drive_limits,
    following_limits,
    robot_limits,
    spindle_speed_limits,
    surface_speed_limits,
)
from finishplan.process.limits import Limit

Predictions = Mapping[Corner, Prediction]


def edge_limits(conditions: EdgeConditions, point: OperatingPoint, predictions: Predictions) -> list[Limit]:
    """All limits at an operating point, or at every one of an array of points.

    Parameters
    ----------
    conditions : EdgeConditions
        The nominal conditions; bounds are read from them.
    point : OperatingPoint
        The settings.
    predictions : mapping of corner to Prediction
        `finishplan.process.edge_cutting.predict` at every corner of the scatter.

    Returns
    -------
    list of Limit
        In the order a programmer checks them: speed, chip, load, mount, robot, result.
    """
    heaviest = predictions["heaviest load"]
    groups = (
        _speed_limits(conditions, point, predictions),
        _chip_limits(conditions, predictions),
        _load_limits(conditions, predictions),
        mount_limits(conditions.mount, conditions, point, predictions),
        robot_limits(
            conditions.robot, physics.process_resultant(heaviest.normal_force, heaviest.tangential_force), point.feed
        ),
        break_limits(conditions.edge, predictions),
    )
    return [limit for group in groups for limit in group]


def _speed_limits(conditions: EdgeConditions, point: OperatingPoint, predictions: Predictions) -> Iterator[Limit]:
    cutter = conditions.cutter
    yield from spindle_speed_limits(point.spindle_speed, conditions.spindle, cutter.rated_speed, "cutter")
    yield from surface_speed_limits(predictions["nominal"].surface_speed, cutter.speed_low, cutter.speed_high, "cutter")


def _chip_limits(conditions: EdgeConditions, predictions: Predictions) -> Iterator[Limit]:
    yield from chip_limits(predictions["nominal"], conditions.chip_law, conditions.cutter)
    yield Limit(
        "depth within the radius of the tool", predictions["largest break"].depth, conditions.cutter.diameter / 2,
        "length", "at most", "cutter.diameter", "a larger tool",
    )  # fmt: skip


def _load_limits(conditions: EdgeConditions, predictions: Predictions) -> Iterator[Limit]:
    heaviest = predictions["heaviest load"]
    yield from drive_limits(heaviest)
    yield Limit(
        "tool deflection", heaviest.tool_deflection, half_band_depth(conditions), "fine length", "at most",
        "edge.leg_upper", "a shorter overhang or a thicker shank",
    )  # fmt: skip


@singledispatch
def mount_limits(
    mount: Mount, conditions: EdgeConditions, point: OperatingPoint, predictions: Predictions
) -> Iterator[Limit]:
    """Limits that come with the kind of mount."""
    raise TypeError(f"no limits for {type(mount).__name__}")


@mount_limits.register
def _(
    mount: RigidMount, conditions: EdgeConditions, point: OperatingPoint, predictions: Predictions
) -> Iterator[Limit]:
    band = half_band_depth(conditions)
    yield Limit(
        "robot and tool deflection", predictions["heaviest load"].normal_force / mount.stiffness, band,
        "fine length", "at most", "robot.stiffness", "a stiffer robot, a shorter tool, or a compliant mount",
    )  # fmt: skip
    yield Limit(
        "path accuracy", conditions.robot.path_accuracy, band, "length", "at most",
        "robot.path_accuracy", "a calibrated robot, a wider edge break, or a compliant mount", asks_of="value",
    )  # fmt: skip
    yield approach_limit(predictions["nominal"].approach_speed, conditions.rules)


@mount_limits.register
def _(
    mount: CompliantMount, conditions: EdgeConditions, point: OperatingPoint, predictions: Predictions
) -> Iterator[Limit]:
    yield from device_limits(mount, point.setting, conditions.robot.path_accuracy)
    yield from following_limits(mount, conditions.edge, conditions.rules, point.setting, point.feed)
    yield approach_limit(predictions["nominal"].approach_speed, conditions.rules)


class Broken(Protocol):
    """An edge after its passes, whatever broke it."""

    @property
    def leg(self) -> Array: ...

    @property
    def section(self) -> Array: ...

    @property
    def burr_section(self) -> Array: ...


def break_limits(edge: EdgeState, predictions: Mapping[Corner, Broken]) -> Iterator[Limit]:
    """Both limits of the edge break at the corners of the scatter, and the largest burr gone."""
    middle = (edge.leg_lower + edge.leg_upper) / 2
    smallest = predictions["smallest break"]
    yield Limit(
        "largest edge break", predictions["largest break"].leg, edge.leg_upper, "length", "at most",
        "edge.leg_upper", "a wider edge break, less scatter of burr and position, or a compliant mount", datum=middle,
    )  # fmt: skip
    yield Limit(
        "smallest edge break", smallest.leg, edge.leg_lower, "length", "at least",
        "edge.leg_lower", "a wider edge break, less scatter of burr and position, or a compliant mount", datum=middle,
    )  # fmt: skip
    yield Limit(
        "largest burr removed", smallest.section, smallest.burr_section, "area", "at least",
        "edge.burr_height", "more force, more passes, or a smaller burr from the step before",
    )  # fmt: skip


def corner_limit(edge: EdgeState, leg: float) -> Limit:
    """Break at the slowest corner, with the force there lowered as far as the device goes."""
    middle = (edge.leg_lower + edge.leg_upper) / 2
    return Limit(
        "edge break at the slowest corner", leg, edge.leg_upper, "length", "at most", "edge.leg_upper",
        "a higher acceleration, a slower feed, a rounder corner, or a device that presses less", datum=middle,
    )  # fmt: skip
