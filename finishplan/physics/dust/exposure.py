"""Exposure to airborne dust: averages over the shift, mixtures, and limits for a share of a dust."""

from __future__ import annotations

import numpy as np

from finishplan.formula import Array, formula
from finishplan.physics.arguments import NON_NEGATIVE, POSITIVE
from finishplan.physics.sourced import SHIFT


@formula(
    "E = sum(C_i T_i)/8 h",
    units={"concentrations": "kg/m^3", "durations": "s", "reference_duration": "s"},
    returns="kg/m^3",
    source="29 CFR 1910.1000(d)(1)(i)",
    domain={"concentrations": NON_NEGATIVE, "durations": NON_NEGATIVE, "reference_duration": POSITIVE},
)
def time_weighted_concentration(concentrations: Array, durations: Array, reference_duration: Array = SHIFT) -> Array:
    """Average of a shift's concentrations, referred to eight hours.

    Parameters
    ----------
    concentrations : array_like
        Concentrations C_i, one after the other on the last axis [kg/m3].
    durations : array_like
        How long each lasts T_i [s].
    reference_duration : array_like
        Shift the limit is set for [s].

    Returns
    -------
    array_like
        Time-weighted average E [kg/m3].

    Raises
    ------
    ValueError
        A negative value.
    """
    return np.sum(np.multiply(concentrations, durations), axis=-1) / reference_duration


@formula(
    "E_m = sum(C_i/L_i)",
    units={"concentrations": "kg/m^3", "limits": "kg/m^3"},
    returns="1",
    source="29 CFR 1910.1000(d)(2)(i)",
    domain={"concentrations": NON_NEGATIVE, "limits": POSITIVE},
)
def mixture_index(concentrations: Array, limits: Array) -> Array:
    """Sum of the shares of their limits that the substances in the air take up.

    Parameters
    ----------
    concentrations : array_like
        Concentration C_i of each substance, on the last axis [kg/m3].
    limits : array_like
        Limit L_i of each [kg/m3].

    Returns
    -------
    array_like
        Index E_m; above 1 the mixture is over its limit though each substance may be below [1].

    Raises
    ------
    ValueError
        A negative concentration or a limit of zero.
    """
    return np.sum(np.divide(concentrations, limits), axis=-1)


@formula(
    "L = min(L_i/w_i)",
    units={"limits": "kg/m^3", "mass_shares": "1"},
    returns="kg/m^3",
    source="mass balance: the constituent is the same share of the airborne dust as of the material",
    domain={"limits": POSITIVE, "mass_shares": (1e-9, 1.0)},
)
def constituent_dust_limit(limits: Array, mass_shares: Array) -> Array:
    """Dust concentration at which the first constituent reaches its own limit.

    Fine fractions may hold more of a constituent than the material does; only a sample tells.

    Parameters
    ----------
    limits : array_like
        Limit L_i of each constituent, on the last axis [kg/m3].
    mass_shares : array_like
        Its share w_i of the material; leave out what is absent [1].

    Returns
    -------
    array_like
        Limit L for the dust as a whole [kg/m3].

    Raises
    ------
    ValueError
        A limit of zero, or a share that is zero or above 1.
    """
    return np.min(np.divide(limits, mass_shares), axis=-1)


@formula(
    "L = 1/sum(w_i/L_i)",
    units={"limits": "kg/m^3", "mass_shares": "1"},
    returns="kg/m^3",
    source="29 CFR 1910.1000(d)(2)(i) with E_m = 1 and C_i = w_i L",
    domain={"limits": POSITIVE, "mass_shares": (1e-9, 1.0)},
)
def mixture_dust_limit(limits: Array, mass_shares: Array) -> Array:
    """Dust concentration at which its constituents together meet the limit for a mixture.

    Parameters
    ----------
    limits : array_like
        Limit L_i of each constituent, on the last axis [kg/m3].
    mass_shares : array_like
        Its share w_i of the dust; leave out what is absent [1].

    Returns
    -------
    array_like
        Limit L for the dust as a whole [kg/m3].

    Raises
    ------
    ValueError
        A limit of zero, or a share that is zero or above 1.
    """
    return 1 / np.sum(np.divide(mass_shares, limits), axis=-1)


@formula(
    "L = L_0 min(1, 8 h/T)",
    units={"duration": "s", "limit": "kg/m^3", "reference_duration": "s"},
    returns="kg/m^3",
    source="29 CFR 1910.1025(c)(2): 400 micrograms per cubic metre over the hours worked",
    domain={"duration": POSITIVE, "limit": POSITIVE, "reference_duration": POSITIVE},
)
def lead_limit(duration: Array, limit: Array = 50e-9, reference_duration: Array = SHIFT) -> Array:
    """Permissible exposure to lead over a shift of more than eight hours.

    Parameters
    ----------
    duration : array_like
        Hours worked in the day T [s].
    limit : array_like
        Limit of the eight-hour shift L_0 [kg/m3].
    reference_duration : array_like
        Shift that limit is set for [s].

    Returns
    -------
    array_like
        Limit L; never above that of eight hours [kg/m3].

    Raises
    ------
    ValueError
        A value of zero.
    """
    return limit * np.minimum(reference_duration / duration, 1.0)
