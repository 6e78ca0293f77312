"""Stiffness in series, and the bending of a tool that stands out of its holder."""

from __future__ import annotations

import numpy as np

from finishplan.formula import Array, formula
from finishplan.physics.arguments import NON_NEGATIVE, POSITIVE

BENDING = "Euler-Bernoulli beam, cantilever loaded at its end; Bansal, Strength of Materials, chapter 13"


@formula(
    "k = 1/(1/k_1 + 1/k_2)",
    units={"first": "N/m", "second": "N/m"},
    returns="N/m",
    source="statics: equal force, added deflections",
    domain={"first": POSITIVE, "second": POSITIVE},
)
def series_stiffness(first: Array, second: Array) -> Array:
    """Stiffness of two elastic parts that carry the same force.

    Parameters
    ----------
    first : array_like
        Stiffness k_1, infinite for a rigid part [N/m].
    second : array_like
        Stiffness k_2, infinite for a rigid part [N/m].

    Returns
    -------
    array_like
        Stiffness of both in series k [N/m].

    Raises
    ------
    ValueError
        A stiffness of zero or less.
    """
    return 1 / (1 / first + 1 / second)


@formula(
    "k = 3 E (pi D^4/64)/L^3",
    units={"length": "m", "diameter": "m", "modulus": "Pa"},
    returns="N/m",
    source=BENDING,
    domain={"length": POSITIVE, "diameter": NON_NEGATIVE, "modulus": NON_NEGATIVE},
)
def cantilever_stiffness(length: Array, diameter: Array, modulus: Array) -> Array:
    """Bending stiffness at the tip of a solid round bar held at one end.

    Parameters
    ----------
    length : array_like
        Free length L, long against the diameter [m].
    diameter : array_like
        Diameter D, of the equivalent bar for a fluted cutter [m].
    modulus : array_like
        Elastic modulus E [Pa].

    Returns
    -------
    array_like
        Stiffness k [N/m].

    Raises
    ------
    ValueError
        A length of zero, or a negative value.
    """
    return 3 * np.pi * modulus * diameter**4 / (64 * length**3)


@formula(
    "delta = F L^3/(3 E pi D^4/64)",
    units={"force": "N", "length": "m", "diameter": "m", "modulus": "Pa"},
    returns="m",
    source=BENDING,
    domain={"length": POSITIVE, "diameter": POSITIVE, "modulus": POSITIVE},
)
def cantilever_deflection(force: Array, length: Array, diameter: Array, modulus: Array) -> Array:
    """Deflection at the tip of a solid round bar held at one end, under a force at the tip.

    Parameters
    ----------
    force : array_like
        Force F square to the bar [N].
    length : array_like
        Free length L, long against the diameter [m].
    diameter : array_like
        Diameter D, of the equivalent bar for a fluted cutter [m].
    modulus : array_like
        Elastic modulus E [Pa].

    Returns
    -------
    array_like
        Deflection delta in the direction of the force [m].

    Raises
    ------
    ValueError
        A length, diameter or modulus of zero or less.
    """
    return force / cantilever_stiffness(length, diameter, modulus)


@formula(
    "sigma = 32 F l/(pi D^3)",
    units={"force": "N", "lever": "m", "diameter": "m"},
    returns="Pa",
    source=BENDING,
    domain={"force": NON_NEGATIVE, "lever": NON_NEGATIVE, "diameter": POSITIVE},
)
def bending_stress(force: Array, lever: Array, diameter: Array) -> Array:
    """Greatest bending stress in a solid round bar held at one end.

    Parameters
    ----------
    force : array_like
        Force F square to the bar [N].
    lever : array_like
        Distance l from the force to the hold [m].
    diameter : array_like
        Diameter D, of the equivalent bar for a fluted cutter [m].

    Returns
    -------
    array_like
        Stress sigma at the surface, at the hold [Pa].

    Raises
    ------
    ValueError
        A diameter of zero, or a negative value.
    """
    return 32 * force * lever / (np.pi * diameter**3)


@formula(
    "D_e = q D",
    units={"diameter": "m", "ratio": "1"},
    returns="m",
    source="Kops and Vo, CIRP Annals 39/1 (1990) 93-96: 0.8 for two and four flutes",
    domain={"diameter": NON_NEGATIVE, "ratio": (0.0, 1.0)},
)
def fluted_diameter(diameter: Array, ratio: Array = 0.8) -> Array:
    """Diameter of the round bar that bends as a fluted cutter does.

    Parameters
    ----------
    diameter : array_like
        Cutter diameter D [m].
    ratio : array_like
        Equivalent over cutter diameter q [1].

    Returns
    -------
    array_like
        Equivalent diameter D_e [m].

    Raises
    ------
    ValueError
        A negative diameter, or a ratio beyond 1.
    """
    return ratio * diameter
