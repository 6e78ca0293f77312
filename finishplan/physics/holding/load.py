"""Loads on a gripper and on the wrist behind it, in the worst attitude.

A robot turns the part every way during a path, so process force, weight and inertia are added as if
they pointed the same way.
"""

from __future__ import annotations

import numpy as np

from finishplan.formula import Array, formula
from finishplan.physics.arguments import NON_NEGATIVE, POSITIVE

STATICS = "statics and Newton's second law; standard gravity of the 3rd CGPM, 1901"


@formula(
    "F = sqrt(F_n^2 + F_t^2)",
    units={"normal_force": "N", "tangential_force": "N"},
    returns="N",
    source="statics: forces square to each other",
    domain={"normal_force": NON_NEGATIVE, "tangential_force": NON_NEGATIVE},
)
def process_resultant(normal_force: Array, tangential_force: Array) -> Array:
    """Resultant of the process force.

    Parameters
    ----------
    normal_force : array_like
        Force F_n square to the surface [N].
    tangential_force : array_like
        Force F_t along the surface [N].

    Returns
    -------
    array_like
        Resultant F [N].

    Raises
    ------
    ValueError
        A negative force.
    """
    return np.hypot(normal_force, tangential_force)


@formula(
    "F_h = F + m (g + a)",
    units={"process_force": "N", "mass": "kg", "acceleration": "m/s^2", "gravity": "m/s^2"},
    returns="N",
    source=STATICS,
    domain={"process_force": NON_NEGATIVE, "mass": NON_NEGATIVE, "acceleration": NON_NEGATIVE},
)
def resultant_load(process_force: Array, mass: Array, acceleration: Array, gravity: Array = 9.80665) -> Array:
    """Largest force that can pull a part out of its gripper, over all attitudes.

    Parameters
    ----------
    process_force : array_like
        Resultant process force F on the part [N].
    mass : array_like
        Mass m of the part [kg].
    acceleration : array_like
        Acceleration a of the part, with braking and stops [m/s2].
    gravity : array_like
        Acceleration of free fall g [m/s2].

    Returns
    -------
    array_like
        Load F_h on the gripper [N].

    Raises
    ------
    ValueError
        A negative force, mass or acceleration.
    """
    return process_force + mass * (gravity + acceleration)


@formula(
    "M = F l + m (g + a) l_c",
    units={
        "force": "N",
        "offset": "m",
        "mass": "kg",
        "centre_of_mass_offset": "m",
        "gravity": "m/s^2",
        "acceleration": "m/s^2",
    },
    returns="N m",
    source=STATICS,
    domain={
        "force": NON_NEGATIVE,
        "offset": NON_NEGATIVE,
        "mass": NON_NEGATIVE,
        "centre_of_mass_offset": NON_NEGATIVE,
        "acceleration": NON_NEGATIVE,
    },
)
def wrist_moment(
    force: Array,
    offset: Array,
    mass: Array,
    centre_of_mass_offset: Array,
    gravity: Array = 9.80665,
    acceleration: Array = 0.0,
) -> Array:
    """Largest moment on the robot's wrist, over all attitudes.

    Parameters
    ----------
    force : array_like
        Resultant process force F [N].
    offset : array_like
        Distance l from the wrist to where the process force acts [m].
    mass : array_like
        Mass m of gripper and part, or of tool and mount [kg].
    centre_of_mass_offset : array_like
        Distance l_c from the wrist to the centre of that mass [m].
    gravity : array_like
        Acceleration of free fall g [m/s2].
    acceleration : array_like
        Acceleration a of the mass while the process force acts [m/s2].

    Returns
    -------
    array_like
        Moment M on the wrist [N m].

    Raises
    ------
    ValueError
        A negative force, mass, distance or acceleration.
    """
    return force * offset + mass * (gravity + acceleration) * centre_of_mass_offset


@formula(
    "F_p = S F sqrt(1 + mu^2)/mu",
    units={"load": "N", "safety_factor": "1", "friction": "1"},
    returns="N",
    source="statics: largest over all attitudes of the pull plus the shear over the friction, S (F_pull + F_shear/mu)",
    domain={"load": NON_NEGATIVE, "safety_factor": POSITIVE, "friction": POSITIVE},
)
def required_press(load: Array, safety_factor: Array, friction: Array) -> Array:
    """Force that must press cups or magnets to a part so that it holds in the worst attitude.

    Between straight pull and straight shear lies a direction that is worse than either, at the
    angle of friction.

    Parameters
    ----------
    load : array_like
        Load F in any direction, see `resultant_load` [N].
    safety_factor : array_like
        Factor S on the load [1].
    friction : array_like
        Coefficient of friction mu between cup or pole and part [1].

    Returns
    -------
    array_like
        Pressing force F_p [N].

    Raises
    ------
    ValueError
        A negative load, no friction or no factor of safety.
    """
    return safety_factor * load * np.hypot(1.0, friction) / friction
