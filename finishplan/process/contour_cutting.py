"""Forward model of trimming a contour with a cutter along a position path: operating point in, prediction out.

The cutter takes the depth in one or more layers. The arm follows the mean force of a turn; the
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
from finishplan.process.contour_engagement import Milled
from finishplan.process.contour_heat import edge_force_share
from finishplan.process.contour_load import Load, TrimmedPrediction, borne

Corner: TypeAlias = Literal["nominal", "heaviest load", "drawn in", "last layer"]
"""States of the scatter: as planned, hardest and most with a high force ratio, with a low one, and the same as
the heaviest where a disc comes out on the far side."""


@dataclass(frozen=True, eq=False)
class ContourPrediction(TrimmedPrediction):
    """What an operating point does to one state of a contour under a cutter; a disc has no depth limit of its own."""

    feed_per_tooth: Array
    mean_chip_thickness: Array
    max_chip_thickness: Array
    teeth_in_cut: Array
    cusp_height: Array | None
    arm_depth_limit: Array
    tool_depth_limit: Array | None
    process_stiffness: Array


ContourPredictions: TypeAlias = Mapping[Corner, ContourPrediction]


@dataclass(frozen=True, eq=False)
class _Chips:
    """What the teeth take at a time."""

    per_tooth: Array
    mean: Array
    thickest: Array
    in_cut: Array


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
    cutter = conditions.cutter
    chips, load = _cut(conditions, setting)
    arm_limit, tool_limit = _depth_limits(conditions, setting, chips, load)
    return ContourPrediction(
        **borne(conditions, setting, load, cutter.diameter),
        feed_per_tooth=chips.per_tooth,
        mean_chip_thickness=chips.mean,
        max_chip_thickness=chips.thickest,
        teeth_in_cut=chips.in_cut,
        cusp_height=_cusps(conditions, chips),
        arm_depth_limit=arm_limit,
        tool_depth_limit=tool_limit,
        process_stiffness=physics.process_stiffness(load.specific, load.passage.width, setting.feed, load.speed),
    )


def _cut(conditions: ContourConditions, setting: ContourSetting) -> tuple[_Chips, Load]:
    """The chips, and what the mean one asks for."""
    cutter, engagement = conditions.cutter, conditions.engagement
    speed = physics.surface_speed(cutter.diameter, setting.spindle_speed)
    per_tooth = physics.feed_per_tooth(setting.feed, setting.spindle_speed, cutter.teeth)
    layer = forces.layer_depth(conditions.contour.thickness, setting.layers)
    passage = engagement.passage(layer, setting.layers, cutter.diameter)
    chips = _Chips(
        per_tooth=per_tooth,
        mean=engagement.mean_chip(per_tooth, passage, cutter.diameter),
        thickest=engagement.max_chip(per_tooth, passage, cutter.diameter),
        in_cut=physics.teeth_in_cut(cutter.teeth, passage.arc),
    )
    specific = conditions.chip_law.specific_force(chips.mean)
    rate = physics.removal_rate(passage.section, setting.feed)
    power = physics.cutting_power(specific, rate)
    tangential = physics.tangential_force(power, speed)
    return chips, Load(
        layer=layer,
        passage=passage,
        speed=speed,
        specific=specific,
        rate=rate,
        power=power,
        tangential=tangential,
        normal=physics.normal_force(tangential, cutter.force_ratio),
        peak=_peak(conditions, chips, passage.width),
        edge_share=edge_force_share(conditions.chip_law, chips.mean, specific),
    )


def _cusps(conditions: ContourConditions, chips: _Chips) -> Array | None:
    """Waves on the wall; the sides of a disc leave marks of another kind."""
    if not isinstance(conditions.engagement, Milled):
        return None
    return physics.cusp_height(chips.per_tooth, conditions.cutter.diameter)


def _peak(conditions: ContourConditions, chips: _Chips, width: Array) -> Array:
    """Highest force on the tool during a turn, tangential and normal together."""
    specific = conditions.chip_law.specific_force(chips.thickest)
    tangential = forces.peak_force(specific, width, chips.thickest, chips.in_cut, conditions.cutter.width_share)
    return forces.resultant_force(tangential, conditions.cutter.force_ratio)


def _depth_limits(
    conditions: ContourConditions, setting: ContourSetting, chips: _Chips, load: Load
) -> tuple[Array, Array | None]:
    """Width of the cut up to which the arm, and the tool, stay free of regenerative chatter.

    The arm swings slowly, so fast teeth calm it; the tool swings faster than the teeth pass, and
    takes the depth that holds at every speed. A disc is far stiffer in its plane than the arm.
    """
    arm, cutter = conditions.arm, conditions.cutter
    rise = forces.chip_rise(conditions.chip_law, chips.mean, load.specific)
    gain = forces.dynamic_force(rise, cutter.force_ratio)
    slowly = physics.regenerative_depth_limit(arm.stiffness, arm.damping_ratio, gain)
    teeth = forces.tooth_frequency(setting.spindle_speed, cutter.teeth)
    here = physics.fast_tooth_depth_limit(arm.stiffness, arm.natural_frequency, teeth, gain)
    of_arm = physics.milling_depth_estimate(forces.deeper_of(slowly, here), chips.in_cut)
    if not isinstance(conditions.engagement, Milled):
        return of_arm, None
    return of_arm, physics.round_tool_depth_limit(
        arm.tool_stiffness, arm.damping_ratio, load.passage.angle, cutter.teeth, rise, cutter.force_ratio
    )
