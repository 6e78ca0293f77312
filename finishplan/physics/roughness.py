"""Roughness an abrasive leaves, how fast it gets there, and what each grit has to take off.

The floor a grit can reach differs between sources by a factor of about three: every figure from here
is a starting value with a band, to be confirmed by trial.
"""

from __future__ import annotations

from typing import Final

import numpy as np

from finishplan.formula import Array, formula
from finishplan.physics.arguments import NON_NEGATIVE, POSITIVE

APPROACH: Final = "first-order approach to the floor, dRa/dh = -(Ra - Ra_floor)/h_0; constant from trials"

ROUGHNESS: Final = (0.0, 1e-3)
"""Bounds of a mean roughness; a millimetre is no finish."""


@formula(
    "Ra_floor = c_R d",
    units={"factor": "1", "grain_size": "m"},
    returns="m",
    source="BioResources 14(2) 2019, 4512-4531: roughness of sanded beech is linear in the mean grain diameter",
    domain={"factor": NON_NEGATIVE, "grain_size": NON_NEGATIVE},
)
def floor_roughness(factor: Array, grain_size: Array) -> Array:
    """Mean roughness a grit tends to, however long it works.

    Parameters
    ----------
    factor : array_like
        Roughness per grain size c_R, with its band [1].
    grain_size : array_like
        Median grain size d of the grit [m].

    Returns
    -------
    array_like
        Mean roughness Ra_floor [m].

    Raises
    ------
    ValueError
        A negative value.
    """
    return factor * grain_size


@formula(
    "Ra = Ra_floor + (Ra_0 - Ra_floor) exp(-h/h_0)",
    units={"initial": "m", "floor": "m", "removal": "m", "decay": "m"},
    returns="m",
    source=APPROACH,
    domain={"initial": ROUGHNESS, "floor": ROUGHNESS, "removal": NON_NEGATIVE, "decay": POSITIVE},
)
def roughness_after_removal(initial: Array, floor: Array, removal: Array, decay: Array) -> Array:
    """Mean roughness after a grit has taken off a depth.

    Parameters
    ----------
    initial : array_like
        Mean roughness Ra_0 before [m].
    floor : array_like
        Mean roughness Ra_floor the grit tends to; a surface finer than that gets rougher [m].
    removal : array_like
        Depth h taken off [m].
    decay : array_like
        Depth h_0 over which the excess falls to 37 % [m].

    Returns
    -------
    array_like
        Mean roughness Ra [m].

    Raises
    ------
    ValueError
        A decay depth of zero, or a roughness that is negative or beyond a millimetre.
    """
    return floor + (initial - floor) * np.exp(-removal / decay)


@formula(
    "h = h_0 ln((Ra_0 - Ra_floor)/(Ra - Ra_floor))",
    units={"initial": "m", "floor": "m", "wanted": "m", "decay": "m"},
    returns="m",
    source=APPROACH,
    domain={"initial": ROUGHNESS, "floor": ROUGHNESS, "decay": POSITIVE},
)
def removal_for_roughness(initial: Array, floor: Array, wanted: Array, decay: Array) -> Array:
    """Depth a grit has to take off for a roughness; inverse of `roughness_after_removal`.

    Parameters
    ----------
    initial : array_like
        Mean roughness Ra_0 before [m].
    floor : array_like
        Mean roughness Ra_floor the grit tends to [m].
    wanted : array_like
        Mean roughness Ra wanted, above the floor [m].
    decay : array_like
        Depth h_0 over which the excess falls to 37 % [m].

    Returns
    -------
    array_like
        Depth h; zero where the surface is fine enough already [m].

    Raises
    ------
    ValueError
        A roughness the grit never reaches, a decay depth of zero, or a roughness that is negative or beyond
        a millimetre.
    """
    gap = wanted - floor
    if np.any(gap <= 0):
        raise ValueError("removal_for_roughness: wanted must be above floor [m], which this grit only tends to")
    return decay * np.log(np.maximum((initial - floor) / gap, 1.0))


@formula(
    "h = k_z (Rz/Ra) Ra",
    units={"factor": "1", "peak_ratio": "1", "roughness": "m"},
    returns="m",
    source="a scratch is gone when the surface has come down to its bottom; factor by common practice,"
    " no published source",
    domain={"factor": NON_NEGATIVE, "peak_ratio": NON_NEGATIVE, "roughness": NON_NEGATIVE},
)
def scratch_removal(factor: Array, peak_ratio: Array, roughness: Array) -> Array:
    """Depth a grit has to take off so that the scratches of the grit before are gone.

    Parameters
    ----------
    factor : array_like
        Margin k_z over the mean height of the profile, for stray scratches [1].
    peak_ratio : array_like
        Rz over Ra of the surface before [1].
    roughness : array_like
        Mean roughness Ra of the surface before [m].

    Returns
    -------
    array_like
        Depth h [m].

    Raises
    ------
    ValueError
        A negative value.
    """
    return factor * peak_ratio * roughness


@formula(
    "q = d_1/d_2",
    units={"coarse": "m", "fine": "m"},
    returns="1",
    source="definition of the step between two grits; grain sizes after ISO 6344",
    domain={"coarse": POSITIVE, "fine": POSITIVE},
)
def grain_size_ratio(coarse: Array, fine: Array) -> Array:
    """Step from one grit to the next.

    Parameters
    ----------
    coarse : array_like
        Median grain size d_1 of the grit before [m].
    fine : array_like
        Median grain size d_2 of the grit after [m].

    Returns
    -------
    array_like
        Ratio q [1].

    Raises
    ------
    ValueError
        A grain size of zero.
    """
    return coarse / fine
