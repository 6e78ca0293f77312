"""Breaking an edge with a wheel or brush fed in by a set depth, on a spindle the robot carries rigidly.

The path sets how far the tool is fed beyond first touch, and the force follows from the tool's own
yielding as a bed of springs. Every error of position therefore scatters the force. The tool is taken to
lie with its whole width on the part.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import TypeAlias

import numpy as np

from finishplan import physics
from finishplan.formula import Array, formula
from finishplan.process.abrasive_tools import Roller
from finishplan.process.edge_abrasion import (
    EdgeAbrasionPrediction,
    EdgeUnderAbrasive,
    Pressing,
    abraded_edge,
    abraded_edge_limits,
)
from finishplan.process.edge_conditions import RigidMount
from finishplan.process.edge_cutting import Corner
from finishplan.process.limits import Limit
from finishplan.process.mounts import allowed_impact
from finishplan.process.surface_limits import usual_force_limits


@dataclass(frozen=True, eq=False)
class PenetrationWindow:
    """How far the filaments of a brush may be fed in, so that their tips work and they neither bend nor break."""

    low: Array
    high: Array


@dataclass(frozen=True, eq=False)
class SetDepthConditions(EdgeUnderAbrasive):
    """An edge under a wheel or brush that is fed in by a depth; a wheel has no window but that of its force."""

    mount: RigidMount
    window: PenetrationWindow | None

    @property
    def roller(self) -> Roller:
        """The tool, which works with its rim."""
        assert isinstance(self.abrasive.tool, Roller)
        return self.abrasive.tool


@dataclass(frozen=True, eq=False)
class SetDepthSetting:
    """What the programmer sets; `depth` is counted from first touch [m]."""

    spindle_speed: Array
    feed: Array
    depth: Array
    passes: int


@dataclass(frozen=True, eq=False)
class SetDepthPrediction(EdgeAbrasionPrediction):
    """What a setting does to one state of the edge, and how far the tool is fed in there."""

    penetration: Array


SetDepthPredictions: TypeAlias = Mapping[Corner, SetDepthPrediction]


@formula(
    "delta = max(0, a + e)",
    units={"depth": "m", "path_error": "m"},
    returns="m",
    source="geometry: the depth set, and how far the edge stands towards the tool",
)
def penetration_at(depth: Array, path_error: Array) -> Array:
    """Depth a tool is really fed in beyond first touch.

    Parameters
    ----------
    depth : array_like
        Depth set a [m].
    path_error : array_like
        Error of the path into the part e [m].

    Returns
    -------
    array_like
        Penetration, 0 where the tool does not touch [m].
    """
    return np.maximum(depth + path_error, 0 * depth)


@formula(
    "R = D/2",
    units={"diameter": "m"},
    returns="m",
    source="definition of the radius",
)
def rim_radius(diameter: Array) -> Array:
    """Radius of a wheel or brush.

    Parameters
    ----------
    diameter : array_like
        Diameter D [m].

    Returns
    -------
    array_like
        Radius R [m].
    """
    return diameter / 2


@formula(
    "l = 2 b",
    units={"half_width": "m"},
    returns="m",
    source="definition of the half-width",
)
def contact_length(half_width: Array) -> Array:
    """Length of contact along the edge.

    Parameters
    ----------
    half_width : array_like
        Half-width b of the strip [m].

    Returns
    -------
    array_like
        Length [m].
    """
    return 2 * half_width


@formula(
    "x = F/k",
    units={"force": "N", "stiffness": "N/m"},
    returns="m",
    source="definition of stiffness",
)
def deflection(force: Array, stiffness: Array) -> Array:
    """How far the robot gives way.

    Parameters
    ----------
    force : array_like
        Force F [N].
    stiffness : array_like
        Stiffness k [N/m].

    Returns
    -------
    array_like
        Deflection [m].
    """
    return force / stiffness


@formula(
    "x = q a/1.5",
    units={"depth": "m", "allowance": "1"},
    returns="m",
    source="slope of the force over the depth, which goes with its power 3/2: a loss x of depth costs 1.5 x/a of force",
)
def allowed_deflection(depth: Array, allowance: Array) -> Array:
    """Loss of depth that costs no more force than is accepted.

    Parameters
    ----------
    depth : array_like
        Depth set a [m].
    allowance : array_like
        Share of the force q [1].

    Returns
    -------
    array_like
        Deflection [m].
    """
    return allowance * depth / 1.5


def predict_set_depth(conditions: SetDepthConditions, setting: SetDepthSetting) -> SetDepthPrediction:
    """Follow one state of the edge through all passes.

    Parameters
    ----------
    conditions : SetDepthConditions
        The state; scalars, or arrays that broadcast with the setting.
    setting : SetDepthSetting
        Spindle speed [1/s], feed [m/s], depth [m] and passes.

    Returns
    -------
    SetDepthPrediction
        Broadcast over conditions and setting.
    """
    tool, rules = conditions.roller, conditions.rules
    radius, layer = rim_radius(tool.diameter), physics.layer_stiffness(tool.modulus, tool.thickness)
    penetration = penetration_at(setting.depth, conditions.edge.path_error)
    force = physics.penetration_force(penetration, radius, tool.width, layer)
    aimed = physics.penetration_force(setting.depth, radius, tool.width, layer)
    touch = allowed_impact(aimed, rules.impact_allowance)
    slope = physics.penetration_stiffness(setting.depth, radius, tool.width, layer)
    pressing = Pressing(
        force=force,
        sliding_speed=tool.speed(setting.spindle_speed, aimed),
        contact_length=contact_length(physics.penetrated_half_width(setting.depth, radius)),
        approach_speed=physics.approach_speed(aimed, touch, slope, conditions.mount.moving_mass),
    )
    return SetDepthPrediction(**vars(abraded_edge(conditions, setting, pressing)), penetration=penetration)


def set_depth_limits(
    conditions: SetDepthConditions, setting: SetDepthSetting, predictions: SetDepthPredictions
) -> list[Limit]:
    """All limits at a setting, or at every one of an array of settings."""
    abrasive, least, most = conditions.abrasive, predictions["smallest break"], predictions["heaviest load"]
    return abraded_edge_limits(
        conditions,
        setting,
        predictions,
        usual_force_limits(abrasive, most.force, least.force),
        _penetration_limits(conditions.window, least.penetration, most.penetration),
        _position_limits(conditions, setting, most.force),
    )


def _penetration_limits(window: PenetrationWindow | None, least: Array, most: Array) -> Iterator[Limit]:
    """Window of the penetration of a brush, counted from its middle and held at every error of position."""
    if window is None:
        return
    middle = (window.low + window.high) / 2
    yield Limit(
        "highest penetration", most, window.high, "length", "at most",
        "window.high", "a brush with longer filaments, or less error of position", datum=middle,
    )  # fmt: skip
    yield Limit(
        "lowest penetration", least, window.low, "length", "at least",
        "window.low", "a stiffer brush, or less error of position", datum=middle,
    )  # fmt: skip


def _position_limits(conditions: SetDepthConditions, setting: SetDepthSetting, force: Array) -> Iterator[Limit]:
    """What the robot's yielding and its accuracy leave of the depth."""
    robot, rules = conditions.robot, conditions.rules
    yield Limit(
        "robot deflection", deflection(force, conditions.mount.stiffness),
        allowed_deflection(setting.depth, rules.force_ripple_allowance), "fine length", "at most",
        "mount.stiffness", "a stiffer robot, a softer tool, or a compliant mount",
    )  # fmt: skip
    yield Limit(
        "path accuracy", robot.path_accuracy, setting.depth, "length", "at most",
        "robot.path_accuracy", "a calibrated robot, a softer tool, or a compliant mount", asks_of="value",
    )  # fmt: skip
