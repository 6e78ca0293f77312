"""What the two kinds of mount do: how they press, how fast they may touch the edge."""

from __future__ import annotations

from dataclasses import dataclass
from functools import singledispatch

import numpy as np

from finishplan import physics
from finishplan.formula import Array, formula
from finishplan.process.edge_conditions import CompliantMount, Mount, RigidMount, Rules


@dataclass(frozen=True, eq=False)
class Press:
    """The straight line force over depth that the mount offers the cut."""

    set_force: Array
    stiffness: Array
    aimed_depth: Array


@formula(
    "F_0 = F_set + dF",
    units={"set_force": "N", "force_error": "N"},
    returns="N",
    source="friction and hysteresis of the device shift the force it gives",
)
def delivered_force(set_force: Array, force_error: Array) -> Array:
    """Force a device gives when a force is set.

    Parameters
    ----------
    set_force : array_like
        Force set [N].
    force_error : array_like
        Signed error from friction and resolution [N].

    Returns
    -------
    array_like
        Force given, not below zero [N].
    """
    return np.maximum(set_force + force_error, 0 * set_force)


@singledispatch
def press(mount: Mount, setting: Array) -> Press:
    """Line of force over depth for a setting of this mount."""
    raise TypeError(f"no pressing model for {type(mount).__name__}")


@press.register
def _(mount: CompliantMount, setting: Array) -> Press:
    return Press(delivered_force(setting, mount.force_error), mount.stiffness, mount.reference_depth)


@press.register
def _(mount: RigidMount, setting: Array) -> Press:
    return Press(np.float64(0.0), mount.stiffness, setting)


@singledispatch
def approach_room(mount: Mount, pressing: Press, half_band: Array, rules: Rules) -> Array:
    """Highest approach speed whose impact stays within what the edge bears [m/s]."""
    raise TypeError(f"no impact model for {type(mount).__name__}")


@approach_room.register
def _(mount: CompliantMount, pressing: Press, half_band: Array, rules: Rules) -> Array:
    allowed = allowed_impact(pressing.set_force, rules.impact_allowance)
    return physics.approach_speed(pressing.set_force, allowed, rules.contact_stiffness, mount.moving_mass)


@approach_room.register
def _(mount: RigidMount, pressing: Press, half_band: Array, rules: Rules) -> Array:
    """A rigid tool may hit with no more than what bends robot and tool by half the band."""
    yielding = physics.series_stiffness(rules.contact_stiffness, mount.stiffness)
    return physics.approach_speed(pressing.set_force, mount.stiffness * half_band, yielding, mount.moving_mass)


@formula(
    "F_pk = c F_0",
    units={"set_force": "N", "allowance": "1"},
    returns="N",
    source="common practice, no published source: peak at touch-down as a multiple of the set force",
)
def allowed_impact(set_force: Array, allowance: Array) -> Array:
    """Peak force allowed at touch-down.

    Parameters
    ----------
    set_force : array_like
        Force set [N].
    allowance : array_like
        Multiple of the set force [1].

    Returns
    -------
    array_like
        Peak force [N].
    """
    return allowance * set_force
