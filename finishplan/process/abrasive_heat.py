"""Heat under an abrasive: shared between swarf, grain and part, and the rise of the surface it leads to."""

from __future__ import annotations

from finishplan import physics
from finishplan.formula import Array, formula
from finishplan.process.surface_conditions import Rubbing, Thermal


@formula(
    "t = l/vf",
    units={"length": "m", "feed": "m/s"},
    returns="s",
    source="time a place is under the patch",
)
def dwell(length: Array, feed: Array) -> Array:
    """Time a place of the surface is under the patch in one pass.

    Parameters
    ----------
    length : array_like
        Length of the patch along the feed l [m].
    feed : array_like
        Feed vf [m/s].

    Returns
    -------
    array_like
        Time [s].
    """
    return length / feed


def surface_rise(thermal: Thermal, grain: Rubbing, power: Array, speed: Array, area: Array, time: Array) -> Array:
    """Rise of the surface in one pass.

    Grain is taken to come to the part cool. Under a pad that never leaves the surface it warms up, takes
    less, and the rise lies between this and that of a part that takes all but the swarf's share.

    Parameters
    ----------
    thermal : Thermal
        What takes the heat.
    grain : Rubbing
        What rubs on it.
    power : array_like
        Power of the abrasive [W].
    speed : array_like
        Speed it slides at [m/s].
    area : array_like
        Area of the contact [m2].
    time : array_like
        Time a place is under it [s].

    Returns
    -------
    array_like
        Temperature rise [K].
    """
    partition = physics.heat_partition(
        thermal.conductivity, thermal.density, thermal.specific_heat, speed, grain.conductivity, grain.contact_radius
    )
    flux = physics.contact_flux(physics.heat_share(partition, grain.carried_away), power, area)
    spread = physics.diffusivity(thermal.conductivity, thermal.density, thermal.specific_heat)
    return physics.flux_temperature_rise(flux, time, thermal.conductivity, spread)
