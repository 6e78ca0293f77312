"""Combustible dust: class of violence, ignition, and the layer that counts as a hazard.

Figures of a dust in a table stand for the sample tested. Fineness, moisture and mixture shift them
by an order of magnitude, so the plant's own dust has to be tested.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final, Literal, TypeAlias

import numpy as np

from finishplan.formula import Array, formula
from finishplan.physics.arguments import NON_NEGATIVE, POSITIVE
from finishplan.physics.sourced import FOOT, Governed, Sourced

DustClass: TypeAlias = Literal["St 0", "St 1", "St 2", "St 3"]

BAR: Final = 1e5
LAYER: Final = "NFPA 654:2013, 6.1"

BUREAU_OF_MINES: Final = "US Bureau of Mines RI 5753, 1961: indices against Pittsburgh coal dust"
"""The indices as defined; the coal figures are the ones in present use."""


@dataclass(frozen=True)
class DustClassLimit:
    """A class of explosion violence and the largest Kst that still belongs to it [Pa m/s]."""

    name: DustClass
    up_to: float


DUST_CLASSES: Final = (
    DustClassLimit("St 0", 0.0),
    DustClassLimit("St 1", 200 * BAR),
    DustClassLimit("St 2", 300 * BAR),
    DustClassLimit("St 3", float("inf")),
)
"""Classes of OSHA CPL 03-00-008, Combustible Dust National Emphasis Program: 0, 200 and 300 bar m/s."""

REPORTED_LAYER: Final = Governed(
    "dust layer that calls for an evaluation [m]",
    "lowest",
    (Sourced(0.8e-3, LAYER), Sourced(0.4e-3, "NFPA 654, TIA 06-1, or where colours underneath are not seen")),
)

EARTHING_ENERGY: Final = Sourced(30e-3, "discharge of a person, 10 to 30 mJ; no published source", "common practice")
"""Below this minimum ignition energy [J] people and tools are earthed."""

STATIC_CRITICAL_ENERGY: Final = Sourced(3e-3, "no published source", "common practice")
"""Below this minimum ignition energy [J] any static discharge may ignite the dust."""


def st_class(deflagration_index: float) -> DustClass:
    """Class of explosion violence of a dust from its Kst.

    Parameters
    ----------
    deflagration_index : float
        Kst of the dust [Pa m/s]; 1 bar m/s is 1e5 Pa m/s.

    Returns
    -------
    str
        "St 0" to "St 3"; an edge belongs to the lower class.

    Raises
    ------
    ValueError
        A negative Kst.
    """
    if not deflagration_index >= 0:
        raise ValueError(f"st_class: deflagration_index must be at least 0 [Pa m/s], given {deflagration_index:g}")
    return next(each.name for each in DUST_CLASSES if deflagration_index <= each.up_to)


@formula(
    "Kst = (dp/dt)_max V^(1/3)",
    units={"pressure_rise_rate": "Pa/s", "volume": "m^3"},
    returns="Pa m/s",
    source="cube-root law: ISO 6184-1:1985; Bartknecht, Explosions, 1981",
    domain={"pressure_rise_rate": NON_NEGATIVE, "volume": POSITIVE},
)
def deflagration_index(pressure_rise_rate: Array, volume: Array) -> Array:
    """Kst of a dust from an explosion in a closed vessel of at least 20 litres.

    Parameters
    ----------
    pressure_rise_rate : array_like
        Steepest rise of pressure (dp/dt)_max [Pa/s].
    volume : array_like
        Volume of the vessel V [m3].

    Returns
    -------
    array_like
        Deflagration index Kst [Pa m/s].

    Raises
    ------
    ValueError
        A negative rate or a volume of zero.
    """
    return pressure_rise_rate * np.cbrt(volume)


@formula(
    "t = t_0 rho_0/rho_b; t_0 = 0.8 mm at rho_0 = 1200 kg/m3",
    units={"bulk_density": "kg/m^3", "reference_thickness": "m", "reference_density": "kg/m^3"},
    returns="m",
    source=LAYER + ": layer depth criterion corrected for the bulk density",
    domain={"bulk_density": POSITIVE, "reference_thickness": NON_NEGATIVE, "reference_density": POSITIVE},
    trusted={"bulk_density": (0.0, 1200.0)},
)
def layer_criterion(
    bulk_density: Array, reference_thickness: Array = 0.8e-3, reference_density: Array = 1200.0
) -> Array:
    """Thickness from which settled dust counts as a hazard of explosion or flash fire.

    The correction is meant for dust lighter than the reference; for denser dust it asks for more.

    Parameters
    ----------
    bulk_density : array_like
        Density of the settled dust with its voids rho_b [kg/m3].
    reference_thickness : array_like
        Thickness t_0 at the reference density [m].
    reference_density : array_like
        Bulk density rho_0 it is set for [kg/m3].

    Returns
    -------
    array_like
        Thickness t [m].

    Raises
    ------
    ValueError
        A density of zero or a negative thickness.
    """
    return reference_thickness * reference_density / bulk_density


@formula(
    "A = min(0.05 A_floor, 1000 ft2)",
    units={"floor_area": "m^2", "share": "1", "largest_area": "m^2"},
    returns="m^2",
    source=LAYER + ": more than 5 % of the floor or any one area above 1000 ft2",
    domain={"floor_area": NON_NEGATIVE, "share": (0.0, 1.0), "largest_area": NON_NEGATIVE},
)
def layer_trigger_area(floor_area: Array, share: Array = 0.05, largest_area: Array = 1000 * FOOT**2) -> Array:
    """Area that may lie under a layer of the criterion's thickness before the room counts as a hazard.

    Parameters
    ----------
    floor_area : array_like
        Floor of the room; ledges and beams add to the area under dust, not to this one [m2].
    share : array_like
        Share of the floor [1].
    largest_area : array_like
        Area that counts whatever the floor [m2].

    Returns
    -------
    array_like
        Area A [m2].

    Raises
    ------
    ValueError
        A negative area or a share outside 0 to 1.
    """
    return np.minimum(share * floor_area, largest_area)


@formula(
    "IS = (T E C)_coal/(T E C); T in degrees Celsius",
    units={
        "ignition_temperature": "K",
        "ignition_energy": "J",
        "explosible_concentration": "kg/m^3",
        "coal_temperature": "K",
        "coal_energy": "J",
        "coal_concentration": "kg/m^3",
        "zero_celsius": "K",
    },
    returns="1",
    source=BUREAU_OF_MINES,
    domain={"ignition_temperature": (274.0, 3000.0), "ignition_energy": POSITIVE, "explosible_concentration": POSITIVE},
)
def ignition_sensitivity(
    ignition_temperature: Array,
    ignition_energy: Array,
    explosible_concentration: Array,
    coal_temperature: Array = 853.15,
    coal_energy: Array = 0.14,
    coal_concentration: Array = 0.043,
    zero_celsius: Array = 273.15,
) -> Array:
    """How much more readily a dust ignites than coal dust.

    Parameters
    ----------
    ignition_temperature : array_like
        Minimum ignition temperature of the cloud [K].
    ignition_energy : array_like
        Minimum ignition energy of the cloud [J].
    explosible_concentration : array_like
        Minimum explosible concentration [kg/m3].
    coal_temperature : array_like
        The same temperature for coal dust [K].
    coal_energy : array_like
        The same energy for coal dust [J].
    coal_concentration : array_like
        The same concentration for coal dust [kg/m3].
    zero_celsius : array_like
        Zero of the Celsius scale, in which the index is defined [K].

    Returns
    -------
    array_like
        Ignition sensitivity; above 1 the dust is the worse of the two [1].

    Raises
    ------
    ValueError
        A value of zero or a temperature at or below freezing.
    """
    coal = (coal_temperature - zero_celsius) * coal_energy * coal_concentration
    return coal / ((ignition_temperature - zero_celsius) * ignition_energy * explosible_concentration)


@formula(
    "ES = (p R)/(p R)_coal",
    units={"pressure": "Pa", "pressure_rise_rate": "Pa/s", "coal_pressure": "Pa", "coal_rate": "Pa/s"},
    returns="1",
    source=BUREAU_OF_MINES,
    domain={"pressure": NON_NEGATIVE, "pressure_rise_rate": NON_NEGATIVE},
)
def explosion_severity(
    pressure: Array, pressure_rise_rate: Array, coal_pressure: Array = 7.1e5, coal_rate: Array = 530e5
) -> Array:
    """How much more violently a dust explodes than coal dust in the same vessel.

    Parameters
    ----------
    pressure : array_like
        Largest explosion pressure p [Pa].
    pressure_rise_rate : array_like
        Steepest rise of pressure R [Pa/s].
    coal_pressure : array_like
        The same pressure for coal dust [Pa].
    coal_rate : array_like
        The same rise for coal dust [Pa/s].

    Returns
    -------
    array_like
        Explosion severity; above 1 the dust is the worse of the two [1].

    Raises
    ------
    ValueError
        A negative value.
    """
    return pressure * pressure_rise_rate / (coal_pressure * coal_rate)
