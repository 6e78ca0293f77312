"""Forward model of breaking an edge with an abrasive pressed by a set force: belt, flap wheel, brush, nonwoven.

Every pass removes the section K F v/vf; the burr goes first and what is left rounds the edge, so the
radius grows with the root of the passes.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

import numpy as np

from finishplan import physics
from finishplan.formula import Array, formula
from finishplan.process.edge_conditions import CompliantMount, EdgeState, RobotState, Rules, Spindle
from finishplan.process.edge_cutting import Corner, middle_of_band, power_at_speed, section_into_edge
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
from finishplan.process.surface_abrasion import dwell
from finishplan.process.surface_conditions import Abrasive, Thermal
from finishplan.process.surface_limits import usual_force_limits


@dataclass(frozen=True, eq=False)
class EdgeAbrasionConditions:
    """Everything an edge under an abrasive meets."""

    edge: EdgeState
    abrasive: Abrasive
    thermal: Thermal
    spindle: Spindle
    mount: CompliantMount
    robot: RobotState
    rules: Rules


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
    edge, abrasive, thermal = conditions.edge, conditions.abrasive, conditions.thermal
    spindle, rules = conditions.spindle, conditions.rules
    force = delivered_force(setting.force, conditions.mount.force_error)
    speed = abrasive.tool.speed(setting.spindle_speed, setting.force)
    once = physics.edge_section_per_pass(abrasive.coefficient, force, speed, setting.feed)
    section = section_after_passes(once, np.float64(setting.passes), abrasive.coefficient_factor)
    burr = physics.burr_area(edge.burr_height, edge.burr_root_thickness, edge.burr_shape)
    into_edge = section_into_edge(section, burr)
    leg = physics.chamfer_leg(into_edge, edge.included_angle)
    power = physics.friction_power(abrasive.force_ratio, force, speed)
    patch = abrasive.tool.patch(setting.force)
    wanted = middle_of_band(edge.leg_lower, edge.leg_upper)
    area = edge_patch_area(patch.length, physics.chamfer_width(wanted, edge.included_angle))
    flux = physics.contact_flux(thermal.heat_share, power, area)
    available = power_at_speed(setting.spindle_speed, spindle.curve_speeds, spindle.curve_powers)
    touch = allowed_impact(setting.force, rules.impact_allowance)
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
        temperature_rise=physics.flux_temperature_rise(
            flux, dwell(patch.length, setting.feed), thermal.conductivity, thermal.diffusivity
        ),
        approach_speed=physics.approach_speed(
            setting.force, touch, rules.contact_stiffness, conditions.mount.moving_mass
        ),
    )


EdgeAbrasionPredictions = Mapping[Corner, EdgeAbrasionPrediction]


def edge_abrasion_limits(
    conditions: EdgeAbrasionConditions, setting: EdgeAbrasionSetting, predictions: EdgeAbrasionPredictions
) -> list[Limit]:
    """All limits at a setting, or at every one of an array of settings."""
    abrasive, nominal, heaviest = conditions.abrasive, predictions["nominal"], predictions["heaviest load"]
    groups: tuple[Iterator[Limit] | list[Limit], ...] = (
        spindle_speed_limits(setting.spindle_speed, conditions.spindle, abrasive.rated_speed, "abrasive"),
        surface_speed_limits(nominal.rim_speed, abrasive.speed_low, abrasive.speed_high, "abrasive"),
        drive_limits(heaviest),
        usual_force_limits(abrasive, setting.force),
        device_limits(conditions.mount, setting.force, conditions.robot.path_accuracy),
        following_limits(conditions.mount, conditions.edge, conditions.rules, setting.force, setting.feed),
        [approach_limit(nominal.approach_speed, conditions.rules)],
        robot_limits(conditions.robot, heaviest.force, setting.feed),
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
