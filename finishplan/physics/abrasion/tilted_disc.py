"""A disc tilted onto a face: it touches with a segment at its rim.

The disc is stiff and carries a soft layer, so the pressure grows evenly from nothing at the chord,
where the contact ends, to the most at the rim. The chord subtends the half angle phi at the centre,
cos(phi) = 1 - s/R, with s the depth of the contact from the rim inwards; in polar coordinates the
moments of that pressure over the segment have closed forms.
"""

from __future__ import annotations

from typing import Final

import numpy as np

from finishplan.formula import INFINITY, Array, formula
from finishplan.physics.arguments import NON_NEGATIVE, POSITIVE

SEGMENT: Final = (
    "moments of the linear pressure of a stiff tilted disc with an elastic layer over the segment it touches"
)
CONTACT_DEPTH: Final = (1e-6, 0.5)
"""The closed forms lose their digits on thinner segments, and no disc is wider than a metre."""

LAYER_STIFFNESS: Final = (1e3, INFINITY)
"""A hundredth of the softest foam pads' stiffness, and up."""


def _half_angle(diameter: Array, contact_depth: Array, function: str) -> Array:
    share = 2 * contact_depth / diameter
    if np.any(share > 1):
        raise ValueError(
            f"{function}: contact_depth must not exceed half of diameter [m],"
            f" given {np.max(share):g} times that: the disc no longer runs on its edge"
        )
    return 2 * np.arcsin(np.sqrt(share / 2))


def _load_moment(half_angle: Array) -> Array:
    """Integral of the distance from the chord over a segment of the unit circle."""
    sine, cosine = np.sin(half_angle), np.cos(half_angle)
    return 2 / 3 * sine**3 - cosine * (half_angle - sine * cosine)


def _load_excess(half_angle: Array, wanted: Array) -> Array:
    return _load_moment(half_angle) - wanted


def _radius_moment(half_angle: Array) -> Array:
    """Integral of radius times distance from the chord over a segment of the unit circle."""
    sine, cosine = np.sin(half_angle), np.cos(half_angle)
    far_side = cosine**2 * (sine + cosine**2 * np.arcsinh(np.tan(half_angle))) / 12
    return sine / 2 - 2 / 3 * half_angle * cosine + far_side


@formula(
    "r_m = R (sin(phi)/2 - (2/3) phi c + c^2 (sin(phi) + c^2 asinh(tan(phi)))/12)"
    "/((2/3) sin(phi)^3 - c (phi - c sin(phi))); c = cos(phi) = 1 - s/R",
    units={"diameter": "m", "contact_depth": "m"},
    returns="m",
    source=SEGMENT,
    domain={"diameter": POSITIVE, "contact_depth": CONTACT_DEPTH},
)
def tilted_disc_mean_radius(diameter: Array, contact_depth: Array) -> Array:
    """Radius at which the friction of a tilted disc may be thought to act.

    Parameters
    ----------
    diameter : array_like
        Disc diameter 2 R [m].
    contact_depth : array_like
        Depth s of the contact from the rim towards the centre, at most the disc's radius [m].

    Returns
    -------
    array_like
        Mean radius r_m, weighted with the pressure: R for a narrow contact, 3/4 R for half the disc [m].

    Raises
    ------
    ValueError
        A diameter of zero, or a contact depth below a micrometre or beyond the centre.
    """
    half_angle = _half_angle(diameter, contact_depth, "tilted_disc_mean_radius")
    return diameter / 2 * _radius_moment(half_angle) / _load_moment(half_angle)


@formula(
    "v = 2 pi n r_m",
    units={"diameter": "m", "spindle_speed": "1/s", "contact_depth": "m"},
    returns="m/s",
    source=SEGMENT,
    domain={"spindle_speed": NON_NEGATIVE, "contact_depth": CONTACT_DEPTH},
)
def tilted_disc_mean_speed(diameter: Array, spindle_speed: Array, contact_depth: Array) -> Array:
    """Mean sliding speed of a tilted disc over the segment it touches.

    Parameters
    ----------
    diameter : array_like
        Disc diameter 2 R [m].
    spindle_speed : array_like
        Revolutions per time n [1/s].
    contact_depth : array_like
        Depth s of the contact from the rim towards the centre, at most the disc's radius [m].

    Returns
    -------
    array_like
        Mean speed v, weighted with the pressure [m/s].

    Raises
    ------
    ValueError
        A diameter of zero, a negative speed, or a contact depth below a micrometre or beyond the centre.
    """
    return 2 * np.pi * spindle_speed * tilted_disc_mean_radius(diameter, contact_depth)


@formula(
    "b = 2 sqrt(s (2 R - s))",
    units={"diameter": "m", "contact_depth": "m"},
    returns="m",
    source="plane geometry of the chord of a circle",
    domain={"diameter": POSITIVE, "contact_depth": CONTACT_DEPTH},
)
def tilted_disc_contact_width(diameter: Array, contact_depth: Array) -> Array:
    """Length of the chord at which the contact of a tilted disc ends.

    Parameters
    ----------
    diameter : array_like
        Disc diameter 2 R [m].
    contact_depth : array_like
        Depth s of the contact from the rim towards the centre, at most the disc's radius [m].

    Returns
    -------
    array_like
        Chord b [m].

    Raises
    ------
    ValueError
        A diameter of zero, or a contact depth below a micrometre or beyond the centre.
    """
    return diameter * np.sin(_half_angle(diameter, contact_depth, "tilted_disc_contact_width"))


@formula(
    "F = k tan(beta) R^3 ((2/3) sin(phi)^3 - c (phi - c sin(phi))); s = R (1 - c), c = cos(phi)",
    units={"force": "N", "diameter": "m", "tilt": "rad", "layer_stiffness": "N/m^3"},
    returns="m",
    source=SEGMENT,
    domain={
        "force": NON_NEGATIVE,
        "diameter": POSITIVE,
        "tilt": (1e-3, float(np.pi) / 3),
        "layer_stiffness": LAYER_STIFFNESS,
    },
)
def tilted_disc_contact_depth(force: Array, diameter: Array, tilt: Array, layer_stiffness: Array) -> Array:
    """How far from its rim inwards a pressed, tilted disc touches.

    Parameters
    ----------
    force : array_like
        Normal force F [N].
    diameter : array_like
        Disc diameter 2 R [m].
    tilt : array_like
        Angle beta between disc and face [rad].
    layer_stiffness : array_like
        Stiffness k of the soft layer, pressure per compression [N/m3].

    Returns
    -------
    array_like
        Depth s of the contact [m].

    Raises
    ------
    ValueError
        A diameter of zero, a stiffness below 1 kPa per metre, a negative force, a tilt outside 0.06 to
        60 degrees, or a force that presses the disc down beyond its centre.
    """
    from scipy.optimize.elementwise import find_root  # slow to import, and only tilted discs need it

    radius = diameter / 2
    share: Array = np.asarray(force / (layer_stiffness * np.tan(tilt) * radius**3), dtype=float)
    if np.any(share > 2 / 3):
        raise ValueError(
            "tilted_disc_contact_depth: force must leave the disc on its edge [N],"
            f" given {np.max(share) * 1.5:g} times what brings it down to its centre"
        )
    found = find_root(_load_excess, (0.0, np.pi / 2), args=(share,))
    return radius * (1 - np.cos(found.x))
