"""Where the heat of friction goes: into grain and part, over the contact, and through a thin sheet."""

from __future__ import annotations

from typing import Final

import numpy as np

from finishplan.formula import Array, formula
from finishplan.physics.arguments import NON_NEGATIVE, POSITIVE

SHARE: Final = (0.0, 1.0)


@formula(
    "alpha = k/(rho c)",
    units={"conductivity": "W/(m K)", "density": "kg/m^3", "specific_heat": "J/(kg K)"},
    returns="m^2/s",
    source="Carslaw and Jaeger, Conduction of Heat in Solids, 2nd ed. 1959, section 1.6",
    domain={"conductivity": POSITIVE, "density": POSITIVE, "specific_heat": POSITIVE},
)
def diffusivity(conductivity: Array, density: Array, specific_heat: Array) -> Array:
    """Thermal diffusivity of a material.

    Parameters
    ----------
    conductivity : array_like
        Thermal conductivity k [W/(m K)].
    density : array_like
        Density rho [kg/m3].
    specific_heat : array_like
        Specific heat c [J/(kg K)].

    Returns
    -------
    array_like
        Diffusivity alpha [m2/s].

    Raises
    ------
    ValueError
        A value of zero.
    """
    return conductivity / (density * specific_heat)


@formula(
    "R = 1/(1 + k_g/sqrt(k rho c r_0 v))",
    units={
        "conductivity": "W/(m K)",
        "density": "kg/m^3",
        "specific_heat": "J/(kg K)",
        "speed": "m/s",
        "grain_conductivity": "W/(m K)",
        "grain_radius": "m",
    },
    returns="1",
    source="Hahn's grain model: Rowe, Principles of Modern Grinding Technology, chapter on temperatures",
    domain={
        "conductivity": POSITIVE,
        "density": POSITIVE,
        "specific_heat": POSITIVE,
        "speed": POSITIVE,
        "grain_conductivity": NON_NEGATIVE,
        "grain_radius": POSITIVE,
    },
)
def heat_partition(
    conductivity: Array,
    density: Array,
    specific_heat: Array,
    speed: Array,
    grain_conductivity: Array,
    grain_radius: Array,
) -> Array:
    """Share of the heat between grain and part that enters the part, dry.

    Parameters
    ----------
    conductivity : array_like
        Thermal conductivity k of the part [W/(m K)].
    density : array_like
        Density rho of the part [kg/m3].
    specific_heat : array_like
        Specific heat c of the part [J/(kg K)].
    speed : array_like
        Sliding speed v of the grains [m/s].
    grain_conductivity : array_like
        Thermal conductivity k_g of the grain [W/(m K)].
    grain_radius : array_like
        Radius r_0 of the grain's contact [m].

    Returns
    -------
    array_like
        Share R [1].

    Raises
    ------
    ValueError
        A speed, radius or property of the part of zero, or a negative conductivity.
    """
    into_part = np.sqrt(conductivity * density * specific_heat * grain_radius * speed)
    return 1 / (1 + grain_conductivity / into_part)


@formula(
    "R = (1 - c) R_g",
    units={"partition": "1", "carried_away": "1"},
    returns="1",
    source="energy balance: what swarf and air do not carry away is shared between grain and part",
    domain={"partition": SHARE, "carried_away": SHARE},
)
def heat_share(partition: Array, carried_away: Array) -> Array:
    """Share of all the heat of an abrasive that enters the part.

    Parameters
    ----------
    partition : array_like
        Share of the heat between grain and part that enters the part R_g [1].
    carried_away : array_like
        Share of all the heat that leaves with swarf and air c [1].

    Returns
    -------
    array_like
        Share R [1].

    Raises
    ------
    ValueError
        A share outside 0 to 1.
    """
    return (1 - carried_away) * partition


@formula(
    "q = R P/A",
    units={"heat_share": "1", "power": "W", "area": "m^2"},
    returns="W/m^2",
    source="definition of heat flux; all friction work turns into heat",
    domain={"heat_share": SHARE, "power": NON_NEGATIVE, "area": POSITIVE},
)
def contact_flux(heat_share: Array, power: Array, area: Array) -> Array:
    """Mean heat flux into the part under the tool.

    Parameters
    ----------
    heat_share : array_like
        Share R of the heat that enters the part [1].
    power : array_like
        Friction power P [W].
    area : array_like
        Contact area A [m2].

    Returns
    -------
    array_like
        Flux q [W/m2].

    Raises
    ------
    ValueError
        A share outside 0 to 1, a negative power, or no area.
    """
    return heat_share * power / area


@formula(
    "dT = R P t/(m c)",
    units={"heat_share": "1", "power": "W", "time": "s", "mass": "kg", "specific_heat": "J/(kg K)"},
    returns="K",
    source="calorimetry: heat = mass x specific heat x temperature rise",
    domain={
        "heat_share": SHARE,
        "power": NON_NEGATIVE,
        "time": NON_NEGATIVE,
        "mass": POSITIVE,
        "specific_heat": POSITIVE,
    },
)
def bulk_temperature_rise(heat_share: Array, power: Array, time: Array, mass: Array, specific_heat: Array) -> Array:
    """Mean rise of a thin sheet that keeps all heat it gets.

    Parameters
    ----------
    heat_share : array_like
        Share R of the heat that enters the part [1].
    power : array_like
        Friction power P [W].
    time : array_like
        Time t in contact [s].
    mass : array_like
        Mass m of the sheet that shares the heat [kg].
    specific_heat : array_like
        Specific heat c [J/(kg K)].

    Returns
    -------
    array_like
        Temperature rise dT [K].

    Raises
    ------
    ValueError
        A share outside 0 to 1, a mass or specific heat of zero, or a negative value.
    """
    return heat_share * power * time / (mass * specific_heat)
