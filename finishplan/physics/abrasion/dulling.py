"""How the Preston coefficient of an abrasive falls as it works.

An abrasive loses its bite with the volume V it has removed, K = K_0 exp(-V/V_0); the life volume V_0
is what a trial fits. The forms in time follow at constant force and speed.
"""

from __future__ import annotations

from typing import Final

import numpy as np

from finishplan.formula import INFINITY, Array, formula
from finishplan.physics.arguments import NON_NEGATIVE

VOLUME: Final = (1e-18, INFINITY)
"""Bounds of a volume above zero; a cubic micrometre is the smallest."""

FIRST_ORDER: Final = "first-order loss of the rate with the volume removed: common practice, no published source"
INTEGRATED: Final = "integral of dV/dt = K_0 F v exp(-V/V_0); first-order loss is common practice, no published source"


@formula(
    "K = K_0 exp(-V/V_0)",
    units={"initial": "1/Pa", "volume": "m^3", "life_volume": "m^3"},
    returns="1/Pa",
    source=FIRST_ORDER,
    domain={"initial": NON_NEGATIVE, "volume": NON_NEGATIVE, "life_volume": VOLUME},
)
def worn_coefficient(initial: Array, volume: Array, life_volume: Array) -> Array:
    """Preston coefficient after the abrasive has removed a volume.

    Parameters
    ----------
    initial : array_like
        Coefficient K_0 of the fresh abrasive [1/Pa].
    volume : array_like
        Volume V removed so far [m3].
    life_volume : array_like
        Volume V_0 at which the coefficient has fallen to 37 % [m3].

    Returns
    -------
    array_like
        Coefficient K [1/Pa].

    Raises
    ------
    ValueError
        A life volume of zero, or a negative value.
    """
    return initial * np.exp(-volume / life_volume)


@formula(
    "K = K_0/(1 + K_0 F v t/V_0)",
    units={"initial": "1/Pa", "force": "N", "speed": "m/s", "time": "s", "life_volume": "m^3"},
    returns="1/Pa",
    source=INTEGRATED,
    domain={
        "initial": NON_NEGATIVE,
        "force": NON_NEGATIVE,
        "speed": NON_NEGATIVE,
        "time": NON_NEGATIVE,
        "life_volume": VOLUME,
    },
)
def worn_coefficient_over_time(initial: Array, force: Array, speed: Array, time: Array, life_volume: Array) -> Array:
    """Preston coefficient after a time in contact at constant force and speed.

    Parameters
    ----------
    initial : array_like
        Coefficient K_0 of the fresh abrasive [1/Pa].
    force : array_like
        Normal force F [N].
    speed : array_like
        Mean sliding speed v [m/s].
    time : array_like
        Time t in contact [s].
    life_volume : array_like
        Volume V_0 at which the coefficient has fallen to 37 % [m3].

    Returns
    -------
    array_like
        Coefficient K [1/Pa].

    Raises
    ------
    ValueError
        A life volume of zero, or a negative value.
    """
    return initial / (1 + initial * force * speed * time / life_volume)


@formula(
    "V = V_0 ln(1 + K_0 F v t/V_0)",
    units={"initial": "1/Pa", "force": "N", "speed": "m/s", "time": "s", "life_volume": "m^3"},
    returns="m^3",
    source=INTEGRATED,
    domain={
        "initial": NON_NEGATIVE,
        "force": NON_NEGATIVE,
        "speed": NON_NEGATIVE,
        "time": NON_NEGATIVE,
        "life_volume": VOLUME,
    },
)
def volume_over_time(initial: Array, force: Array, speed: Array, time: Array, life_volume: Array) -> Array:
    """Volume a dulling abrasive removes in a time at constant force and speed.

    Parameters
    ----------
    initial : array_like
        Coefficient K_0 of the fresh abrasive [1/Pa].
    force : array_like
        Normal force F [N].
    speed : array_like
        Mean sliding speed v [m/s].
    time : array_like
        Time t in contact [s].
    life_volume : array_like
        Volume V_0 at which the coefficient has fallen to 37 % [m3].

    Returns
    -------
    array_like
        Volume V [m3].

    Raises
    ------
    ValueError
        A life volume of zero, or a negative value.
    """
    return life_volume * np.log1p(initial * force * speed * time / life_volume)
