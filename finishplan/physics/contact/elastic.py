"""Hertz contact of solid bodies: contact wheels of rubber, balls and rollers.

The patch has to be small against the radii and against the depth of the softer body; a thin tread
or a foam pad is a layer instead (`finishplan.physics.contact.layer`).
"""

from __future__ import annotations

from typing import Final

import numpy as np

from finishplan.formula import INFINITY, Array, formula
from finishplan.physics.arguments import NON_NEGATIVE, POSITIVE
from finishplan.physics.contact.patch import LineContact, PointContact

LINE: Final = "Hertz 1882; Johnson, Contact Mechanics, 1985, section 4.2(c)"
POINT: Final = "Hertz 1882; Johnson, Contact Mechanics, 1985, eqs 4.22 to 4.24"
POISSON: Final = (0.0, 0.5)


@formula(
    "E = E_0 (56 + 7.62336 S)/(0.137505 (254 - 2.54 S)); E_0 = 0.0981 MPa",
    units={"hardness": "1", "reference_modulus": "Pa"},
    returns="Pa",
    source="Gent, Rubber Chem. Technol. 31 (1958) 896-906, modulus from the durometer's spring and indentor",
    domain={"hardness": (1.0, 99.0)},
    trusted={"hardness": (20.0, 80.0)},
)
def shore_a_modulus(hardness: Array, reference_modulus: Array = 0.0981e6) -> Array:
    """Young's modulus of a rubber from its Shore A hardness.

    Parameters
    ----------
    hardness : array_like
        Shore A hardness S, 20 to 80 [1].
    reference_modulus : array_like
        The unit E_0 the relation is written in, 1 kgf/cm2 rounded [Pa].

    Returns
    -------
    array_like
        Young's modulus E [Pa].

    Raises
    ------
    ValueError
        A hardness outside the durometer's scale.
    """
    return reference_modulus * (56 + 7.62336 * hardness) / (0.137505 * (254 - 2.54 * hardness))


@formula(
    "1/E* = (1 - nu_1^2)/E_1 + (1 - nu_2^2)/E_2",
    units={"modulus": "Pa", "poisson": "1", "other_modulus": "Pa", "other_poisson": "1"},
    returns="Pa",
    source="Johnson, Contact Mechanics, 1985, section 4.2",
    domain={"modulus": POSITIVE, "poisson": POISSON, "other_modulus": POSITIVE, "other_poisson": POISSON},
)
def effective_modulus(
    modulus: Array, poisson: Array, other_modulus: Array = INFINITY, other_poisson: Array = 0.0
) -> Array:
    """Modulus of one body on a rigid one that yields like the two on each other.

    Parameters
    ----------
    modulus : array_like
        Young's modulus E_1 [Pa].
    poisson : array_like
        Poisson's ratio nu_1 [1].
    other_modulus : array_like
        Young's modulus E_2 of the other body, rigid by default [Pa].
    other_poisson : array_like
        Poisson's ratio nu_2 of the other body [1].

    Returns
    -------
    array_like
        Effective modulus E* [Pa].

    Raises
    ------
    ValueError
        A modulus of zero, or a Poisson's ratio outside 0 to 0.5.
    """
    return 1 / ((1 - poisson**2) / modulus + (1 - other_poisson**2) / other_modulus)


@formula(
    "1/R = 1/R_1 + 1/R_2",
    units={"radius": "m", "other_radius": "m"},
    returns="m",
    source="Johnson, Contact Mechanics, 1985, section 4.2",
    domain={"radius": POSITIVE},
)
def effective_radius(radius: Array, other_radius: Array = INFINITY) -> Array:
    """Radius on a flat that touches like two round bodies on each other.

    Parameters
    ----------
    radius : array_like
        Radius R_1 of the convex body [m].
    other_radius : array_like
        Radius R_2 of the other: flat by default, negative for a hollow wider than R_1 [m].

    Returns
    -------
    array_like
        Effective radius R [m].

    Raises
    ------
    ValueError
        A radius of zero, or a hollow narrower than the body in it.
    """
    curvature = 1 / radius + 1 / other_radius
    if np.any(curvature <= 0):
        raise ValueError("effective_radius: other_radius must be above 0, or hollow and wider than radius [m]")
    return 1 / curvature


@formula(
    "b = sqrt(4 F' R/(pi E*))",
    units={"load_per_length": "N/m", "radius": "m", "modulus": "Pa"},
    returns="m",
    source=LINE,
    domain={"load_per_length": NON_NEGATIVE, "radius": POSITIVE, "modulus": POSITIVE},
)
def hertz_line_half_width(load_per_length: Array, radius: Array, modulus: Array) -> Array:
    """Half-width of the strip a pressed roller touches with.

    Parameters
    ----------
    load_per_length : array_like
        Load over length F' [N/m].
    radius : array_like
        Effective radius R [m].
    modulus : array_like
        Effective modulus E* [Pa].

    Returns
    -------
    array_like
        Half-width b [m].

    Raises
    ------
    ValueError
        A radius or modulus of zero, or a negative load.
    """
    return np.sqrt(4 * load_per_length * radius / (np.pi * modulus))


@formula(
    "delta = (F'/(pi E*)) (2 ln(4 R/b) - 1)",
    units={"load_per_length": "N/m", "radius": "m", "modulus": "Pa"},
    returns="m",
    source="Johnson, Contact Mechanics, 1985, eq. 5.57, solid cylinder",
    domain={"load_per_length": POSITIVE, "radius": POSITIVE, "modulus": POSITIVE},
)
def hertz_line_approach(load_per_length: Array, radius: Array, modulus: Array) -> Array:
    """How far the axis of a solid roller comes closer to a much stiffer flat.

    Parameters
    ----------
    load_per_length : array_like
        Load over length F' [N/m].
    radius : array_like
        Radius R of the roller [m].
    modulus : array_like
        Effective modulus E* [Pa].

    Returns
    -------
    array_like
        Approach delta [m].

    Raises
    ------
    ValueError
        A load, radius or modulus of zero.
    """
    half_width = hertz_line_half_width(load_per_length, radius, modulus)
    return load_per_length / (np.pi * modulus) * (2 * np.log(4 * radius / half_width) - 1)


@formula(
    "a = (3 F R/(4 E*))^(1/3)",
    units={"force": "N", "radius": "m", "modulus": "Pa"},
    returns="m",
    source=POINT,
    domain={"force": NON_NEGATIVE, "radius": POSITIVE, "modulus": POSITIVE},
)
def hertz_point_radius(force: Array, radius: Array, modulus: Array) -> Array:
    """Radius of the patch a pressed ball touches with.

    Parameters
    ----------
    force : array_like
        Force F [N].
    radius : array_like
        Effective radius R [m].
    modulus : array_like
        Effective modulus E* [Pa].

    Returns
    -------
    array_like
        Radius a of the patch [m].

    Raises
    ------
    ValueError
        A radius or modulus of zero, or a negative force.
    """
    return (3 * force * radius / (4 * modulus)) ** (1 / 3)


def hertz_line(load_per_length: Array, radius: Array, modulus: Array) -> LineContact:
    """Contact of a solid roller along a line.

    Parameters
    ----------
    load_per_length : array_like
        Load over length F', above zero [N/m].
    radius : array_like
        Effective radius R [m].
    modulus : array_like
        Effective modulus E* [Pa].

    Returns
    -------
    LineContact
        Half-width, pressures with the mean at pi/4 of the peak, and approach of a solid roller's axis
        to a much stiffer flat.

    Raises
    ------
    ValueError
        A load, radius or modulus of zero.
    """
    half_width = hertz_line_half_width(load_per_length, radius, modulus)
    mean = load_per_length / (2 * half_width)
    return LineContact(half_width, 4 / np.pi * mean, mean, hertz_line_approach(load_per_length, radius, modulus))


def hertz_point(force: Array, radius: Array, modulus: Array) -> PointContact:
    """Contact of a ball about a point.

    Parameters
    ----------
    force : array_like
        Force F, above zero [N].
    radius : array_like
        Effective radius R [m].
    modulus : array_like
        Effective modulus E* [Pa].

    Returns
    -------
    PointContact
        Radius of the patch, pressures with the mean at 2/3 of the peak, and approach a^2/R.

    Raises
    ------
    ValueError
        A radius or modulus of zero, or a negative force.
    """
    patch = hertz_point_radius(force, radius, modulus)
    mean = force / (np.pi * patch**2)
    return PointContact(patch, 1.5 * mean, mean, patch**2 / radius)
