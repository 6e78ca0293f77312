"""Specific cutting force: what a chip of given thickness asks for, by material."""

from __future__ import annotations

from typing import Final

import numpy as np

from finishplan.formula import Array, formula
from finishplan.physics.arguments import NON_NEGATIVE, POSITIVE

PER_DEGREE: Final = float(180 / np.pi)
RAKES: Final = (float(-np.pi / 4), float(np.pi / 4))


@formula(
    "kc = kc11 (max(h, h_min)/1 mm)^-mc K_rake K_wear",
    units={
        "kc11": "Pa",
        "mc": "1",
        "chip_thickness": "m",
        "minimum_chip_thickness": "m",
        "rake_factor": "1",
        "wear_factor": "1",
        "reference_thickness": "m",
    },
    returns="Pa",
    source="Kienzle, VDI-Z 94 (1952) 299-305; factors after Dietrich and Tschätsch, Praxis der Zerspantechnik, 2014",
    domain={
        "kc11": NON_NEGATIVE,
        "mc": (0.0, 1.0),
        "chip_thickness": NON_NEGATIVE,
        "minimum_chip_thickness": NON_NEGATIVE,
        "rake_factor": POSITIVE,
        "wear_factor": POSITIVE,
        "reference_thickness": POSITIVE,
    },
    # range of the handbook fits as generally taught; no published source
    trusted={"chip_thickness": (5e-5, 2.5e-3)},
)
def specific_cutting_force(
    kc11: Array,
    mc: Array,
    chip_thickness: Array,
    minimum_chip_thickness: Array = 0.0,
    rake_factor: Array = 1.0,
    wear_factor: Array = 1.0,
    reference_thickness: Array = 1e-3,
) -> Array:
    """Cutting force per chip section of a metal, by the power law of chip thickness.

    Parameters
    ----------
    kc11 : array_like
        Specific force at the reference thickness [Pa].
    mc : array_like
        Exponent of the rise towards thin chips [1].
    chip_thickness : array_like
        Chip thickness h [m].
    minimum_chip_thickness : array_like
        Thickness h_min below which the edge rubs; thinner chips are taken at this value [m].
    rake_factor : array_like
        Factor for the rake of the tool, see `rake_factor` [1].
    wear_factor : array_like
        Factor for a worn edge, 1 when sharp [1].
    reference_thickness : array_like
        Thickness that kc11 is tabulated for, 1 mm by custom [m].

    Returns
    -------
    array_like
        Specific cutting force kc [Pa].

    Raises
    ------
    ValueError
        A negative value, an exponent beyond 1, or no chip and no minimum either.
    """
    thickness = np.maximum(chip_thickness, minimum_chip_thickness)
    _refuse_no_chip("specific_cutting_force", thickness)
    # the factors first: they are seldom arrays of the size of the chips
    return kc11 * rake_factor * wear_factor * (thickness / reference_thickness) ** -mc


@formula(
    "kc = (Ks + Int/max(h, h_min)) K_wear",
    units={
        "slope": "Pa",
        "intercept": "N/m",
        "chip_thickness": "m",
        "minimum_chip_thickness": "m",
        "wear_factor": "1",
    },
    returns="Pa",
    source="Goli et al., Materials, 2018; Curti et al., Eur. J. Wood Wood Prod., 2021, tables 5 and 6",
    domain={
        "slope": NON_NEGATIVE,
        "intercept": NON_NEGATIVE,
        "chip_thickness": NON_NEGATIVE,
        "minimum_chip_thickness": NON_NEGATIVE,
        "wear_factor": POSITIVE,
    },
    trusted={"chip_thickness": (4.1e-5, 9.1e-5)},
)
def affine_specific_force(
    slope: Array,
    intercept: Array,
    chip_thickness: Array,
    minimum_chip_thickness: Array = 0.0,
    wear_factor: Array = 1.0,
) -> Array:
    """Cutting force per chip section of wood, boards and polymers: a share per chip and one per edge.

    Parameters
    ----------
    slope : array_like
        Force per chip section Ks [Pa].
    intercept : array_like
        Force per length of edge at no chip, Int [N/m].
    chip_thickness : array_like
        Chip thickness h; the published fits span 0.041 to 0.091 mm [m].
    minimum_chip_thickness : array_like
        Thickness h_min below which the edge rubs; thinner chips are taken at this value [m].
    wear_factor : array_like
        Factor for a worn edge on both shares, 1 when sharp [1].

    Returns
    -------
    array_like
        Specific cutting force kc [Pa].

    Raises
    ------
    ValueError
        A negative value, or no chip and no minimum either.
    """
    thickness = np.maximum(chip_thickness, minimum_chip_thickness)
    _refuse_no_chip("affine_specific_force", thickness)
    return (slope + intercept / thickness) * wear_factor


def _refuse_no_chip(name: str, thickness: Array) -> None:
    if not np.all(thickness > 0):
        raise ValueError(
            f"{name}: chip_thickness must be above 0 [m] where minimum_chip_thickness is 0, given {np.min(thickness):g}"
        )


@formula(
    "h_min = q r",
    units={"edge_radius": "m", "ratio": "1"},
    returns="m",
    source="common practice, no published source: chips form from a share of the edge radius on",
    domain={"edge_radius": NON_NEGATIVE, "ratio": NON_NEGATIVE},
)
def minimum_chip_thickness(edge_radius: Array, ratio: Array) -> Array:
    """Chip thickness below which a cutting edge rubs instead of cutting.

    Parameters
    ----------
    edge_radius : array_like
        Radius r of the cutting edge between rake and flank [m].
    ratio : array_like
        Share q of the edge radius, by material [1].

    Returns
    -------
    array_like
        Minimum chip thickness h_min [m].

    Raises
    ------
    ValueError
        A negative value.
    """
    return ratio * edge_radius


@formula(
    "K_rake = 1 - s (gamma - gamma_0)",
    units={"rake": "rad", "reference_rake": "rad", "slope": "1/rad"},
    returns="1",
    source="Dietrich and Tschätsch, Praxis der Zerspantechnik, 11th ed. 2014: 1 % per degree",
    domain={"rake": RAKES, "reference_rake": RAKES, "slope": (0.0, 0.02 * PER_DEGREE)},
)
def rake_factor(rake: Array, reference_rake: Array, slope: Array = 0.01 * PER_DEGREE) -> Array:
    """Factor on the specific force for a rake other than the one the constants were measured with.

    Parameters
    ----------
    rake : array_like
        Effective rake gamma of the tool, negative for most burrs [rad].
    reference_rake : array_like
        Rake gamma_0 the constants hold for [rad].
    slope : array_like
        Fall of the force with rake s; 1 % per degree, published values reach 2 % [1/rad].

    Returns
    -------
    array_like
        Factor, above 1 for a more negative rake [1].

    Raises
    ------
    ValueError
        A rake beyond 45 degrees either way, a slope beyond 2 % per degree, or a factor that would not be positive.
    """
    factor = 1 - slope * (rake - reference_rake)
    if np.any(factor <= 0):
        raise ValueError(f"rake_factor: the factor must be above 0 [1], given rakes that make it {np.min(factor):g}")
    return factor
