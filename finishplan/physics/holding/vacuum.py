"""Suction cups: holding force, the vacuum a load asks for, and the air pressure there is to use.

A porous part leaks and never sees the vacuum of the pump; for it these figures are upper bounds.
"""

from __future__ import annotations

from finishplan.formula import Array, formula
from finishplan.physics.arguments import NON_NEGATIVE, POSITIVE

SHARE = (1e-6, 1.0)


@formula(
    "F = dp A eta",
    units={"pressure_difference": "Pa", "area": "m^2", "efficiency": "1"},
    returns="N",
    source="definition of pressure; share of it that works by common practice, no published source",
    domain={"pressure_difference": NON_NEGATIVE, "area": NON_NEGATIVE, "efficiency": SHARE},
)
def vacuum_force(pressure_difference: Array, area: Array, efficiency: Array) -> Array:
    """Force that suction presses a part to its cups with.

    Parameters
    ----------
    pressure_difference : array_like
        Vacuum dp: ambient pressure less the pressure in the cups [Pa].
    area : array_like
        Area A inside the lips of all cups together [m2].
    efficiency : array_like
        Share eta that remains after leaks and lips that give way [1].

    Returns
    -------
    array_like
        Holding force F [N].

    Raises
    ------
    ValueError
        A negative pressure or area, or a share outside 0 to 1.
    """
    return pressure_difference * area * efficiency


@formula(
    "dp = S (F_pull + F_shear/mu)/(A eta)",
    units={
        "pull": "N",
        "shear": "N",
        "safety_factor": "1",
        "friction": "1",
        "area": "m^2",
        "efficiency": "1",
    },
    returns="Pa",
    source="statics: the pull takes from the force that presses, Coulomb friction carries the shear",
    domain={
        "pull": NON_NEGATIVE,
        "shear": NON_NEGATIVE,
        "safety_factor": POSITIVE,
        "friction": POSITIVE,
        "area": POSITIVE,
        "efficiency": SHARE,
    },
)
def required_vacuum(
    pull: Array, shear: Array, safety_factor: Array, friction: Array, area: Array, efficiency: Array
) -> Array:
    """Vacuum that holds a pull and a shear at the same time.

    Parameters
    ----------
    pull : array_like
        Load F_pull away from the cups [N].
    shear : array_like
        Load F_shear along the cups [N].
    safety_factor : array_like
        Factor S on both loads [1].
    friction : array_like
        Coefficient of friction mu between lips and part; oil takes most of it [1].
    area : array_like
        Area A inside the lips of all cups together [m2].
    efficiency : array_like
        Share eta that remains after leaks and lips that give way [1].

    Returns
    -------
    array_like
        Pressure difference dp; beyond `ambient_pressure` no pump can give it [Pa].

    Raises
    ------
    ValueError
        No area, no friction, no factor of safety, a share outside 0 to 1, or a negative load.
    """
    return safety_factor * (pull + shear / friction) / (area * efficiency)


@formula(
    "p = p_0 (1 - h/H)^5.25588; H = 288.15 K/(6.5 K/km)",
    units={"altitude": "m", "sea_level_pressure": "Pa", "height": "m", "exponent": "1"},
    returns="Pa",
    source="ISO 2533:1975, standard atmosphere up to 11 km",
    domain={"altitude": (-2000.0, 11000.0)},
)
def ambient_pressure(
    altitude: Array,
    sea_level_pressure: Array = 101325.0,
    height: Array = 288.15 / 0.0065,
    exponent: Array = 5.25588,
) -> Array:
    """Air pressure at an altitude, which no vacuum can exceed.

    Parameters
    ----------
    altitude : array_like
        Altitude h of the workshop [m].
    sea_level_pressure : array_like
        Pressure p_0 at sea level [Pa].
    height : array_like
        Height H at which the falling temperature would reach zero [m].
    exponent : array_like
        Gravity over gas constant and fall of temperature, g/(R L) [1].

    Returns
    -------
    array_like
        Ambient pressure p [Pa].

    Raises
    ------
    ValueError
        An altitude outside -2 to 11 km.
    """
    return sea_level_pressure * (1 - altitude / height) ** exponent
