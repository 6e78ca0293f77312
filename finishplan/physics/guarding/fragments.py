"""Energy of pieces that fly off a bursting wheel or a broken tool: what a guard has to hold."""

from __future__ import annotations

from typing import Final

import numpy as np

from finishplan.formula import Array, formula
from finishplan.physics.arguments import NON_NEGATIVE, POSITIVE

RIGID_BODY: Final = "mechanics of a rigid annulus"
THIRD: Final = 2 * np.pi / 3
"""A third of a turn: the piece with the most energy of translation among equal ones."""

PIECE: Final = (1e-3, 2 * np.pi)


@formula(
    "m = rho pi/4 (D^2 - d^2) t",
    units={"diameter": "m", "bore": "m", "thickness": "m", "density": "kg/m^3"},
    returns="kg",
    source=RIGID_BODY,
    domain={"diameter": POSITIVE, "bore": NON_NEGATIVE, "thickness": NON_NEGATIVE, "density": NON_NEGATIVE},
)
def wheel_mass(diameter: Array, bore: Array, thickness: Array, density: Array) -> Array:
    """Mass of a straight wheel.

    Parameters
    ----------
    diameter : array_like
        Outer diameter D [m].
    bore : array_like
        Diameter of the hole d [m].
    thickness : array_like
        Thickness t [m].
    density : array_like
        Density rho, pores included [kg/m3].

    Returns
    -------
    array_like
        Mass m [kg].

    Raises
    ------
    ValueError
        A negative value or a diameter of zero.
    """
    return density * np.pi / 4 * (diameter**2 - bore**2) * thickness


@formula(
    "J = m (D^2 + d^2)/8",
    units={"mass": "kg", "diameter": "m", "bore": "m"},
    returns="kg m^2",
    source=RIGID_BODY,
    domain={"mass": NON_NEGATIVE, "diameter": POSITIVE, "bore": NON_NEGATIVE},
)
def wheel_inertia(mass: Array, diameter: Array, bore: Array = 0.0) -> Array:
    """Moment of inertia of a straight wheel about its axis.

    Parameters
    ----------
    mass : array_like
        Mass m [kg].
    diameter : array_like
        Outer diameter D [m].
    bore : array_like
        Diameter of the hole d [m].

    Returns
    -------
    array_like
        Moment of inertia J [kg m2].

    Raises
    ------
    ValueError
        A negative value or a diameter of zero.
    """
    return mass * (diameter**2 + bore**2) / 8


@formula(
    "E = J (2 pi n)^2/2",
    units={"inertia": "kg m^2", "rotation": "1/s"},
    returns="J",
    source=RIGID_BODY,
    domain={"inertia": NON_NEGATIVE, "rotation": NON_NEGATIVE},
)
def rotational_energy(inertia: Array, rotation: Array) -> Array:
    """Energy stored in a turning wheel.

    Parameters
    ----------
    inertia : array_like
        Moment of inertia J [kg m2].
    rotation : array_like
        Rotation n [1/s].

    Returns
    -------
    array_like
        Energy E [J].

    Raises
    ------
    ValueError
        A negative value.
    """
    return inertia * (2 * np.pi * rotation) ** 2 / 2


@formula(
    "r_c = (2/3) (sin a/a) (R^3 - r^3)/(R^2 - r^2); a = half the piece's angle",
    units={"diameter": "m", "bore": "m", "piece_angle": "rad"},
    returns="m",
    source="centroid of a ring sector",
    domain={"diameter": POSITIVE, "bore": NON_NEGATIVE, "piece_angle": PIECE},
)
def piece_centroid(diameter: Array, bore: Array, piece_angle: Array = THIRD) -> Array:
    """Distance of a piece's centre of mass from the wheel's axis.

    Parameters
    ----------
    diameter : array_like
        Outer diameter D = 2 R of the wheel [m].
    bore : array_like
        Diameter of the hole d = 2 r, smaller than D [m].
    piece_angle : array_like
        Angle of the piece [rad].

    Returns
    -------
    array_like
        Distance r_c [m].

    Raises
    ------
    ValueError
        A diameter of zero, a negative bore, or an angle above a turn.
    """
    outer, inner, half = diameter / 2, bore / 2, piece_angle / 2
    # (R3 - r3)/(R2 - r2) with the factor R - r taken out, so that a thin rim does no harm
    ring = (outer**2 + outer * inner + inner**2) / (outer + inner)
    return 2 / 3 * np.sin(half) / half * ring


@formula(
    "E = (m a/pi) (2 pi n r_c)^2/2; a = half the piece's angle",
    units={"mass": "kg", "rotation": "1/s", "centroid": "m", "piece_angle": "rad", "turn": "rad"},
    returns="J",
    source=RIGID_BODY,
    domain={"mass": NON_NEGATIVE, "rotation": NON_NEGATIVE, "centroid": NON_NEGATIVE, "piece_angle": PIECE},
)
def piece_energy(
    mass: Array, rotation: Array, centroid: Array, piece_angle: Array = THIRD, turn: Array = 2 * np.pi
) -> Array:
    """Energy of translation of a piece of a burst wheel.

    Parameters
    ----------
    mass : array_like
        Mass of the whole wheel m [kg].
    rotation : array_like
        Rotation at bursting n [1/s].
    centroid : array_like
        Distance of the piece's centre of mass from the axis r_c [m].
    piece_angle : array_like
        Angle of the piece [rad].
    turn : array_like
        Angle of the whole wheel [rad].

    Returns
    -------
    array_like
        Energy E [J].

    Raises
    ------
    ValueError
        A negative value or an angle above a turn.
    """
    return mass * piece_angle / turn * (2 * np.pi * rotation * centroid) ** 2 / 2


@formula(
    "E = E_rot a/pi; a = half the piece's angle",
    units={"energy": "J", "piece_angle": "rad", "turn": "rad"},
    returns="J",
    source="the piece's share of the wheel's energy, translation and rotation together",
    domain={"energy": NON_NEGATIVE, "piece_angle": PIECE},
)
def piece_energy_bound(energy: Array, piece_angle: Array = THIRD, turn: Array = 2 * np.pi) -> Array:
    """Most energy a piece of a burst wheel can carry.

    Parameters
    ----------
    energy : array_like
        Energy stored in the wheel E_rot [J].
    piece_angle : array_like
        Angle of the piece [rad].
    turn : array_like
        Angle of the whole wheel [rad].

    Returns
    -------
    array_like
        Energy E [J].

    Raises
    ------
    ValueError
        A negative energy or an angle above a turn.
    """
    return energy * piece_angle / turn


@formula(
    "E = m (2 pi n r)^2/2",
    units={"mass": "kg", "radius": "m", "rotation": "1/s"},
    returns="J",
    source="mechanics of a point mass let go on its circle",
    domain={"mass": NON_NEGATIVE, "radius": NON_NEGATIVE, "rotation": NON_NEGATIVE},
)
def ejected_energy(mass: Array, radius: Array, rotation: Array) -> Array:
    """Energy of a tooth, a bristle or a tool head that breaks off.

    Parameters
    ----------
    mass : array_like
        Mass of the fragment m [kg].
    radius : array_like
        Distance r of its centre of mass from the axis [m].
    rotation : array_like
        Rotation when it breaks off n [1/s].

    Returns
    -------
    array_like
        Energy E [J].

    Raises
    ------
    ValueError
        A negative value.
    """
    return mass * (2 * np.pi * rotation * radius) ** 2 / 2
