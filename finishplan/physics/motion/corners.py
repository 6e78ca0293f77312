"""Curves and corners of a path: the feed they leave, the way it takes to get up to it, and what slowness costs."""

from __future__ import annotations

import numpy as np

from finishplan.formula import Array, formula
from finishplan.physics.arguments import NON_NEGATIVE, POSITIVE

POINT_KINEMATICS = "kinematics of a point: a_n = v^2/r, v^2 = 2 a s"


@formula(
    "v = sqrt(a_n r)",
    units={"radius": "m", "normal_acceleration": "m/s^2"},
    returns="m/s",
    source=POINT_KINEMATICS,
    domain={"radius": NON_NEGATIVE, "normal_acceleration": NON_NEGATIVE},
)
def corner_feed(radius: Array, normal_acceleration: Array) -> Array:
    """Fastest feed around a curve.

    Parameters
    ----------
    radius : array_like
        Radius r of the path, infinite where straight [m].
    normal_acceleration : array_like
        Acceleration a_n towards the centre that the robot keeps its path with [m/s2].

    Returns
    -------
    array_like
        Feed v [m/s].

    Raises
    ------
    ValueError
        A negative value.
    """
    return np.sqrt(normal_acceleration * radius)


@formula(
    "r = v^2/a_n",
    units={"feed": "m/s", "normal_acceleration": "m/s^2"},
    returns="m",
    source=POINT_KINEMATICS,
    domain={"feed": NON_NEGATIVE, "normal_acceleration": POSITIVE},
)
def feed_radius(feed: Array, normal_acceleration: Array) -> Array:
    """Smallest radius of a path on which a feed is kept.

    Parameters
    ----------
    feed : array_like
        Feed v [m/s].
    normal_acceleration : array_like
        Acceleration a_n towards the centre that the robot keeps its path with [m/s2].

    Returns
    -------
    array_like
        Radius r [m].

    Raises
    ------
    ValueError
        A negative feed or no acceleration.
    """
    return feed * feed / normal_acceleration


@formula(
    "s = v^2/(2 a)",
    units={"feed": "m/s", "acceleration": "m/s^2"},
    returns="m",
    source=POINT_KINEMATICS,
    domain={"feed": NON_NEGATIVE, "acceleration": POSITIVE},
)
def ramp_length(feed: Array, acceleration: Array) -> Array:
    """Path needed to reach a feed from rest; the least length of lead-in and lead-out.

    Parameters
    ----------
    feed : array_like
        Feed v [m/s].
    acceleration : array_like
        Acceleration a along the path [m/s2].

    Returns
    -------
    array_like
        Length s [m].

    Raises
    ------
    ValueError
        A negative feed or no acceleration.
    """
    return feed * feed / (2 * acceleration)


@formula(
    "e = r (1/cos(theta/2) - 1)",
    units={"radius": "m", "turn_angle": "rad"},
    returns="m",
    source="plane geometry of the circle between two tangents",
    domain={"radius": NON_NEGATIVE, "turn_angle": (0.0, float(np.pi) - 1e-3)},
)
def blend_deviation(radius: Array, turn_angle: Array) -> Array:
    """How far a rounded corner of the path stays away from the corner itself.

    Parameters
    ----------
    radius : array_like
        Radius r of the rounding [m].
    turn_angle : array_like
        Change of direction theta at the corner [rad].

    Returns
    -------
    array_like
        Deviation e [m].

    Raises
    ------
    ValueError
        A negative radius, or a turn that goes back on itself.
    """
    return radius * (1 / np.cos(turn_angle / 2) - 1)


@formula(
    "q = vf/v",
    units={"feed": "m/s", "speed": "m/s"},
    returns="1",
    source="constant force and tool speed: section removed in proportion to dwell",
    domain={"feed": NON_NEGATIVE, "speed": NON_NEGATIVE},
)
def section_ratio(feed: Array, speed: Array) -> Array:
    """Section removed at a slower place over the section at the programmed feed, at constant force.

    Parameters
    ----------
    feed : array_like
        Programmed feed vf, above zero [m/s].
    speed : array_like
        Speed v really reached [m/s].

    Returns
    -------
    array_like
        Ratio q; infinite where the tool stands [1].

    Raises
    ------
    ValueError
        A negative speed.
    """
    with np.errstate(divide="ignore"):
        return np.divide(feed, speed)
