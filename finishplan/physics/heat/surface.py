"""Heat at the surface under a moving tool: a spot heated for a time and a band that moves along.

All rises are over the temperature before, in kelvin; losses to the air are left out.
"""

from __future__ import annotations

from functools import cache
from typing import Final

import numpy as np

from finishplan.formula import Array, formula
from finishplan.physics.arguments import NON_NEGATIVE, POSITIVE

HALF_SPACE: Final = "Carslaw and Jaeger, Conduction of Heat in Solids, 2nd ed. 1959, section 2.9, constant flux"
MOVING_BAND: Final = "Jaeger, J. Proc. R. Soc. N.S.W. 76 (1942) 203-224; Carslaw and Jaeger, 2nd ed. 1959, section 10.7"


@formula(
    "dT = (2 q/k) sqrt(alpha t/pi)",
    units={"flux": "W/m^2", "time": "s", "conductivity": "W/(m K)", "diffusivity": "m^2/s"},
    returns="K",
    source=HALF_SPACE,
    domain={"flux": NON_NEGATIVE, "time": NON_NEGATIVE, "conductivity": POSITIVE, "diffusivity": POSITIVE},
)
def flux_temperature_rise(flux: Array, time: Array, conductivity: Array, diffusivity: Array) -> Array:
    """Rise of the surface of a thick body heated evenly for a time.

    Parameters
    ----------
    flux : array_like
        Heat flux q into the surface [W/m2].
    time : array_like
        Time t under the flux [s].
    conductivity : array_like
        Thermal conductivity k [W/(m K)].
    diffusivity : array_like
        Thermal diffusivity alpha [m2/s].

    Returns
    -------
    array_like
        Temperature rise dT [K].

    Raises
    ------
    ValueError
        A conductivity or diffusivity of zero, or a negative value.
    """
    return 2 * flux / conductivity * np.sqrt(diffusivity * time / np.pi)


@formula(
    "Pe = vf l/(4 alpha)",
    units={"feed": "m/s", "length": "m", "diffusivity": "m^2/s"},
    returns="1",
    source=MOVING_BAND,
    domain={"feed": NON_NEGATIVE, "length": POSITIVE, "diffusivity": POSITIVE},
)
def peclet_number(feed: Array, length: Array, diffusivity: Array) -> Array:
    """How fast a heated band moves against how fast its heat spreads.

    Parameters
    ----------
    feed : array_like
        Speed vf of the band over the part [m/s].
    length : array_like
        Length l of the band along its motion [m].
    diffusivity : array_like
        Thermal diffusivity alpha [m2/s].

    Returns
    -------
    array_like
        Peclet number Pe, taken on half the length as Jaeger does [1].

    Raises
    ------
    ValueError
        A length or diffusivity of zero, or a negative feed.
    """
    return feed * length / (4 * diffusivity)


@formula(
    "dT = (2 q/k) sqrt(alpha l/(pi vf))",
    units={"flux": "W/m^2", "length": "m", "feed": "m/s", "conductivity": "W/(m K)", "diffusivity": "m^2/s"},
    returns="K",
    source=HALF_SPACE + ", for the time a point dwells under the band",
    domain={
        "flux": NON_NEGATIVE,
        "length": NON_NEGATIVE,
        "feed": POSITIVE,
        "conductivity": POSITIVE,
        "diffusivity": POSITIVE,
    },
)
def moving_band_temperature_rise(
    flux: Array, length: Array, feed: Array, conductivity: Array, diffusivity: Array
) -> Array:
    """Highest rise under a fast heated band, at its trailing end.

    Holds within a twentieth from a Peclet number of 4 on and gives too much below it, where
    `jaeger_band_temperature_rise` holds.

    Parameters
    ----------
    flux : array_like
        Heat flux q into the part [W/m2].
    length : array_like
        Length l of the band along its motion [m].
    feed : array_like
        Speed vf of the band over the part [m/s].
    conductivity : array_like
        Thermal conductivity k [W/(m K)].
    diffusivity : array_like
        Thermal diffusivity alpha [m2/s].

    Returns
    -------
    array_like
        Temperature rise dT [K].

    Raises
    ------
    ValueError
        A feed, conductivity or diffusivity of zero, or a negative value.
    """
    return flux_temperature_rise(flux, length / feed, conductivity, diffusivity)


def _band_integral(peclet: Array) -> Array:
    """Integral of exp(-u) K0(|u|) over the stretch of length 2 Pe that makes it greatest.

    The stretch runs from -n to p with equal values of the integrand at both ends, and the integral of
    exp(+-z) K0(z) is z exp(+-z) (K0(z) +- K1(z)).
    """
    from scipy.optimize.elementwise import find_root  # slow to import, and only moving bands need it
    from scipy.special import k0, k0e, k1e

    def imbalance(ahead: Array, half: Array) -> Array:
        return k0e(2 * half - ahead) - np.exp(-ahead) * k0(ahead)

    least = np.finfo(float).tiny
    ahead = find_root(imbalance, (least, peclet), args=(peclet,)).x
    behind = 2 * peclet - ahead
    trailing = behind * (k0e(behind) + k1e(behind)) - 1
    leading = ahead * np.exp(-2 * ahead) * (k0e(ahead) - k1e(ahead)) + 1
    return trailing + leading


@formula(
    "dT = (2 q alpha/(pi k vf)) max over x of the integral of exp(-u) K0(|u|) du from x - Pe to x + Pe;"
    " Pe = vf l/(4 alpha)",
    units={"flux": "W/m^2", "length": "m", "feed": "m/s", "conductivity": "W/(m K)", "diffusivity": "m^2/s"},
    returns="K",
    source=MOVING_BAND,
    domain={
        "flux": NON_NEGATIVE,
        "length": POSITIVE,
        "feed": POSITIVE,
        "conductivity": POSITIVE,
        "diffusivity": POSITIVE,
    },
)
def jaeger_band_temperature_rise(
    flux: Array, length: Array, feed: Array, conductivity: Array, diffusivity: Array
) -> Array:
    """Highest rise under a heated band that is wide across its motion, at any Peclet number.

    Parameters
    ----------
    flux : array_like
        Heat flux q into the part [W/m2].
    length : array_like
        Length l of the band along its motion [m].
    feed : array_like
        Speed vf of the band over the part [m/s].
    conductivity : array_like
        Thermal conductivity k [W/(m K)].
    diffusivity : array_like
        Thermal diffusivity alpha [m2/s].

    Returns
    -------
    array_like
        Temperature rise dT once it is steady [K].

    Raises
    ------
    ValueError
        A length, feed, conductivity or diffusivity of zero, or a negative flux.
    """
    peclet = np.asarray(peclet_number(feed, length, diffusivity), dtype=float)
    return 2 * flux * diffusivity / (np.pi * conductivity * feed) * _band_integral(peclet)


@cache
def _band_table() -> tuple[Array, Array]:
    """Logarithm of the Peclet number, and Jaeger's rise over that of a fast band."""
    peclet = np.geomspace(1e-3, 1e3, 600)
    return np.log(peclet), _band_integral(peclet) / (2 * np.sqrt(np.pi * peclet))


@formula(
    "dT = C(Pe) (2 q/k) sqrt(alpha l/(pi vf)); C Jaeger's rise over that of a fast band; Pe = vf l/(4 alpha)",
    units={"flux": "W/m^2", "length": "m", "feed": "m/s", "conductivity": "W/(m K)", "diffusivity": "m^2/s"},
    returns="K",
    source=MOVING_BAND,
    domain={
        "flux": NON_NEGATIVE,
        "length": POSITIVE,
        "feed": POSITIVE,
        "conductivity": POSITIVE,
        "diffusivity": POSITIVE,
    },
)
def band_temperature_rise(flux: Array, length: Array, feed: Array, conductivity: Array, diffusivity: Array) -> Array:
    """`jaeger_band_temperature_rise` out of a table, for many points at once.

    Within a thousandth from a Peclet number of 0.001 on; below it gives too much.

    Parameters
    ----------
    flux : array_like
        Heat flux q into the part [W/m2].
    length : array_like
        Length l of the band along its motion [m].
    feed : array_like
        Speed vf of the band over the part [m/s].
    conductivity : array_like
        Thermal conductivity k [W/(m K)].
    diffusivity : array_like
        Thermal diffusivity alpha [m2/s].

    Returns
    -------
    array_like
        Temperature rise dT once it is steady [K].

    Raises
    ------
    ValueError
        A length, feed, conductivity or diffusivity of zero, or a negative flux.
    """
    share = np.interp(np.log(peclet_number(feed, length, diffusivity)), *_band_table())
    return share * moving_band_temperature_rise(flux, length, feed, conductivity, diffusivity)
