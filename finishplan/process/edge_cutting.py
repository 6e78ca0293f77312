"""Forward model of deburring an edge with a rotating cutter: operating point in, prediction out.

`predict` follows one state of the edge; `limits` holds the predictions for the corners of the
scatter against everything that can stop the operation. Both take arrays of operating points.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import cached_property
from typing import Literal, TypeAlias

import numpy as np

from finishplan import physics
from finishplan.formula import Array, formula
from finishplan.process.contact_balance import depth_after_pass
from finishplan.process.edge_break import half_band_depth, section_into_edge
from finishplan.process.edge_conditions import EdgeConditions, OperatingPoint
from finishplan.process.mounts import Press, approach_room, press

Corner: TypeAlias = Literal["nominal", "smallest break", "largest break", "heaviest load"]


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


@dataclass(frozen=True, eq=False)
class Prediction:
    """What an operating point does to one state of the edge.

    A figure is worked out when it is asked for: of every corner of the scatter a search wants a few. Forces,
    power, torque and chips are those of the first pass, which takes the deepest step.
    """

    conditions: EdgeConditions
    point: OperatingPoint

    @cached_property
    def pressing(self) -> Press:
        return press(self.conditions.mount, self.point.setting)

    @cached_property
    def feed_per_tooth(self) -> Array:
        return physics.feed_per_tooth(self.point.feed, self.point.spindle_speed, self.conditions.cutter.teeth)

    @cached_property
    def first_depth(self) -> Array:
        return self._after_pass(untouched_edge())

    @cached_property
    def depth(self) -> Array:
        depth = self.first_depth
        for _ in range(1, self.point.passes):
            depth = self._after_pass(depth)
        return depth

    def _after_pass(self, before: Array) -> Array:
        conditions, point, pressing = self.conditions, self.point, self.pressing
        return depth_after_pass(
            before,
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
            self.feed_per_tooth,
        )

    @cached_property
    def surface_speed(self) -> Array:
        return physics.surface_speed(self.conditions.cutter.diameter, self.point.spindle_speed)

    @cached_property
    def first_section(self) -> Array:
        return physics.bisector_area(self.first_depth, self.conditions.edge.included_angle)

    @cached_property
    def section(self) -> Array:
        if self.depth is self.first_depth:
            return self.first_section
        return physics.bisector_area(self.depth, self.conditions.edge.included_angle)

    @cached_property
    def burr_section(self) -> Array:
        edge = self.conditions.edge
        return physics.burr_area(edge.burr_height, edge.burr_root_thickness, edge.burr_shape)

    @cached_property
    def leg(self) -> Array:
        into_edge = section_into_edge(self.section, self.burr_section)
        return physics.chamfer_leg(into_edge, self.conditions.edge.included_angle)

    @cached_property
    def radial_depth(self) -> Array:
        return engaged_depth(self.first_depth, self.conditions.cutter.diameter)

    @cached_property
    def max_chip_thickness(self) -> Array:
        return physics.max_chip_thickness(self.feed_per_tooth, self.radial_depth, self.conditions.cutter.diameter)

    @cached_property
    def specific_force(self) -> Array:
        chip = physics.mean_chip_thickness(self.feed_per_tooth, self.radial_depth, self.conditions.cutter.diameter)
        return self.conditions.chip_law.specific_force(chip)

    @cached_property
    def removal_rate(self) -> Array:
        return physics.removal_rate(self.first_section, self.point.feed)

    @cached_property
    def power(self) -> Array:
        return physics.cutting_power(self.specific_force, self.removal_rate)

    @cached_property
    def torque(self) -> Array:
        return physics.torque(self.power, self.point.spindle_speed)

    @cached_property
    def available_power(self) -> Array:
        spindle = self.conditions.spindle
        return power_at_speed(self.point.spindle_speed, spindle.curve_speeds, spindle.curve_powers)

    @cached_property
    def available_torque(self) -> Array:
        return physics.torque(self.available_power, self.point.spindle_speed)

    @cached_property
    def tangential_force(self) -> Array:
        return physics.tangential_force(self.power, self.surface_speed)

    @cached_property
    def normal_force(self) -> Array:
        return physics.normal_force(self.tangential_force, self.conditions.cutter.force_ratio)

    @cached_property
    def tool_deflection(self) -> Array:
        cutter = self.conditions.cutter
        return physics.cantilever_deflection(
            self.normal_force, cutter.overhang, cutter.bending_diameter, cutter.modulus
        )

    @cached_property
    def approach_speed(self) -> Array:
        conditions = self.conditions
        return approach_room(conditions.mount, self.pressing, half_band_depth(conditions), conditions.rules)

    @cached_property
    def feed_direction_force(self) -> Array:
        engaged = physics.engagement_angle(self.radial_depth, self.conditions.cutter.diameter)
        return physics.feed_direction_force(self.tangential_force, self.normal_force, engaged, "conventional")


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
    return Prediction(conditions, point)


@formula("p = 0", units={}, returns="m", source="before the first pass nothing is removed")
def untouched_edge() -> Array:
    """Depth before the first pass.

    Returns
    -------
    array_like
        Zero [m].
    """
    return np.float64(0.0)


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
