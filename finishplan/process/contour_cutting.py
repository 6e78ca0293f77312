"""Forward model of trimming a contour along a position path: operating point in, prediction out.

The cutter takes the radial depth in one or more layers. The arm follows the mean force of a turn; the
tool feels the peak of it.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal, TypeAlias

from finishplan import physics
from finishplan.formula import Array
from finishplan.process import contour_forces as forces
from finishplan.process.contour_conditions import ContourConditions, ContourSetting
from finishplan.process.contour_heat import edge_force_share, wall_rise
from finishplan.process.edge_cutting import power_at_speed

Corner: TypeAlias = Literal["nominal", "heaviest load", "drawn in"]
"""States of the scatter: as planned, hardest and most with a high force ratio, and with a low one."""


@dataclass(frozen=True, eq=False)
class ContourPrediction:
    """What an operating point does to one state of a contour.

    `wall_force` points away from the wall, `feed_direction_force` against the feed; `climb_force` and
    `conventional_force` are the latter for either direction of travel.
    """

    surface_speed: Array
    feed_per_tooth: Array
    axial_depth: Array
    engagement_angle: Array
    mean_chip_thickness: Array
    max_chip_thickness: Array
    teeth_in_cut: Array
    specific_force: Array
    removal_rate: Array
    power: Array
    torque: Array
    available_power: Array
    available_torque: Array
    tangential_force: Array
    normal_force: Array
    wall_force: Array
    conventional_force: Array
    climb_force: Array
    peak_force: Array
    tool_deflection: Array
    bending_stress: Array
    deflection: Array
    path_error: Array
    temperature_rise: Array
    cusp_height: Array
    arm_depth_limit: Array
    tool_depth_limit: Array
    process_stiffness: Array


ContourPredictions: TypeAlias = Mapping[Corner, ContourPrediction]


@dataclass(frozen=True, eq=False)
class _Cut:
    """The engagement and what the mean chip asks for."""

    speed: Array
    per_tooth: Array
    depth: Array
    angle: Array
    chip: Array
    max_chip: Array
    in_cut: Array
    specific: Array
    rate: Array
    power: Array
    tangential: Array
    normal: Array


def predict_contour(conditions: ContourConditions, setting: ContourSetting) -> ContourPrediction:
    """Follow one state of a contour through one layer.

    Parameters
    ----------
    conditions : ContourConditions
        The state of contour, tool and cell; scalars, or arrays that broadcast with the setting.
    setting : ContourSetting
        Spindle speed [1/s], feed [m/s] and layers.

    Returns
    -------
    ContourPrediction
        Broadcast over conditions and setting.
    """
    contour, cutter, spindle = conditions.contour, conditions.cutter, conditions.spindle
    cut = _cut(conditions, setting)
    wall = physics.wall_force(cut.tangential, cut.normal, cut.angle, contour.direction)
    peak = _peak(conditions, cut)
    deflection = forces.wall_deflection(
        wall, physics.series_stiffness(conditions.arm.stiffness, conditions.arm.tool_stiffness)
    )
    available = power_at_speed(setting.spindle_speed, spindle.curve_speeds, spindle.curve_powers)
    arm_limit, tool_limit = _depth_limits(conditions, setting, cut)
    return ContourPrediction(
        surface_speed=cut.speed,
        feed_per_tooth=cut.per_tooth,
        axial_depth=cut.depth,
        engagement_angle=cut.angle,
        mean_chip_thickness=cut.chip,
        max_chip_thickness=cut.max_chip,
        teeth_in_cut=cut.in_cut,
        specific_force=cut.specific,
        removal_rate=cut.rate,
        power=cut.power,
        torque=physics.torque(cut.power, setting.spindle_speed),
        available_power=available,
        available_torque=physics.torque(available, setting.spindle_speed),
        tangential_force=cut.tangential,
        normal_force=cut.normal,
        wall_force=wall,
        conventional_force=physics.feed_direction_force(cut.tangential, cut.normal, cut.angle, "conventional"),
        climb_force=physics.feed_direction_force(cut.tangential, cut.normal, cut.angle, "climb"),
        peak_force=peak,
        tool_deflection=physics.cantilever_deflection(peak, cutter.overhang, cutter.bending_diameter, cutter.modulus),
        bending_stress=physics.bending_stress(
            peak, forces.force_lever(cutter.overhang, cut.depth), cutter.bending_diameter
        ),
        deflection=deflection,
        path_error=forces.path_error(deflection, contour.position_error),
        temperature_rise=_temperature_rise(conditions, setting, cut),
        cusp_height=physics.cusp_height(cut.per_tooth, cutter.diameter),
        arm_depth_limit=arm_limit,
        tool_depth_limit=tool_limit,
        process_stiffness=physics.process_stiffness(cut.specific, cut.depth, setting.feed, cut.speed),
    )


def _cut(conditions: ContourConditions, setting: ContourSetting) -> _Cut:
    contour, cutter = conditions.contour, conditions.cutter
    speed = physics.surface_speed(cutter.diameter, setting.spindle_speed)
    per_tooth = physics.feed_per_tooth(setting.feed, setting.spindle_speed, cutter.teeth)
    depth = forces.layer_depth(contour.thickness, setting.layers)
    angle = physics.engagement_angle(contour.radial_depth, cutter.diameter)
    chip = physics.mean_chip_thickness(per_tooth, contour.radial_depth, cutter.diameter)
    specific = conditions.chip_law.specific_force(chip)
    rate = physics.removal_rate(forces.cut_section(depth, contour.radial_depth), setting.feed)
    power = physics.cutting_power(specific, rate)
    tangential = physics.tangential_force(power, speed)
    return _Cut(
        speed=speed,
        per_tooth=per_tooth,
        depth=depth,
        angle=angle,
        chip=chip,
        max_chip=physics.max_chip_thickness(per_tooth, contour.radial_depth, cutter.diameter),
        in_cut=physics.teeth_in_cut(cutter.teeth, angle),
        specific=specific,
        rate=rate,
        power=power,
        tangential=tangential,
        normal=physics.normal_force(tangential, cutter.force_ratio),
    )


def _peak(conditions: ContourConditions, cut: _Cut) -> Array:
    """Highest force on the tool during a turn, tangential and normal together."""
    specific = conditions.chip_law.specific_force(cut.max_chip)
    tangential = forces.peak_force(specific, cut.depth, cut.max_chip, cut.in_cut, conditions.cutter.width_share)
    return forces.resultant_force(tangential, conditions.cutter.force_ratio)


def _temperature_rise(conditions: ContourConditions, setting: ContourSetting, cut: _Cut) -> Array:
    """Rise of the finished wall."""
    return wall_rise(
        conditions.thermal,
        conditions.edge,
        edge_force_share(conditions.chip_law, cut.chip, cut.specific),
        power=cut.power,
        speed=cut.speed,
        axial_depth=cut.depth,
        engagement_angle=cut.angle,
        diameter=conditions.cutter.diameter,
        feed=setting.feed,
    )


def _depth_limits(conditions: ContourConditions, setting: ContourSetting, cut: _Cut) -> tuple[Array, Array]:
    """Axial depth up to which the arm, and the tool, stay free of regenerative chatter.

    The arm swings slowly, so fast teeth calm it; the tool swings faster than the teeth pass, and
    takes the depth that holds at every speed.
    """
    arm, cutter = conditions.arm, conditions.cutter
    rise = forces.chip_rise(conditions.chip_law, cut.chip, cut.specific)
    gain = forces.dynamic_force(rise, cutter.force_ratio)
    slowly = physics.regenerative_depth_limit(arm.stiffness, arm.damping_ratio, gain)
    teeth = forces.tooth_frequency(setting.spindle_speed, cutter.teeth)
    here = physics.fast_tooth_depth_limit(arm.stiffness, arm.natural_frequency, teeth, gain)
    return (
        physics.milling_depth_estimate(forces.deeper_of(slowly, here), cut.in_cut),
        physics.round_tool_depth_limit(
            arm.tool_stiffness, arm.damping_ratio, cut.angle, cutter.teeth, rise, cutter.force_ratio
        ),
    )
