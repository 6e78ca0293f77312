"""Forward model of grinding stock flush: gates, parting lines, weld beads, by belt, disc, wheel or cut-off wheel.

Ground off, the whole volume turns to dust in strokes along the stock; cut off, only the kerf does.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Literal, TypeAlias

import numpy as np

from finishplan import physics
from finishplan.formula import Array, formula
from finishplan.physics.abrasion import removal_rate
from finishplan.process.abrasive_heat import dwell, surface_rise
from finishplan.process.edge_abrasion import heat_limit
from finishplan.process.edge_conditions import CompliantMount, RobotState, Rules, Spindle
from finishplan.process.edge_cutting import power_at_speed
from finishplan.process.equipment_limits import (
    approach_limit,
    device_limits,
    drive_limits,
    robot_limits,
    spindle_speed_limits,
    surface_speed_limits,
)
from finishplan.process.limits import Limit
from finishplan.process.mounts import allowed_impact, delivered_force
from finishplan.process.surface_conditions import Abrasive, Thermal
from finishplan.process.surface_limits import usual_force_limits

BulkCorner: TypeAlias = Literal["nominal", "least removal", "most removal"]


@dataclass(frozen=True, eq=False)
class Stock:
    """One piece of stock: the volume that turns to dust, its length, and the width it is worked over."""

    volume: Array
    length: Array
    width: Array


@dataclass(frozen=True, eq=False)
class BulkConditions:
    """Everything the removal of stock meets."""

    stock: Stock
    abrasive: Abrasive
    thermal: Thermal
    spindle: Spindle
    mount: CompliantMount
    robot: RobotState
    rules: Rules


@dataclass(frozen=True, eq=False)
class BulkSetting:
    """What the programmer sets."""

    spindle_speed: Array
    feed: Array
    force: Array


@dataclass(frozen=True, eq=False)
class BulkPrediction:
    """What a setting does to one piece of stock."""

    force: Array
    sliding_speed: Array
    rim_speed: Array
    removal_rate: Array
    depth_per_stroke: Array
    strokes: Array
    contact_time: Array
    power: Array
    torque: Array
    available_power: Array
    available_torque: Array
    temperature_rise: Array
    approach_speed: Array


@formula(
    "N = ceil(V/(Q l/vf))",
    units={"volume": "m^3", "rate": "m^3/s", "length": "m", "feed": "m/s"},
    returns="1",
    source="volume balance: strokes of the length of the stock until its volume is gone",
)
def strokes_needed(volume: Array, rate: Array, length: Array, feed: Array) -> Array:
    """Strokes along the stock until it is flush.

    Parameters
    ----------
    volume : array_like
        Volume V [m3].
    rate : array_like
        Volume removed per time Q [m3/s].
    length : array_like
        Length of the stock l [m].
    feed : array_like
        Feed vf [m/s].

    Returns
    -------
    array_like
        Whole strokes N, at least one [1].
    """
    return np.maximum(np.ceil(volume * feed / (rate * length)), 1)


@formula(
    "t = N l/vf",
    units={"strokes": "1", "length": "m", "feed": "m/s"},
    returns="s",
    source="time of all strokes",
)
def stroke_time(strokes: Array, length: Array, feed: Array) -> Array:
    """Time in contact.

    Parameters
    ----------
    strokes : array_like
        Strokes N [1].
    length : array_like
        Length of a stroke l [m].
    feed : array_like
        Feed vf [m/s].

    Returns
    -------
    array_like
        Time [s].
    """
    return strokes * length / feed


@formula(
    "A = l min(w_s, w_t)",
    units={"length": "m", "stock_width": "m", "tool_width": "m"},
    returns="m^2",
    source="the tool touches the stock over the narrower of both",
)
def stock_patch_area(length: Array, stock_width: Array, tool_width: Array) -> Array:
    """Area a tool touches on stock.

    Parameters
    ----------
    length : array_like
        Length of the contact along the feed [m].
    stock_width : array_like
        Width of the stock [m].
    tool_width : array_like
        Width of the contact of the tool [m].

    Returns
    -------
    array_like
        Area [m2].
    """
    return length * np.minimum(stock_width, tool_width)


@formula(
    "Q_k = Q k",
    units={"rate": "m^3/s", "coefficient_factor": "1"},
    returns="m^3/s",
    source="removal in proportion to the coefficient",
)
def rate_at(rate: Array, coefficient_factor: Array) -> Array:
    """Removal rate at a coefficient other than the one planned with.

    Parameters
    ----------
    rate : array_like
        Removal rate planned with Q [m3/s].
    coefficient_factor : array_like
        Coefficient over the one planned with k [1].

    Returns
    -------
    array_like
        Removal rate [m3/s].
    """
    return rate * coefficient_factor


def predict_bulk(conditions: BulkConditions, setting: BulkSetting) -> BulkPrediction:
    """Grind one piece of stock.

    Parameters
    ----------
    conditions : BulkConditions
        The state; scalars, or arrays that broadcast with the setting.
    setting : BulkSetting
        Spindle speed [1/s], feed [m/s] and force [N].

    Returns
    -------
    BulkPrediction
        Broadcast over conditions and setting.
    """
    stock, abrasive = conditions.stock, conditions.abrasive
    spindle, rules = conditions.spindle, conditions.rules
    force = delivered_force(setting.force, conditions.mount.force_error)
    speed = abrasive.tool.speed(setting.spindle_speed, setting.force)
    rate = rate_at(removal_rate(abrasive.coefficient, force, speed), abrasive.coefficient_factor)
    strokes = strokes_needed(stock.volume, rate, stock.length, setting.feed)
    power = physics.friction_power(abrasive.force_ratio, force, speed)
    patch = abrasive.tool.patch(setting.force)
    area = stock_patch_area(patch.length, stock.width, patch.width)
    available = power_at_speed(setting.spindle_speed, spindle.curve_speeds, spindle.curve_powers)
    touch = allowed_impact(setting.force, rules.impact_allowance)
    return BulkPrediction(
        force=force,
        sliding_speed=speed,
        rim_speed=abrasive.tool.rim_speed(setting.spindle_speed),
        removal_rate=rate,
        depth_per_stroke=physics.pass_depth(abrasive.coefficient, force, speed, setting.feed, stock.width),
        strokes=strokes,
        contact_time=stroke_time(strokes, stock.length, setting.feed),
        power=power,
        torque=physics.torque(power, setting.spindle_speed),
        available_power=available,
        available_torque=physics.torque(available, setting.spindle_speed),
        temperature_rise=surface_rise(
            conditions.thermal, abrasive.grain, power, speed, area, dwell(patch.length, setting.feed)
        ),
        approach_speed=physics.approach_speed(
            setting.force, touch, rules.contact_stiffness, conditions.mount.moving_mass
        ),
    )


def bulk_limits(
    conditions: BulkConditions, setting: BulkSetting, predictions: Mapping[BulkCorner, BulkPrediction]
) -> list[Limit]:
    """All limits at a setting, or at every one of an array of settings."""
    abrasive, nominal, most = conditions.abrasive, predictions["nominal"], predictions["most removal"]
    groups: tuple[Iterator[Limit] | list[Limit], ...] = (
        spindle_speed_limits(setting.spindle_speed, conditions.spindle, abrasive.rated_speed, "abrasive"),
        surface_speed_limits(nominal.rim_speed, abrasive.speed_low, abrasive.speed_high, "abrasive"),
        drive_limits(most),
        usual_force_limits(abrasive, setting.force),
        device_limits(conditions.mount, setting.force, conditions.robot.path_accuracy),
        [approach_limit(nominal.approach_speed, conditions.rules)],
        robot_limits(
            conditions.robot, physics.process_resultant(most.force, abrasive.force_ratio * most.force), setting.feed
        ),
        [heat_limit(most.temperature_rise, conditions.thermal)],
    )
    return [limit for group in groups for limit in group]
