"""Every limit of deburring an edge with a cutter, held against the corners of the scatter.

A limit's `source` names the condition its bound comes from as "group.field"; the planner knows
for each of them the line of the job or cell file, or the entry of the reference tables.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from functools import singledispatch

import numpy as np

from finishplan import physics
from finishplan.process.edge_conditions import CompliantMount, EdgeConditions, Mount, OperatingPoint, RigidMount
from finishplan.process.edge_cutting import Corner, Prediction, half_band_depth
from finishplan.process.limits import Limit

LEAST_FORCE = 1e-6
"""Stands for no force at all where friction takes up everything that is set [N]."""

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
    groups = (
        _speed_limits(conditions, point, predictions),
        _chip_limits(conditions, predictions),
        _load_limits(conditions, predictions),
        mount_limits(conditions.mount, conditions, point, predictions),
        _robot_limits(conditions, point, predictions),
        _break_limits(conditions, predictions),
    )
    return [limit for group in groups for limit in group]


def _speed_limits(conditions: EdgeConditions, point: OperatingPoint, predictions: Predictions) -> Iterator[Limit]:
    cutter, spindle, speed = conditions.cutter, conditions.spindle, point.spindle_speed
    surface = predictions["nominal"].surface_speed
    middle = (cutter.speed_low + cutter.speed_high) / 2
    yield Limit(
        "rated speed of the tool", speed, cutter.rated_speed, "rotation", "at most",
        "cutter.rated_speed", "a tool rated for a higher speed",
    )  # fmt: skip
    yield Limit(
        "highest spindle speed", speed, spindle.speed_max, "rotation", "at most",
        "spindle.speed_max", "a faster spindle or a larger tool", keeps_margin=False,
    )  # fmt: skip
    yield Limit(
        "lowest spindle speed", speed, spindle.speed_min, "rotation", "at least",
        "spindle.speed_min", "a spindle that runs slower", keeps_margin=False,
    )  # fmt: skip
    yield Limit(
        "highest surface speed", surface, cutter.speed_high, "surface speed", "at most",
        "cutter.speed_high", "a smaller tool or a slower spindle", datum=middle,
    )  # fmt: skip
    yield Limit(
        "lowest surface speed", surface, cutter.speed_low, "surface speed", "at least",
        "cutter.speed_low", "a larger tool or a faster spindle", datum=middle,
    )  # fmt: skip


def _chip_limits(conditions: EdgeConditions, predictions: Predictions) -> Iterator[Limit]:
    nominal = predictions["nominal"]
    yield Limit(
        "rubbing: thickest chip", nominal.max_chip_thickness, conditions.chip_law.minimum_chip_thickness,
        "fine length", "at least", "chip_law.minimum_chip_thickness",
        "a sharper edge, fewer teeth, or a higher feed per tooth",
    )  # fmt: skip
    yield Limit(
        "feed per tooth", nominal.feed_per_tooth, conditions.cutter.feed_high, "fine length", "at most",
        "cutter.feed_high", "more teeth or a stronger tool",
    )  # fmt: skip
    yield Limit(
        "depth on the tool", predictions["largest break"].depth, conditions.cutter.diameter / 2, "length", "at most",
        "cutter.diameter", "a larger tool",
    )  # fmt: skip


def _load_limits(conditions: EdgeConditions, predictions: Predictions) -> Iterator[Limit]:
    heaviest = predictions["heaviest load"]
    yield Limit(
        "spindle power", heaviest.cutting_power, heaviest.available_power, "power", "at most",
        "spindle.curve_powers", "a stronger spindle",
    )  # fmt: skip
    yield Limit(
        "spindle torque", heaviest.torque, heaviest.available_torque, "torque", "at most",
        "spindle.curve_powers", "a spindle with more torque at this speed",
    )  # fmt: skip
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
        "robot.path_accuracy", "a calibrated robot, a wider edge break, or a compliant mount",
    )  # fmt: skip
    yield _approach(conditions, predictions)


@mount_limits.register
def _(
    mount: CompliantMount, conditions: EdgeConditions, point: OperatingPoint, predictions: Predictions
) -> Iterator[Limit]:
    force = point.setting
    each_way = mount.stroke / 2
    yield Limit(
        "highest device force", force, mount.force_max, "force", "at most",
        "mount.force_max", "a stronger device",
    )  # fmt: skip
    yield Limit(
        "lowest device force", force, mount.force_min, "force", "at least",
        "mount.force_min", "a lighter device",
    )  # fmt: skip
    yield Limit(
        "friction of the device", force, mount.smallest_usable_force, "force", "at least",
        "mount.friction", "a device with less friction", keeps_margin=False,
    )  # fmt: skip
    yield Limit(
        "compliance stroke each way", mount.stroke_needed, each_way, "length", "at most",
        "mount.stroke", "a longer stroke, a better located part, or measuring the part first",
    )  # fmt: skip
    yield Limit(
        "path accuracy", conditions.robot.path_accuracy, each_way, "length", "at most",
        "robot.path_accuracy", "a longer stroke or a calibrated robot",
    )  # fmt: skip
    yield from _following(mount, conditions, point)
    yield _approach(conditions, predictions)


def _following(mount: CompliantMount, conditions: EdgeConditions, point: OperatingPoint) -> Iterator[Limit]:
    """How fast the device can follow the waviness of the edge."""
    edge, rules, force = conditions.edge, conditions.rules, point.setting
    amplitude, wavelength = edge.waviness_amplitude, edge.waviness_wavelength
    pressed = np.maximum(force - mount.friction, LEAST_FORCE)
    spring = np.float64(0.0) if mount.bandwidth is not None else mount.stiffness
    yield Limit(
        "loss of contact on the waviness", point.feed,
        physics.contact_loss_feed(wavelength, amplitude, pressed, mount.moving_mass, spring),
        "feed", "at most", "edge.waviness_amplitude", "less moving mass, more force, or a straighter edge",
    )  # fmt: skip
    if mount.bandwidth is not None:
        yield Limit(
            "force loop on the waviness", point.feed,
            physics.force_loop_feed(
                mount.open_loop_stiffness, amplitude, rules.force_ripple_allowance * force, wavelength,
                mount.bandwidth,
            ),
            "feed", "at most", "mount.bandwidth", "a faster force loop, a softer device, or a straighter edge",
        )  # fmt: skip
    elif np.any(mount.stiffness > 0):
        followed = physics.natural_frequency(mount.stiffness, mount.moving_mass)
        yield Limit(
            "form error followed by the suspension", point.feed,
            physics.form_error_feed(wavelength, followed, rules.form_error_factor),
            "feed", "at most", "mount.stiffness", "a stiffer or lighter suspension",
        )  # fmt: skip


def _approach(conditions: EdgeConditions, predictions: Predictions) -> Limit:
    return Limit(
        "approach speed the impact allows", predictions["nominal"].approach_speed, conditions.rules.approach_speed_min,
        "feed", "at least", "rules.approach_speed_min", "less moving mass or a larger set force",
    )  # fmt: skip


def _robot_limits(conditions: EdgeConditions, point: OperatingPoint, predictions: Predictions) -> Iterator[Limit]:
    robot = conditions.robot
    load = physics.payload_with_force(robot.carried_mass, predictions["heaviest load"].normal_force)
    yield Limit(
        "robot payload", load, robot.payload, "mass", "at most",
        "robot.payload", "a robot with more payload or a lighter spindle",
    )  # fmt: skip
    yield Limit(
        "robot speed", point.feed, robot.top_speed, "feed", "at most",
        "robot.top_speed", "a faster robot",
    )  # fmt: skip


def _break_limits(conditions: EdgeConditions, predictions: Predictions) -> Iterator[Limit]:
    edge = conditions.edge
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
