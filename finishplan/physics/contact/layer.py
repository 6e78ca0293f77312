"""Soft layers on a stiff backing: foam pads and thin treads as a bed of springs, and pads over a border.

Each spot of the layer yields by itself, pressure = stiffness x compression (a Winkler bed). The patch
has to be wide against the layer's thickness and small against the radius.
"""

from __future__ import annotations

from typing import Final

import numpy as np

from finishplan.formula import Array, formula
from finishplan.physics.arguments import NON_NEGATIVE, POSITIVE
from finishplan.physics.contact.patch import LineContact, PointContact

SPRING_BED: Final = "Johnson, Contact Mechanics, 1985, section 4.3, elastic foundation"


@formula(
    "E_c = E (1 - nu)/((1 + nu)(1 - 2 nu))",
    units={"modulus": "Pa", "poisson": "1"},
    returns="Pa",
    source="theory of elasticity: uniaxial strain, Johnson, Contact Mechanics, 1985, section 4.3",
    domain={"modulus": POSITIVE, "poisson": (0.0, 0.499)},
)
def constrained_modulus(modulus: Array, poisson: Array) -> Array:
    """Modulus of a layer that cannot spread sideways.

    Parameters
    ----------
    modulus : array_like
        Young's modulus E [Pa].
    poisson : array_like
        Poisson's ratio nu; open foams are near 0, and rubber near 0.5 has no use for this relation [1].

    Returns
    -------
    array_like
        Constrained modulus E_c [Pa].

    Raises
    ------
    ValueError
        A modulus of zero, or a Poisson's ratio outside 0 to 0.499.
    """
    return modulus * (1 - poisson) / ((1 + poisson) * (1 - 2 * poisson))


@formula(
    "k = E_c/t",
    units={"modulus": "Pa", "thickness": "m"},
    returns="N/m^3",
    source=SPRING_BED,
    domain={"modulus": POSITIVE, "thickness": POSITIVE},
)
def layer_stiffness(modulus: Array, thickness: Array) -> Array:
    """Pressure per compression of a layer.

    Parameters
    ----------
    modulus : array_like
        Constrained modulus E_c of the layer [Pa].
    thickness : array_like
        Thickness t [m].

    Returns
    -------
    array_like
        Stiffness k [N/m3].

    Raises
    ------
    ValueError
        A modulus or thickness of zero.
    """
    return modulus / thickness


@formula(
    "delta = F/(k A)",
    units={"force": "N", "area": "m^2", "stiffness": "N/m^3"},
    returns="m",
    source=SPRING_BED,
    domain={"force": NON_NEGATIVE, "area": POSITIVE, "stiffness": POSITIVE},
)
def winkler_flat_approach(force: Array, area: Array, stiffness: Array) -> Array:
    """Compression of a layer pressed flat on a flat; the pressure is the same everywhere.

    Parameters
    ----------
    force : array_like
        Force F at the centre [N].
    area : array_like
        Area A of the pad [m2].
    stiffness : array_like
        Layer stiffness k [N/m3].

    Returns
    -------
    array_like
        Compression delta [m].

    Raises
    ------
    ValueError
        An area or stiffness of zero, or a negative force.
    """
    return force / (stiffness * area)


@formula(
    "b = (3 F' R/(2 k))^(1/3)",
    units={"load_per_length": "N/m", "radius": "m", "stiffness": "N/m^3"},
    returns="m",
    source=SPRING_BED,
    domain={"load_per_length": NON_NEGATIVE, "radius": POSITIVE, "stiffness": POSITIVE},
)
def winkler_cylinder_half_width(load_per_length: Array, radius: Array, stiffness: Array) -> Array:
    """Half-width of the strip between a cylinder and a layer.

    Parameters
    ----------
    load_per_length : array_like
        Load over length F' [N/m].
    radius : array_like
        Effective radius R [m].
    stiffness : array_like
        Layer stiffness k [N/m3].

    Returns
    -------
    array_like
        Half-width b [m].

    Raises
    ------
    ValueError
        A radius or stiffness of zero, or a negative load.
    """
    return (3 * load_per_length * radius / (2 * stiffness)) ** (1 / 3)


@formula(
    "a = (4 F R/(pi k))^(1/4)",
    units={"force": "N", "radius": "m", "stiffness": "N/m^3"},
    returns="m",
    source=SPRING_BED,
    domain={"force": NON_NEGATIVE, "radius": POSITIVE, "stiffness": POSITIVE},
)
def winkler_dome_radius(force: Array, radius: Array, stiffness: Array) -> Array:
    """Radius of the patch between a dome and a layer.

    Parameters
    ----------
    force : array_like
        Force F [N].
    radius : array_like
        Effective radius R [m].
    stiffness : array_like
        Layer stiffness k [N/m3].

    Returns
    -------
    array_like
        Radius a of the patch; a pad that is smaller touches all over [m].

    Raises
    ------
    ValueError
        A radius or stiffness of zero, or a negative force.
    """
    return (4 * force * radius / (np.pi * stiffness)) ** (1 / 4)


def winkler_cylinder(load_per_length: Array, radius: Array, stiffness: Array) -> LineContact:
    """Contact between a cylinder and a layer.

    Parameters
    ----------
    load_per_length : array_like
        Load over length F', above zero [N/m].
    radius : array_like
        Effective radius R [m].
    stiffness : array_like
        Layer stiffness k [N/m3].

    Returns
    -------
    LineContact
        Half-width, pressures with the mean at 2/3 of the peak, and approach b^2/(2 R).

    Raises
    ------
    ValueError
        A radius or stiffness of zero, or a negative load.
    """
    half_width = winkler_cylinder_half_width(load_per_length, radius, stiffness)
    approach = half_width**2 / (2 * radius)
    return LineContact(half_width, stiffness * approach, load_per_length / (2 * half_width), approach)


def winkler_dome(force: Array, radius: Array, stiffness: Array) -> PointContact:
    """Contact between a dome and a layer wide enough to take the whole patch.

    Parameters
    ----------
    force : array_like
        Force F, above zero [N].
    radius : array_like
        Effective radius R [m].
    stiffness : array_like
        Layer stiffness k [N/m3].

    Returns
    -------
    PointContact
        Radius of the patch, pressures with the mean at half the peak, and approach a^2/(2 R).

    Raises
    ------
    ValueError
        A radius or stiffness of zero, or a negative force.
    """
    patch = winkler_dome_radius(force, radius, stiffness)
    approach = patch**2 / (2 * radius)
    return PointContact(patch, stiffness * approach, force / (np.pi * patch**2), approach)


@formula(
    "p_e/p = (1 + 3 f/(1 - f))/(1 - f) to f = 1/4, then 4/(3 (1 - 2 f))",
    units={"overhang": "1"},
    returns="1",
    source="equilibrium of a stiff rectangular pad that cannot pull, as of an eccentrically loaded footing:"
    " Das, Principles of Foundation Engineering, eccentrically loaded foundations",
    domain={"overhang": (0.0, 0.5)},
)
def overhang_pressure_ratio(overhang: Array) -> Array:
    """Pressure at the border over the pressure on the full surface, for a stiff pad that hangs over.

    The force acts at the pad's centre and stays the same. To a quarter of its length the pad touches
    with all that is left on the surface; beyond, its far end lifts.

    Parameters
    ----------
    overhang : array_like
        Share f of the pad's length that hangs over the border, below 1/2 [1].

    Returns
    -------
    array_like
        Pressure ratio p_e/p [1].

    Raises
    ------
    ValueError
        A negative overhang, or one at which the pad tips over the border.
    """
    if np.any(overhang >= 0.5):
        raise ValueError(
            f"overhang_pressure_ratio: overhang must be below 1/2 [1], given {np.max(overhang):g}: the pad tips over"
        )
    left = 1 - overhang
    return np.where(overhang <= 0.25, (1 + 3 * overhang / left) / left, 4 / (3 * (1 - 2 * overhang)))[()]
