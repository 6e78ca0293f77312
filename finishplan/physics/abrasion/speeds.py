"""Sliding speeds of belts, discs and orbital pads. Rotation counts in revolutions per second."""

from __future__ import annotations

from typing import Final

import numpy as np

from finishplan.formula import Array, formula
from finishplan.physics.arguments import NON_NEGATIVE, POSITIVE

ROTATION: Final = "kinematics of a point on a turning circle"
UNIFORM_PRESSURE: Final = "Shigley, Mechanical Engineering Design, disk clutch under uniform pressure"


@formula(
    "v = pi D n",
    units={"pulley_diameter": "m", "spindle_speed": "1/s"},
    returns="m/s",
    source="Groover, Fundamentals of Modern Manufacturing, chapter on grinding, v = pi D N",
    domain={"pulley_diameter": NON_NEGATIVE, "spindle_speed": NON_NEGATIVE},
)
def belt_speed(pulley_diameter: Array, spindle_speed: Array) -> Array:
    """Speed of a belt that does not slip on its driven wheel.

    Parameters
    ----------
    pulley_diameter : array_like
        Diameter D of the driven wheel [m].
    spindle_speed : array_like
        Revolutions per time n of that wheel [1/s].

    Returns
    -------
    array_like
        Belt speed v [m/s].

    Raises
    ------
    ValueError
        A negative value.
    """
    return np.pi * pulley_diameter * spindle_speed


@formula(
    "v = pi d N",
    units={"orbit_diameter": "m", "orbit_rate": "1/s"},
    returns="m/s",
    source=ROTATION,
    domain={"orbit_diameter": NON_NEGATIVE, "orbit_rate": NON_NEGATIVE},
)
def orbital_speed(orbit_diameter: Array, orbit_rate: Array) -> Array:
    """Speed of every point of an orbital pad that does not spin.

    Parameters
    ----------
    orbit_diameter : array_like
        Diameter d of the orbit, twice the eccentricity [m].
    orbit_rate : array_like
        Orbits per time N [1/s].

    Returns
    -------
    array_like
        Sliding speed v [m/s].

    Raises
    ------
    ValueError
        A negative value.
    """
    return np.pi * orbit_diameter * orbit_rate


@formula(
    "v = (2/pi)(v_o + v_s) E(m); m = 4 v_o v_s/(v_o + v_s)^2",
    units={"orbital_speed": "m/s", "spin_speed": "m/s"},
    returns="m/s",
    source="mean length of the sum of two vectors whose angle passes evenly through a turn;"
    " E after DLMF, 19.2.8, complete elliptic integral of the second kind",
    domain={"orbital_speed": NON_NEGATIVE, "spin_speed": NON_NEGATIVE},
)
def orbital_spinning_mean_speed(orbital_speed: Array, spin_speed: Array) -> Array:
    """Mean sliding speed of one point of an orbital pad that also spins.

    Parameters
    ----------
    orbital_speed : array_like
        Speed v_o of the orbit, above zero where the spin is zero [m/s].
    spin_speed : array_like
        Speed v_s of the spin at the point: angular speed times its distance from the pad's centre [m/s].

    Returns
    -------
    array_like
        Mean over time of the length of the velocity [m/s].

    Raises
    ------
    ValueError
        A negative speed, or both zero.
    """
    from scipy.special import ellipe  # a tenth of a second to import, and only orbital tools need it

    together = orbital_speed + spin_speed
    if np.any(together == 0):
        raise ValueError("orbital_spinning_mean_speed: orbital_speed or spin_speed must be above 0 [m/s], given both 0")
    return 2 / np.pi * together * ellipe(np.asarray(4 * orbital_speed * spin_speed / together**2, dtype=float))


@formula(
    "r_m = (D^2 + D d + d^2)/(3 (D + d))",
    units={"diameter": "m", "inner_diameter": "m"},
    returns="m",
    source=UNIFORM_PRESSURE,
    domain={"diameter": POSITIVE, "inner_diameter": NON_NEGATIVE},
)
def disc_mean_radius(diameter: Array, inner_diameter: Array = 0.0) -> Array:
    """Radius at which the friction of a disc lying flat may be thought to act.

    Parameters
    ----------
    diameter : array_like
        Outer diameter D of the contact [m].
    inner_diameter : array_like
        Inner diameter d of the contact, none by default [m].

    Returns
    -------
    array_like
        Mean radius r_m; a third of the diameter on a full disc [m].

    Raises
    ------
    ValueError
        A diameter of zero, or an inner diameter that is negative or beyond the outer one.
    """
    if np.any(inner_diameter > diameter):
        raise ValueError("disc_mean_radius: inner_diameter must not exceed diameter [m]")
    squares = diameter * diameter + diameter * inner_diameter + inner_diameter * inner_diameter
    return squares / (3 * (diameter + inner_diameter))


@formula(
    "v = 2 pi n r_m",
    units={"diameter": "m", "spindle_speed": "1/s", "inner_diameter": "m"},
    returns="m/s",
    source=UNIFORM_PRESSURE,
    domain={"spindle_speed": NON_NEGATIVE},
)
def disc_mean_speed(diameter: Array, spindle_speed: Array, inner_diameter: Array = 0.0) -> Array:
    """Mean sliding speed of a disc that lies flat under uniform pressure.

    Parameters
    ----------
    diameter : array_like
        Outer diameter D of the contact [m].
    spindle_speed : array_like
        Revolutions per time n [1/s].
    inner_diameter : array_like
        Inner diameter d of the contact, none by default [m].

    Returns
    -------
    array_like
        Mean speed v; two thirds of the rim's on a full disc [m/s].

    Raises
    ------
    ValueError
        A diameter of zero, an inner diameter beyond the outer one, or a negative value.
    """
    return 2 * np.pi * spindle_speed * disc_mean_radius(diameter, inner_diameter)


@formula(
    "T = mu F r_m",
    units={"force_ratio": "1", "force": "N", "diameter": "m", "inner_diameter": "m"},
    returns="N m",
    source=UNIFORM_PRESSURE,
    domain={"force_ratio": NON_NEGATIVE, "force": NON_NEGATIVE},
)
def disc_torque(force_ratio: Array, force: Array, diameter: Array, inner_diameter: Array = 0.0) -> Array:
    """Torque on a disc that lies flat under uniform pressure.

    Parameters
    ----------
    force_ratio : array_like
        Tangential over normal force mu [1].
    force : array_like
        Normal force F [N].
    diameter : array_like
        Outer diameter D of the contact [m].
    inner_diameter : array_like
        Inner diameter d of the contact, none by default [m].

    Returns
    -------
    array_like
        Torque T [N m].

    Raises
    ------
    ValueError
        A diameter of zero, an inner diameter beyond the outer one, or a negative value.
    """
    return force_ratio * force * disc_mean_radius(diameter, inner_diameter)
