"""Life of an abrasive: when to change it, what it finishes until then, and settings that make up for wear.

Two descriptions are in use: the rate falls with the volume removed (life volume V_0, see
`finishplan.physics.abrasion`), or it falls in time towards a steady value, a + b exp(-c t).
"""

from __future__ import annotations

from typing import Final

import numpy as np

from finishplan.formula import Array, formula
from finishplan.physics.abrasion.dulling import INTEGRATED, VOLUME
from finishplan.physics.abrasion.removal import COEFFICIENT
from finishplan.physics.arguments import NON_NEGATIVE, POSITIVE

FRACTION: Final = (1e-6, 1.0)
CONSTANT_REMOVAL: Final = "inverse of the first-order loss of the rate: common practice, no published source"
DECAYING: Final = "BioResources 11(2) 2016, 5242-5254: rate of wood sanding belts fitted with a + b exp(-c t)"


@formula(
    "V = -V_0 ln(f)",
    units={"life_volume": "m^3", "rate_fraction": "1"},
    returns="m^3",
    source=INTEGRATED,
    domain={"life_volume": NON_NEGATIVE, "rate_fraction": FRACTION},
)
def change_volume(life_volume: Array, rate_fraction: Array = 0.5) -> Array:
    """Volume an abrasive removes until its rate has fallen to a fraction of the fresh one.

    Parameters
    ----------
    life_volume : array_like
        Volume V_0 at which the rate has fallen to 37 % [m3].
    rate_fraction : array_like
        Fraction f at which the abrasive is changed, half by default [1].

    Returns
    -------
    array_like
        Volume V [m3].

    Raises
    ------
    ValueError
        A negative life volume, or a fraction outside 0 to 1.
    """
    return -life_volume * np.log(rate_fraction)


@formula(
    "t = (V_0/(K_0 F v)) (1/f - 1)",
    units={"initial": "1/Pa", "force": "N", "speed": "m/s", "life_volume": "m^3", "rate_fraction": "1"},
    returns="s",
    source=INTEGRATED,
    domain={
        "initial": COEFFICIENT,
        "force": POSITIVE,
        "speed": POSITIVE,
        "life_volume": VOLUME,
        "rate_fraction": FRACTION,
    },
)
def change_interval(
    initial: Array, force: Array, speed: Array, life_volume: Array, rate_fraction: Array = 0.5
) -> Array:
    """Time in contact until the rate has fallen to a fraction, at constant force and speed.

    Parameters
    ----------
    initial : array_like
        Preston coefficient K_0 of the fresh abrasive [1/Pa].
    force : array_like
        Normal force F [N].
    speed : array_like
        Mean sliding speed v [m/s].
    life_volume : array_like
        Volume V_0 at which the rate has fallen to 37 % [m3].
    rate_fraction : array_like
        Fraction f at which the abrasive is changed, half by default [1].

    Returns
    -------
    array_like
        Time t in contact [s].

    Raises
    ------
    ValueError
        A coefficient, force, speed or life volume of zero, or a fraction outside 0 to 1.
    """
    return life_volume / (initial * force * speed) * (1 / rate_fraction - 1)


@formula(
    "n = V/V_p",
    units={"volume": "m^3", "part_volume": "m^3"},
    returns="1",
    source="volume balance",
    domain={"volume": NON_NEGATIVE, "part_volume": VOLUME},
)
def parts_per_abrasive(volume: Array, part_volume: Array) -> Array:
    """Parts one abrasive finishes before it is changed; round down for whole parts.

    Parameters
    ----------
    volume : array_like
        Volume V it removes until it is changed [m3].
    part_volume : array_like
        Volume V_p removed from each part [m3].

    Returns
    -------
    array_like
        Number of parts n, fractions included [1].

    Raises
    ------
    ValueError
        A part volume of zero, or a negative volume.
    """
    return volume / part_volume


@formula(
    "F = F_0 exp(V/V_0)",
    units={"force": "N", "volume": "m^3", "life_volume": "m^3"},
    returns="N",
    source=CONSTANT_REMOVAL,
    domain={"force": NON_NEGATIVE, "volume": NON_NEGATIVE, "life_volume": VOLUME},
)
def compensating_force(force: Array, volume: Array, life_volume: Array) -> Array:
    """Force that keeps the removal of a dulling abrasive what it was when fresh.

    Parameters
    ----------
    force : array_like
        Force F_0 with the fresh abrasive [N].
    volume : array_like
        Volume V removed so far [m3].
    life_volume : array_like
        Volume V_0 at which the rate has fallen to 37 % [m3].

    Returns
    -------
    array_like
        Force F [N].

    Raises
    ------
    ValueError
        A life volume of zero, or a negative value.
    """
    return force * np.exp(volume / life_volume)


@formula(
    "vf = vf_0 exp(-V/V_0)",
    units={"feed": "m/s", "volume": "m^3", "life_volume": "m^3"},
    returns="m/s",
    source=CONSTANT_REMOVAL,
    domain={"feed": NON_NEGATIVE, "volume": NON_NEGATIVE, "life_volume": VOLUME},
)
def compensating_feed(feed: Array, volume: Array, life_volume: Array) -> Array:
    """Feed that keeps the depth per pass of a dulling abrasive what it was when fresh.

    Parameters
    ----------
    feed : array_like
        Feed vf_0 with the fresh abrasive [m/s].
    volume : array_like
        Volume V removed so far [m3].
    life_volume : array_like
        Volume V_0 at which the rate has fallen to 37 % [m3].

    Returns
    -------
    array_like
        Feed vf [m/s].

    Raises
    ------
    ValueError
        A life volume of zero, or a negative value.
    """
    return feed * np.exp(-volume / life_volume)


@formula(
    "Q = a + b exp(-c t)",
    units={"steady_rate": "m^3/s", "extra_rate": "m^3/s", "decay": "1/s", "time": "s"},
    returns="m^3/s",
    source=DECAYING,
    domain={"steady_rate": NON_NEGATIVE, "extra_rate": NON_NEGATIVE, "decay": NON_NEGATIVE, "time": NON_NEGATIVE},
)
def decaying_rate(steady_rate: Array, extra_rate: Array, decay: Array, time: Array) -> Array:
    """Removal rate that falls in time towards a steady value.

    Parameters
    ----------
    steady_rate : array_like
        Rate a of the worn abrasive [m3/s].
    extra_rate : array_like
        What the fresh abrasive removes beyond it b [m3/s].
    decay : array_like
        Decay constant c [1/s].
    time : array_like
        Time t in contact [s].

    Returns
    -------
    array_like
        Removal rate Q [m3/s].

    Raises
    ------
    ValueError
        A negative value.
    """
    return steady_rate + extra_rate * np.exp(-decay * time)


@formula(
    "V = a t + (b/c)(1 - exp(-c t))",
    units={"steady_rate": "m^3/s", "extra_rate": "m^3/s", "decay": "1/s", "time": "s"},
    returns="m^3",
    source="integral of the rate: " + DECAYING,
    domain={"steady_rate": NON_NEGATIVE, "extra_rate": NON_NEGATIVE, "decay": POSITIVE, "time": NON_NEGATIVE},
)
def decaying_rate_volume(steady_rate: Array, extra_rate: Array, decay: Array, time: Array) -> Array:
    """Volume removed in a time at a rate that falls towards a steady value.

    Parameters
    ----------
    steady_rate : array_like
        Rate a of the worn abrasive [m3/s].
    extra_rate : array_like
        What the fresh abrasive removes beyond it b [m3/s].
    decay : array_like
        Decay constant c [1/s].
    time : array_like
        Time t in contact [s].

    Returns
    -------
    array_like
        Volume V [m3].

    Raises
    ------
    ValueError
        A decay constant of zero, or a negative value.
    """
    return steady_rate * time - extra_rate / decay * np.expm1(-decay * time)


@formula(
    "t = -ln((f (a + b) - a)/b)/c",
    units={"steady_rate": "m^3/s", "extra_rate": "m^3/s", "decay": "1/s", "rate_fraction": "1"},
    returns="s",
    source="inverse of the rate: " + DECAYING,
    domain={"steady_rate": NON_NEGATIVE, "extra_rate": VOLUME, "decay": POSITIVE, "rate_fraction": FRACTION},
)
def decaying_rate_interval(steady_rate: Array, extra_rate: Array, decay: Array, rate_fraction: Array = 0.5) -> Array:
    """Time in contact until a rate that falls towards a steady value has come to a fraction.

    Parameters
    ----------
    steady_rate : array_like
        Rate a of the worn abrasive [m3/s].
    extra_rate : array_like
        What the fresh abrasive removes beyond it b [m3/s].
    decay : array_like
        Decay constant c [1/s].
    rate_fraction : array_like
        Fraction f of the fresh rate at which the abrasive is changed, half by default [1].

    Returns
    -------
    array_like
        Time t in contact; infinite where the rate never falls so far [s].

    Raises
    ------
    ValueError
        An extra rate or decay constant of zero, a fraction outside 0 to 1, or a negative value.
    """
    share_left = (rate_fraction * (steady_rate + extra_rate) - steady_rate) / extra_rate
    with np.errstate(divide="ignore"):
        return -np.log(np.maximum(share_left, 0.0)) / decay
