"""Forward model of deburring an edge with a rotating cutter: operating point in, prediction out.

`predict` follows one state of the edge; `limits` holds the predictions for the corners of the
scatter against everything that can stop the operation. Both take arrays of operating points.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Literal, TypeAlias

import numpy as np

from finishplan import physics
from finishplan.formula import Array, formula
from finishplan.process.contact_balance import depth_after_pass
from finishplan.process.edge_conditions import EdgeConditions, OperatingPoint
from finishplan.process.mounts import Press, approach_room, press

Corner: TypeAlias = Literal["nominal", "smallest break", "largest break", "heaviest load"]


@dataclass(frozen=True, eq=False)
class Prediction:
    """What an operating point does to one state of the edge.

    Forces, power, torque and chips are those of the first pass, which takes the deepest step.
    """

    surface_speed: Array
    feed_per_tooth: Array
    max_chip_thickness: Array
    specific_force: Array
    depth: Array
    section: Array
    burr_section: Array
    leg: Array
    removal_rate: Array
    normal_force: Array
    tangential_force: Array
    power: Array
    torque: Array
    available_power: Array
    available_torque: Array
    tool_deflection: Array
    approach_speed: Array
    feed_direction_force: Array


@formula(
    "a_r = min(a, D/2)",
    units={"depth": "m", "diameter": "m"},
    returns="m",
    source="the edge reaches no further than the axis of the cutter; deeper is beyond its limit anyway",
)
def engaged_depth(depth: Array, diameter: Array) -> Array:
    """Radial depth the cutter meets.

    Parameters
    ----------
    depth : array_like
        Depth into the edge along the bisector [m].
    diameter : array_like
        Cutting diameter [m].

    Returns
    -------
    array_like
        Radial depth of engagement [m].
    """
    return np.minimum(depth, diameter / 2)


@formula(
    "A = max(0, S - A_burr)",
    units={"section": "m^2", "burr_section": "m^2"},
    returns="m^2",
    source="balance of the sections removed",
)
def section_into_edge(section: Array, burr_section: Array) -> Array:
    """Part of the removed section that went into the edge once the burr is gone.

    Parameters
    ----------
    section : array_like
        Section removed by all passes, burr included [m2].
    burr_section : array_like
        Section of the burr [m2].

    Returns
    -------
    array_like
        Section of the edge break [m2]; 0 while burr is left.
    """
    return np.maximum(section - burr_section, 0 * section)


@formula(
    "S = A + A_burr",
    units={"break_section": "m^2", "burr_section": "m^2"},
    returns="m^2",
    source="balance of the sections removed",
)
def total_section(break_section: Array, burr_section: Array) -> Array:
    """Section to be removed for an edge break and the burr on it.

    Parameters
    ----------
    break_section : array_like
        Section of the edge break [m2].
    burr_section : array_like
        Section of the burr [m2].

    Returns
    -------
    array_like
        Section [m2].
    """
    return break_section + burr_section


@formula(
    "P = interpolated on the spindle's curve at n; 0 beyond its last point",
    units={"spindle_speed": "1/s", "curve_speeds": "1/s", "curve_powers": "W"},
    returns="W",
    source="the spindle's own curve of continuous shaft power",
)
def power_at_speed(spindle_speed: Array, curve_speeds: Array, curve_powers: Array) -> Array:
    """Shaft power a spindle gives at a speed.

    Parameters
    ----------
    spindle_speed : array_like
        Spindle speed [1/s].
    curve_speeds : array_like
        Rising speeds of the curve [1/s].
    curve_powers : array_like
        Shaft power at those speeds [W].

    Returns
    -------
    array_like
        Power [W]. Below the first point the torque of that point holds.
    """
    below = curve_powers[0] * spindle_speed / curve_speeds[0]
    on_curve = np.interp(spindle_speed, curve_speeds, curve_powers, right=0.0 * curve_powers[0])
    return np.where(spindle_speed < curve_speeds[0], below, on_curve)[()]


def predict(conditions: EdgeConditions, point: OperatingPoint) -> Prediction:
    """Follow one state of the edge through all passes.

    Parameters
    ----------
    conditions : EdgeConditions
        The state of edge, tool and cell; scalars, or arrays that broadcast with the point.
    point : OperatingPoint
        Spindle speed [1/s], feed [m/s], setting [N or m] and passes.

    Returns
    -------
    Prediction
        Broadcast over conditions and point.
    """
    edge, cutter, spindle = conditions.edge, conditions.cutter, conditions.spindle
    speed = physics.surface_speed(cutter.diameter, point.spindle_speed)
    per_tooth = physics.feed_per_tooth(point.feed, point.spindle_speed, cutter.teeth)
    pressing = press(conditions.mount, point.setting)
    first, last = _depths(conditions, point, pressing, per_tooth)
    first_section = physics.bisector_area(first, edge.included_angle)
    section = first_section if last is first else physics.bisector_area(last, edge.included_angle)
    burr = physics.burr_area(edge.burr_height, edge.burr_root_thickness, edge.burr_shape)
    leg = physics.chamfer_leg(section_into_edge(section, burr), edge.included_angle)
    radial = engaged_depth(first, cutter.diameter)
    chip = physics.mean_chip_thickness(per_tooth, radial, cutter.diameter)
    specific = conditions.chip_law.specific_force(chip)
    rate = physics.removal_rate(first_section, point.feed)
    power = physics.cutting_power(specific, rate)
    tangential = physics.tangential_force(power, speed)
    normal = physics.normal_force(tangential, cutter.force_ratio)
    available = power_at_speed(point.spindle_speed, spindle.curve_speeds, spindle.curve_powers)
    return Prediction(
        surface_speed=speed,
        feed_per_tooth=per_tooth,
        max_chip_thickness=physics.max_chip_thickness(per_tooth, radial, cutter.diameter),
        specific_force=specific,
        depth=last,
        section=section,
        burr_section=burr,
        leg=leg,
        removal_rate=rate,
        normal_force=normal,
        tangential_force=tangential,
        power=power,
        torque=physics.torque(power, point.spindle_speed),
        available_power=available,
        available_torque=physics.torque(available, point.spindle_speed),
        tool_deflection=physics.cantilever_deflection(normal, cutter.overhang, cutter.bending_diameter, cutter.modulus),
        approach_speed=approach_room(conditions.mount, pressing, half_band_depth(conditions), conditions.rules),
        feed_direction_force=physics.feed_direction_force(
            tangential, normal, physics.engagement_angle(radial, cutter.diameter), "conventional"
        ),
    )


def _depths(
    conditions: EdgeConditions, point: OperatingPoint, pressing: Press, per_tooth: Array
) -> tuple[Array, Array]:
    """Depth after the first and after the last pass."""
    depth = untouched_edge()
    first: Array = None
    for _ in range(point.passes):
        depth = depth_after_pass(
            depth,
            pressing.set_force,
            pressing.stiffness,
            pressing.aimed_depth,
            conditions.edge.path_error,
            conditions.cutter.force_ratio,
            conditions.chip_law,
            conditions.edge.included_angle,
            conditions.cutter.diameter,
            point.spindle_speed,
            point.feed,
            per_tooth,
        )
        first = depth if first is None else first
    return first, depth


@formula("p = 0", units={}, returns="m", source="before the first pass nothing is removed")
def untouched_edge() -> Array:
    """Depth before the first pass.

    Returns
    -------
    array_like
        Zero [m].
    """
    return np.float64(0.0)


@formula(
    "(c_upper - c_lower)/2",
    units={"leg_lower": "m", "leg_upper": "m"},
    returns="m",
    source="half of the band between the limits",
)
def half_band(leg_lower: Array, leg_upper: Array) -> Array:
    """Half of the band of the edge break.

    Parameters
    ----------
    leg_lower : array_like
        Smallest leg accepted [m].
    leg_upper : array_like
        Largest leg accepted [m].

    Returns
    -------
    array_like
        Half the difference [m].
    """
    return (leg_upper - leg_lower) / 2


@formula(
    "(c_upper + c_lower)/2",
    units={"leg_lower": "m", "leg_upper": "m"},
    returns="m",
    source="middle of the band between the limits",
)
def middle_of_band(leg_lower: Array, leg_upper: Array) -> Array:
    """Middle of the band of the edge break.

    Parameters
    ----------
    leg_lower : array_like
        Smallest leg accepted [m].
    leg_upper : array_like
        Largest leg accepted [m].

    Returns
    -------
    array_like
        Half the sum [m].
    """
    return (leg_upper + leg_lower) / 2


def half_band_depth(conditions: EdgeConditions) -> Array:
    """Depth along the bisector that uses up half the band of the edge break [m]."""
    edge = conditions.edge
    return physics.chamfer_depth(half_band(edge.leg_lower, edge.leg_upper), edge.included_angle)


MOST_PASSES_TOLD = 20


def passes_to_clear(largest_burr: EdgeConditions, point: OperatingPoint) -> int | None:
    """Passes at a setting that remove the largest burr, or None where twenty do not.

    A rigid tool never goes below its path, so more passes need not help it.
    """
    for passes in range(1, MOST_PASSES_TOLD + 1):
        prediction = predict(largest_burr, replace(point, passes=passes))
        if prediction.section >= prediction.burr_section:
            return passes
    return None
