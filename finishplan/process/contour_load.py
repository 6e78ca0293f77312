"""What a cut along a contour does to spindle, arm, tool and part, whether teeth or grain make it."""

from __future__ import annotations

from dataclasses import dataclass
from functools import singledispatch
from typing import Any

from finishplan import physics
from finishplan.formula import Array
from finishplan.process import contour_forces as forces
from finishplan.process.contour_conditions import ContourSetting, Trimming
from finishplan.process.contour_engagement import Engagement, Milled, Passage, Sawn
from finishplan.process.contour_heat import wall_rise
from finishplan.process.edge_cutting import power_at_speed
from finishplan.process.kerf_heat import arc_length, kerf_rise


@dataclass(frozen=True, eq=False)
class TrimmedPrediction:
    """What an operating point does to one state of a contour.

    `cut_width` counts along the tool's axis. `wall_force` points away from the wall, or to either side of
    a disc; `conventional_force` and `climb_force` point against the feed, for either direction of travel;
    `lift_force` draws the part towards the spindle, and is None for a tool on its axis, as the
    `bending_stress` is for a disc.
    """

    surface_speed: Array
    layer_depth: Array
    cut_width: Array
    engagement_angle: Array
    specific_force: Array
    removal_rate: Array
    power: Array
    torque: Array
    available_power: Array
    available_torque: Array
    tangential_force: Array
    normal_force: Array
    peak_force: Array
    wall_force: Array
    conventional_force: Array
    climb_force: Array
    lift_force: Array | None
    tool_deflection: Array
    bending_stress: Array | None
    deflection: Array
    path_error: Array
    temperature_rise: Array


@dataclass(frozen=True, eq=False)
class Load:
    """What the removal itself asks for: `peak` is the highest force on the tool, `edge_share` what rubs of it."""

    layer: Array
    passage: Passage
    speed: Array
    specific: Array
    rate: Array
    power: Array
    tangential: Array
    normal: Array
    peak: Array
    edge_share: Array


def borne(conditions: Trimming, setting: ContourSetting, load: Load, diameter: Array) -> dict[str, Any]:
    """How a cell bears a load: every field of `TrimmedPrediction`."""
    contour, arm, spindle = conditions.contour, conditions.arm, conditions.spindle
    reaction = conditions.engagement.reaction(load.tangential, load.normal, load.passage, contour.direction)
    deflection = forces.wall_deflection(reaction.off_wall, physics.series_stiffness(arm.stiffness, arm.tool_stiffness))
    available = power_at_speed(setting.spindle_speed, spindle.curve_speeds, spindle.curve_powers)
    return {
        "surface_speed": load.speed,
        "layer_depth": load.layer,
        "cut_width": load.passage.width,
        "engagement_angle": load.passage.angle,
        "specific_force": load.specific,
        "removal_rate": load.rate,
        "power": load.power,
        "torque": physics.torque(load.power, setting.spindle_speed),
        "available_power": available,
        "available_torque": physics.torque(available, setting.spindle_speed),
        "tangential_force": load.tangential,
        "normal_force": load.normal,
        "peak_force": load.peak,
        "wall_force": reaction.off_wall,
        "conventional_force": reaction.conventional,
        "climb_force": reaction.climb,
        "lift_force": reaction.lift,
        "deflection": deflection,
        "path_error": forces.path_error(deflection, contour.position_error),
        "temperature_rise": _rise(conditions.engagement, conditions, setting, load, diameter),
        **_strain(conditions.engagement, conditions, load, reaction.off_wall),
    }


@singledispatch
def _strain(engagement: Engagement, conditions: Trimming, load: Load, off_wall: Array) -> dict[str, Any]:
    """How far the tool alone gives way, and the stress in it."""
    raise TypeError(f"no strength known of {type(engagement).__name__}")


@_strain.register
def _(engagement: Milled, conditions: Trimming, load: Load, off_wall: Array) -> dict[str, Any]:
    shank = engagement.shank
    lever = forces.force_lever(shank.overhang, load.passage.width)
    return {
        "tool_deflection": physics.cantilever_deflection(
            load.peak, shank.overhang, shank.bending_diameter, shank.modulus
        ),
        "bending_stress": physics.bending_stress(load.peak, lever, shank.bending_diameter),
    }


@_strain.register
def _(engagement: Sawn, conditions: Trimming, load: Load, off_wall: Array) -> dict[str, Any]:
    return {
        "tool_deflection": forces.wall_deflection(off_wall, conditions.arm.tool_stiffness),
        "bending_stress": None,
    }


@singledispatch
def _rise(engagement: Engagement, conditions: Trimming, setting: ContourSetting, load: Load, diameter: Array) -> Array:
    """Rise of the finished wall."""
    raise TypeError(f"no heat model for {type(engagement).__name__}")


@_rise.register
def _(engagement: Milled, conditions: Trimming, setting: ContourSetting, load: Load, diameter: Array) -> Array:
    return wall_rise(
        conditions.thermal,
        conditions.edge,
        load.edge_share,
        power=load.power,
        speed=load.speed,
        axial_depth=load.passage.width,
        engagement_angle=load.passage.angle,
        diameter=diameter,
        feed=setting.feed,
    )


@_rise.register
def _(engagement: Sawn, conditions: Trimming, setting: ContourSetting, load: Load, diameter: Array) -> Array:
    return kerf_rise(
        conditions.thermal,
        conditions.edge,
        load.edge_share,
        power=load.power,
        speed=load.speed,
        feed=setting.feed,
        kerf=engagement.width,
        rubbing_force=engagement.rubbing_force,
        friction=engagement.side_friction,
        layer=load.passage.depth,
        arc=load.passage.arc,
        length=arc_length(load.passage.angle, load.passage.start, diameter),
        diameter=diameter,
    )
