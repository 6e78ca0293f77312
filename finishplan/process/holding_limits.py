"""Limits of what holds the part, and of the wrist that carries tool or part, under the process force."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from finishplan import physics
from finishplan.formula import Array
from finishplan.process.limits import Limit


@dataclass(frozen=True, eq=False)
class Grip:
    """What holds the part, and what it must hold besides the process force.

    Attributes
    ----------
    part_mass : array_like
        Mass of the part [kg].
    acceleration : array_like
        Acceleration of the part, none on a fixture [m/s2].
    safety_factor, friction : array_like
        Holding asked for over the load, and friction of the holding faces [1].
    force : array_like
        Force of one jaw or clamp, or the pressing force of all cups or magnets [N].
    contacts : array_like or None
        Faces that hold by friction alone; None for cups and magnets, which a pull can lift off.
    """

    part_mass: Array
    acceleration: Array
    safety_factor: Array
    friction: Array
    force: Array
    contacts: Array | None


@dataclass(frozen=True, eq=False)
class Wrist:
    """Moment the wrist bears [N m] and the distances of force and weight from it [m]."""

    moment: Array
    process_offset: Array
    load_offset: Array
    acceleration: Array


def grip_limit(grip: Grip, process_force: Array) -> Limit:
    """Holding in the worst attitude against the force that is there.

    Parameters
    ----------
    grip : Grip
        What holds the part.
    process_force : array_like
        Resultant process force [N].

    Returns
    -------
    Limit
        Force of each jaw or clamp, or pressing force of cups or magnets.
    """
    load = physics.resultant_load(process_force, grip.part_mass, grip.acceleration)
    if grip.contacts is None:
        needed = physics.required_press(load, grip.safety_factor, grip.friction)
        remedy = "more area or pull, a rougher face, or stops that take the shear"
    else:
        needed = physics.jaw_force(load, np.float64(1.0), grip.safety_factor, grip.friction, grip.contacts)
        remedy = "a stronger grip, jaws that close round the part, or stops"
    # The factor on the load is the reserve of a grip; a margin on top would count it twice.
    return Limit(
        "holding of the part", needed, grip.force, "force", "at most", "grip.force", remedy, keeps_margin=False
    )


def wrist_limit(wrist: Wrist, carried_mass: Array, process_force: Array) -> Limit:
    """Moment of process force and weight on the wrist."""
    moment = physics.wrist_moment(
        process_force, wrist.process_offset, carried_mass, wrist.load_offset, acceleration=wrist.acceleration
    )
    return Limit(
        "wrist moment", moment, wrist.moment, "torque", "at most",
        "robot.wrist_moment", "a robot with a stronger wrist, or a shorter reach from it",
    )  # fmt: skip
