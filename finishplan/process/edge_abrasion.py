"""Forward model of breaking an edge with an abrasive pressed by a set force: belt, flap wheel, brush, nonwoven.

Every pass removes the section K F v/vf; the burr goes first and what is left rounds the edge, so the
radius grows with the root of the passes.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Protocol, TypeAlias

import numpy as np

from finishplan import physics
from finishplan.formula import Array, formula
from finishplan.process.abrasive_heat import dwell, surface_rise
from finishplan.process.edge_break import middle_of_band, section_into_edge
from finishplan.process.edge_conditions import CompliantMount, EdgeState, Mount, RobotState, Rules, Spindle
from finishplan.process.edge_cutting import Corner, power_at_speed
from finishplan.process.edge_limits import break_limits
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
from finishplan.process.mounts import allowed_impact, delivered_force
from finishplan.process.surface_conditions import Abrasive, Thermal
from finishplan.process.surface_limits import usual_force_limits


@dataclass(frozen=True, eq=False)
class EdgeUnderAbrasive:
    """Everything an edge under an abrasive meets, however it is pressed."""

    edge: EdgeState
    abrasive: Abrasive
    thermal: Thermal
    spindle: Spindle
    mount: Mount
    robot: RobotState
    rules: Rules


@dataclass(frozen=True, eq=False)
class EdgeAbrasionConditions(EdgeUnderAbrasive):
    """An edge under an abrasive that a device presses with a set force."""

    mount: CompliantMount


class Travel(Protocol):
    """What the programmer sets of the motion, however the abrasive is pressed."""

    @property
    def spindle_speed(self) -> Array: ...

    @property
    def feed(self) -> Array: ...

    @property
    def passes(self) -> int: ...


@dataclass(frozen=True, eq=False)
class Pressing:
    """How the abrasive bears on one state of the edge.

    `contact_length` and `approach_speed` are those at the setting, whatever the state does to the force.
    """

    force: Array
    sliding_speed: Array
    contact_length: Array
    approach_speed: Array


@dataclass(frozen=True, eq=False)
class EdgeAbrasionSetting:
    """What the programmer sets."""

    spindle_speed: Array
    feed: Array
    force: Array
    passes: int


@dataclass(frozen=True, eq=False)
class EdgeAbrasionPrediction:
    """What a setting does to one state of the edge."""

    force: Array
    sliding_speed: Array
    rim_speed: Array
    section: Array
    burr_section: Array
    leg: Array
    radius: Array
    power: Array
    torque: Array
    available_power: Array
    available_torque: Array
    temperature_rise: Array
    approach_speed: Array


@formula(
    "S = N S_1 k",
    units={"section_per_pass": "m^2", "passes": "1", "coefficient_factor": "1"},
    returns="m^2",
    source="sum over the passes, at a coefficient that may differ from the one planned with",
)
def section_after_passes(section_per_pass: Array, passes: Array, coefficient_factor: Array) -> Array:
    """Section removed by all passes, burr included.

    Parameters
    ----------
    section_per_pass : array_like
        Section of one pass S_1 [m2].
    passes : array_like
        Passes N [1].
    coefficient_factor : array_like
        Coefficient over the one planned with k [1].

    Returns
    -------
    array_like
        Section [m2].
    """
    return passes * section_per_pass * coefficient_factor


@formula(
    "A = l w",
    units={"length": "m", "break_width": "m"},
    returns="m^2",
    source="the abrasive touches the broken edge alone, over the length of its contact",
)
def edge_patch_area(length: Array, break_width: Array) -> Array:
    """Area an abrasive touches on an edge.

    Parameters
    ----------
    length : array_like
        Length of the contact along the edge [m].
    break_width : array_like
        Width of the broken edge [m].

    Returns
    -------
    array_like
        Area [m2].
    """
    return length * break_width


def predict_edge_abrasion(conditions: EdgeAbrasionConditions, setting: EdgeAbrasionSetting) -> EdgeAbrasionPrediction:
    """Follow one state of the edge through all passes.

    Parameters
    ----------
    conditions : EdgeAbrasionConditions
        The state; scalars, or arrays that broadcast with the setting.
    setting : EdgeAbrasionSetting
        Spindle speed [1/s], feed [m/s], force [N] and passes.

    Returns
    -------
    EdgeAbrasionPrediction
        Broadcast over conditions and setting.
    """
    tool, mount, rules = conditions.abrasive.tool, conditions.mount, conditions.rules
    touch = allowed_impact(setting.force, rules.impact_allowance)
    pressing = Pressing(
        force=delivered_force(setting.force, mount.force_error),
        sliding_speed=tool.speed(setting.spindle_speed, setting.force),
        contact_length=tool.patch(setting.force).length,
        approach_speed=physics.approach_speed(setting.force, touch, rules.contact_stiffness, mount.moving_mass),
    )
    return abraded_edge(conditions, setting, pressing)


def abraded_edge(conditions: EdgeUnderAbrasive, setting: Travel, pressing: Pressing) -> EdgeAbrasionPrediction:
    """What all passes do to an edge under an abrasive that is pressed in some way."""
    edge, abrasive = conditions.edge, conditions.abrasive
    spindle, force, speed = conditions.spindle, pressing.force, pressing.sliding_speed
    once = physics.edge_section_per_pass(abrasive.coefficient, force, speed, setting.feed)
    section = section_after_passes(once, np.float64(setting.passes), abrasive.coefficient_factor)
    burr = physics.burr_area(edge.burr_height, edge.burr_root_thickness, edge.burr_shape)
    into_edge = section_into_edge(section, burr)
    leg = physics.chamfer_leg(into_edge, edge.included_angle)
    power = physics.friction_power(abrasive.force_ratio, force, speed)
    wanted = middle_of_band(edge.leg_lower, edge.leg_upper)
    area = edge_patch_area(pressing.contact_length, physics.chamfer_width(wanted, edge.included_angle))
    available = power_at_speed(setting.spindle_speed, spindle.curve_speeds, spindle.curve_powers)
    return EdgeAbrasionPrediction(
        force=force,
        sliding_speed=speed,
        rim_speed=abrasive.tool.rim_speed(setting.spindle_speed),
        section=section,
        burr_section=burr,
        leg=leg,
        radius=physics.round_radius(into_edge, edge.included_angle),
        power=power,
        torque=physics.torque(power, setting.spindle_speed),
        available_power=available,
        available_torque=physics.torque(available, setting.spindle_speed),
        temperature_rise=surface_rise(
            conditions.thermal, abrasive.grain, power, speed, area, dwell(pressing.contact_length, setting.feed)
        ),
        approach_speed=pressing.approach_speed,
    )


EdgeAbrasionPredictions: TypeAlias = Mapping[Corner, EdgeAbrasionPrediction]


def edge_abrasion_limits(
    conditions: EdgeAbrasionConditions, setting: EdgeAbrasionSetting, predictions: EdgeAbrasionPredictions
) -> list[Limit]:
    """All limits at a setting, or at every one of an array of settings."""
    return abraded_edge_limits(
        conditions,
        setting,
        predictions,
        usual_force_limits(conditions.abrasive, setting.force),
        device_limits(conditions.mount, setting.force, conditions.robot.path_accuracy),
        following_limits(conditions.mount, conditions.edge, conditions.rules, setting.force, setting.feed),
    )


def abraded_edge_limits(
    conditions: EdgeUnderAbrasive, setting: Travel, predictions: EdgeAbrasionPredictions, *pressing: Iterator[Limit]
) -> list[Limit]:
    """Limits of an edge under an abrasive, with those of the way it is pressed among them."""
    abrasive, nominal, heaviest = conditions.abrasive, predictions["nominal"], predictions["heaviest load"]
    groups: tuple[Iterator[Limit] | list[Limit], ...] = (
        spindle_speed_limits(setting.spindle_speed, conditions.spindle, abrasive.rated_speed, "abrasive"),
        surface_speed_limits(nominal.rim_speed, abrasive.speed_low, abrasive.speed_high, "abrasive"),
        drive_limits(heaviest),
        *pressing,
        [approach_limit(nominal.approach_speed, conditions.rules)],
        robot_limits(
            conditions.robot,
            physics.process_resultant(heaviest.force, abrasive.force_ratio * heaviest.force),
            setting.feed,
        ),
        [heat_limit(heaviest.temperature_rise, conditions.thermal)],
        break_limits(conditions.edge, predictions),
    )
    return [limit for group in groups for limit in group]


def heat_limit(rise: Array, thermal: Thermal) -> Limit:
    """Rise of the surface against what the material bears."""
    return Limit(
        "heat at the surface", rise, thermal.room, "temperature difference", "at most",
        "thermal.room", "a faster feed in more passes, less force, or a larger patch",
    )  # fmt: skip
