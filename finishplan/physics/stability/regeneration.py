"""Regenerative chatter: an edge that cuts the waves it left one pass before."""

from __future__ import annotations

import numpy as np

from finishplan.formula import Array, formula
from finishplan.physics.arguments import NON_NEGATIVE, POSITIVE

DAMPING = (1e-6, 0.99)


@formula(
    "G = 1/(k (1 - r^2 + 2 i zeta r)); r = f/f_n",
    units={"frequency": "1/s", "stiffness": "N/m", "natural_frequency": "1/s", "damping_ratio": "1"},
    returns="m/N",
    source="equation of motion of a damped, sprung mass under a harmonic force",
    domain={
        "frequency": NON_NEGATIVE,
        "stiffness": POSITIVE,
        "natural_frequency": POSITIVE,
        "damping_ratio": DAMPING,
    },
)
def receptance(frequency: Array, stiffness: Array, natural_frequency: Array, damping_ratio: Array) -> Array:
    """Deflection per force of one mode, over frequency. The receptances of several modes add.

    Parameters
    ----------
    frequency : array_like
        Frequency f of the force [1/s].
    stiffness : array_like
        Modal stiffness k at the tool [N/m].
    natural_frequency : array_like
        Natural frequency f_n of the mode [1/s].
    damping_ratio : array_like
        Damping ratio zeta of the mode [1].

    Returns
    -------
    array_like of complex
        Receptance G; its imaginary part is how far the deflection lags [m/N].

    Raises
    ------
    ValueError
        A stiffness, natural frequency or damping of zero, or a negative value.
    """
    share = frequency / natural_frequency
    return 1 / (stiffness * (1 - share * share + 2j * damping_ratio * share))


@formula(
    "b = 2 k zeta (1 + zeta)/(Ks cos^2(theta))",
    units={"stiffness": "N/m", "damping_ratio": "1", "specific_force": "Pa", "orientation": "rad"},
    returns="m",
    source="Altintas, Manufacturing Automation, 2nd ed. 2012, chatter of an orthogonal cut: b = -1/(2 Ks min Re G)",
    domain={"stiffness": POSITIVE, "damping_ratio": DAMPING, "specific_force": POSITIVE},
)
def regenerative_depth_limit(
    stiffness: Array, damping_ratio: Array, specific_force: Array, orientation: Array = 0.0
) -> Array:
    """Width of cut below which one mode does not chatter at any speed, one edge always in the cut.

    The real part of the receptance is lowest at f_n sqrt(1 + 2 zeta), with -1/(4 k zeta (1 + zeta)).
    A mode that swings askew of the chip thickness takes the cosine of the force and gives the cosine
    of its travel, hence cos^2.

    Parameters
    ----------
    stiffness : array_like
        Modal stiffness k at the tool [N/m].
    damping_ratio : array_like
        Damping ratio zeta of the mode [1].
    specific_force : array_like
        Force per chip section Ks along the chip thickness [Pa].
    orientation : array_like
        Angle theta between the mode and the chip thickness; from 90 degrees on without effect [rad].

    Returns
    -------
    array_like
        Limit of the chip width b, measured along the edge [m].

    Raises
    ------
    ValueError
        A stiffness, damping or specific force of zero, or a damping ratio of 1 and more.
    """
    return 2 * stiffness * damping_ratio * (1 + damping_ratio) / (specific_force * np.cos(orientation) ** 2)


@formula(
    "b = max(0, k ((f_t/(2 f_n))^2 - 1)/(2 Ks))",
    units={"stiffness": "N/m", "natural_frequency": "1/s", "tooth_frequency": "1/s", "specific_force": "Pa"},
    returns="m",
    source="lower bound from the lobes of an orthogonal cut, Altintas, Manufacturing Automation, 2nd ed. 2012",
    domain={
        "stiffness": POSITIVE,
        "natural_frequency": POSITIVE,
        "tooth_frequency": NON_NEGATIVE,
        "specific_force": POSITIVE,
    },
)
def fast_tooth_depth_limit(
    stiffness: Array, natural_frequency: Array, tooth_frequency: Array, specific_force: Array
) -> Array:
    """Width of cut below which a slow mode does not chatter while the teeth pass fast.

    At chatter the wave lags the one before by half a period at least, so the chatter frequency f_c is
    half the tooth frequency or more on every lobe. There b = -1/(2 Ks Re G) exceeds
    k ((f_c/f_n)^2 - 1)/(2 Ks) whatever the damping, which leaves a lower bound of the limit.

    Parameters
    ----------
    stiffness : array_like
        Modal stiffness k at the tool [N/m].
    natural_frequency : array_like
        Natural frequency f_n of the mode [1/s].
    tooth_frequency : array_like
        Frequency f_t at which teeth pass [1/s].
    specific_force : array_like
        Force per chip section Ks along the chip thickness [Pa].

    Returns
    -------
    array_like
        Lower bound of the limit of the chip width b; 0 up to twice the natural frequency [m].

    Raises
    ------
    ValueError
        A stiffness, natural frequency or specific force of zero, or a negative tooth frequency.
    """
    beyond = (tooth_frequency / (2 * natural_frequency)) ** 2 - 1
    # (x + |x|)/2 is x above zero and 0 below
    return stiffness * (beyond + np.abs(beyond)) / (4 * specific_force)
