"""Forward model of working a surface with an abrasive: settings in, depth, roughness, heat and wear out.

With graded grain the feed is not free: it is the one that takes off the depth asked for,
vf = N K F v/(s h) on a raster of step s in N passes. Each further pass is laid between the lines of the
one before. What a product does to the surface is its `action`; a kind of product registers its own.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import singledispatch
from typing import Literal, TypeAlias

import numpy as np

from finishplan import physics
from finishplan.formula import Array, formula
from finishplan.process.abrasive_heat import dwell, surface_rise
from finishplan.process.edge_cutting import power_at_speed
from finishplan.process.mounts import allowed_impact, delivered_force
from finishplan.process.ripple import raster_ripple
from finishplan.process.surface_conditions import (
    Abrasive,
    Product,
    SurfaceConditions,
    SurfaceSetting,
    SurfaceState,
)

SurfaceCorner: TypeAlias = Literal["nominal", "least removal", "most removal"]


@dataclass(frozen=True, eq=False)
class SurfacePrediction:
    """What a setting does to one state of surface and abrasive."""

    force: Array
    sliding_speed: Array
    rim_speed: Array
    feed: Array
    mean_depth: Array
    ripple: Array
    deepest: Array
    shallowest: Array
    roughness: Array
    pressure: Array
    patch_area: Array
    contact_length: Array
    power: Array
    torque: Array
    available_power: Array
    available_torque: Array
    temperature_rise: Array
    volume: Array
    approach_speed: Array


@formula(
    "vf = N K F v/(s h)",
    units={
        "coefficient": "1/Pa",
        "force": "N",
        "speed": "m/s",
        "step": "m",
        "depth": "m",
        "passes": "1",
    },
    returns="m/s",
    source="volume balance of the raster: the depth asked for, over all passes",
)
def raster_feed(coefficient: Array, force: Array, speed: Array, step: Array, depth: Array, passes: Array) -> Array:
    """Feed at which a raster takes off a depth in a number of passes.

    Parameters
    ----------
    coefficient : array_like
        Preston coefficient K [1/Pa].
    force : array_like
        Normal force F [N].
    speed : array_like
        Sliding speed v [m/s].
    step : array_like
        Distance of the lines s [m].
    depth : array_like
        Mean depth h of all passes together [m].
    passes : array_like
        Passes N [1].

    Returns
    -------
    array_like
        Feed [m/s].
    """
    return passes * coefficient * force * speed / (step * depth)


@formula(
    "h = h_0 (K/K_0)(F/F_0)",
    units={"wanted": "m", "coefficient_factor": "1", "force": "N", "set_force": "N"},
    returns="m",
    source="removal in proportion to coefficient and force at an unchanged feed",
)
def depth_at(wanted: Array, coefficient_factor: Array, force: Array, set_force: Array) -> Array:
    """Mean depth where coefficient and force are not what they are set for.

    Parameters
    ----------
    wanted : array_like
        Depth the feed is set for [m].
    coefficient_factor : array_like
        Coefficient over the one the feed is set for [1].
    force : array_like
        Force given [N].
    set_force : array_like
        Force set [N].

    Returns
    -------
    array_like
        Depth [m].
    """
    return wanted * coefficient_factor * force / set_force


@formula(
    "h_max = h (1 + w/2) k",
    units={"mean_depth": "m", "ripple": "1", "edge_factor": "1"},
    returns="m",
    source="mean depth, half the ripple of the raster, and the pressure rise where the pad hangs over",
)
def deepest_place(mean_depth: Array, ripple: Array, edge_factor: Array) -> Array:
    """Depth at the deepest place of the surface.

    Parameters
    ----------
    mean_depth : array_like
        Mean depth h [m].
    ripple : array_like
        Greatest less smallest depth over the mean w [1].
    edge_factor : array_like
        Pressure at the border over that inside k [1].

    Returns
    -------
    array_like
        Depth [m].
    """
    return mean_depth * (1 + ripple / 2) * edge_factor


@formula(
    "h_min = h (1 - w/2)",
    units={"mean_depth": "m", "ripple": "1"},
    returns="m",
    source="mean depth less half the ripple of the raster",
)
def shallowest_place(mean_depth: Array, ripple: Array) -> Array:
    """Depth at the shallowest place that the tool reaches.

    Parameters
    ----------
    mean_depth : array_like
        Mean depth h [m].
    ripple : array_like
        Greatest less smallest depth over the mean w [1].

    Returns
    -------
    array_like
        Depth, not below zero [m].
    """
    return np.maximum(mean_depth * (1 - ripple / 2), 0 * mean_depth)


@formula(
    "V = h A",
    units={"depth": "m", "area": "m^2"},
    returns="m^3",
    source="definition of volume",
)
def removed_volume(depth: Array, area: Array) -> Array:
    """Volume a step removes from the surface.

    Parameters
    ----------
    depth : array_like
        Mean depth h [m].
    area : array_like
        Area A [m2].

    Returns
    -------
    array_like
        Volume [m3].
    """
    return depth * area


@dataclass(frozen=True, eq=False)
class Action:
    """What a product does at a setting: the feed it is led at, the mean depth it takes, the roughness it leaves."""

    feed: Array
    mean_depth: Array
    roughness: Array


@singledispatch
def action(product: Product, surface: SurfaceState, setting: SurfaceSetting, force: Array, speed: Array) -> Action:
    """Action of a product under a force [N] at a sliding speed [m/s]."""
    raise TypeError(f"no action on a surface for {type(product).__name__}")


@action.register
def _(product: Abrasive, surface: SurfaceState, setting: SurfaceSetting, force: Array, speed: Array) -> Action:
    passes = np.float64(setting.passes)
    depth = depth_at(surface.removal, product.coefficient_factor, force, setting.force)
    return Action(
        feed=raster_feed(product.coefficient, setting.force, speed, setting.step, surface.removal, passes),
        mean_depth=depth,
        roughness=physics.roughness_after_removal(
            surface.initial_roughness, product.floor_roughness, depth, product.roughness_decay
        ),
    )


def predict_surface(conditions: SurfaceConditions, setting: SurfaceSetting) -> SurfacePrediction:
    """Follow one state of surface and abrasive through a step.

    Parameters
    ----------
    conditions : SurfaceConditions
        The state; scalars, or arrays that broadcast with the setting.
    setting : SurfaceSetting
        Spindle speed [1/s], force [N], step of the raster [m] and passes.

    Returns
    -------
    SurfacePrediction
        Broadcast over conditions and setting.
    """
    surface, abrasive = conditions.surface, conditions.abrasive
    tool, spindle = abrasive.tool, conditions.spindle
    force = delivered_force(setting.force, conditions.mount.force_error)
    speed = tool.speed(setting.spindle_speed, setting.force)
    done = action(abrasive, surface, setting, force, speed)
    ripple = raster_ripple(shifted_pitch(setting.step, np.float64(setting.lanes)), tool.reach, tool.profile)
    patch = tool.patch(force)
    power = physics.friction_power(abrasive.force_ratio, force, speed)
    available = power_at_speed(setting.spindle_speed, spindle.curve_speeds, spindle.curve_powers)
    rules, mount = conditions.rules, conditions.mount
    touch = allowed_impact(setting.force, rules.impact_allowance)
    return SurfacePrediction(
        force=force,
        sliding_speed=speed,
        rim_speed=tool.rim_speed(setting.spindle_speed),
        feed=done.feed,
        mean_depth=done.mean_depth,
        ripple=ripple,
        deepest=deepest_place(done.mean_depth, ripple, surface.edge_factor),
        shallowest=shallowest_place(done.mean_depth, ripple),
        roughness=done.roughness,
        pressure=patch.pressure,
        patch_area=patch.area,
        contact_length=patch.length,
        power=power,
        torque=physics.torque(power, setting.spindle_speed),
        available_power=available,
        available_torque=physics.torque(available, setting.spindle_speed),
        temperature_rise=surface_rise(
            conditions.thermal, abrasive.grain, power, speed, patch.area, dwell(patch.length, done.feed)
        ),
        volume=removed_volume(done.mean_depth, surface.area),
        approach_speed=physics.approach_speed(setting.force, touch, rules.contact_stiffness, mount.moving_mass),
    )


@formula(
    "s_N = s/N",
    units={"step": "m", "lanes": "1"},
    returns="m",
    source="each pass is laid between the lines of the one before",
)
def shifted_pitch(step: Array, lanes: Array) -> Array:
    """Pitch of all passes together when each is shifted by an equal share of the step.

    Parameters
    ----------
    step : array_like
        Distance of the lines of one pass s [m].
    lanes : array_like
        Passes in one direction N [1].

    Returns
    -------
    array_like
        Pitch [m].
    """
    return step / lanes


SurfacePredictions: TypeAlias = Mapping[SurfaceCorner, SurfacePrediction]
