"""How much dust a process gives off, how thick it hangs in duct and room, and the gas wet metal dust makes."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Final

from finishplan.formula import Array, formula
from finishplan.physics.arguments import NON_NEGATIVE, POSITIVE

BALANCE: Final = "mass balance"
SHARE: Final = (0.0, 1.0)


@formula(
    "m = Q rho (1 + s)",
    units={"removal_rate": "m^3/s", "density": "kg/m^3", "abrasive_share": "1"},
    returns="kg/s",
    source=BALANCE,
    domain={"removal_rate": NON_NEGATIVE, "density": NON_NEGATIVE, "abrasive_share": NON_NEGATIVE},
)
def dust_mass_rate(removal_rate: Array, density: Array, abrasive_share: Array = 0.0) -> Array:
    """Dust made per time: what is taken off the part and what the abrasive loses with it.

    All of it counts as dust, though part falls as chips: the amount an exhaust must be ready for.

    Parameters
    ----------
    removal_rate : array_like
        Volume taken off per time Q [m3/s].
    density : array_like
        Density of the material rho [kg/m3].
    abrasive_share : array_like
        Mass of abrasive lost per mass of material taken off s [1].

    Returns
    -------
    array_like
        Dust per time m [kg/s].

    Raises
    ------
    ValueError
        A negative value.
    """
    return removal_rate * density * (1 + abrasive_share)


@formula(
    "C = m/Q",
    units={"mass_rate": "kg/s", "flow": "m^3/s"},
    returns="kg/m^3",
    source=BALANCE,
    domain={"mass_rate": NON_NEGATIVE, "flow": POSITIVE},
)
def duct_concentration(mass_rate: Array, flow: Array) -> Array:
    """Dust in the air of a duct, all of it taken in.

    Parameters
    ----------
    mass_rate : array_like
        Dust drawn in per time m [kg/s].
    flow : array_like
        Air through the duct Q [m3/s].

    Returns
    -------
    array_like
        Concentration C [kg/m3].

    Raises
    ------
    ValueError
        A negative rate or a flow of zero.
    """
    return mass_rate / flow


@formula(
    "C = m (1 - eta)/Q",
    units={"mass_rate": "kg/s", "capture": "1", "ventilation_flow": "m^3/s"},
    returns="kg/m^3",
    source="mass balance of a well mixed room in steady state",
    domain={"mass_rate": NON_NEGATIVE, "capture": SHARE, "ventilation_flow": POSITIVE},
)
def airborne_concentration(mass_rate: Array, capture: Array, ventilation_flow: Array) -> Array:
    """Dust in the air of a room from what the exhaust does not catch; a screen, not a measurement.

    Parameters
    ----------
    mass_rate : array_like
        Airborne dust made per time m [kg/s].
    capture : array_like
        Share eta the exhaust catches at its source [1].
    ventilation_flow : array_like
        Fresh air through the room Q [m3/s].

    Returns
    -------
    array_like
        Concentration C once it is steady [kg/m3].

    Raises
    ------
    ValueError
        A negative value, a share above 1 or a flow of zero.
    """
    return mass_rate * (1 - capture) / ventilation_flow


@dataclass(frozen=True)
class WaterReaction:
    """A metal that takes oxygen from water: molar mass [kg/mol] and hydrogen atoms set free per atom."""

    molar_mass: float
    valence: int
    source: str = "IUPAC standard atomic weights; stoichiometry of the oxide or hydroxide"


WATER_REACTIONS: Final[Mapping[str, WaterReaction]] = {
    "aluminium": WaterReaction(26.982e-3, 3),
    "magnesium": WaterReaction(24.305e-3, 2),
    "titanium": WaterReaction(47.867e-3, 4),
}


@formula(
    "V = (M/M_mol) (z/2) R T/p",
    units={
        "metal_mass": "kg",
        "molar_mass": "kg/mol",
        "valence": "1",
        "temperature": "K",
        "pressure": "Pa",
        "gas_constant": "J/(mol K)",
    },
    returns="m^3",
    source="stoichiometry and the ideal gas law; CODATA 2018 gas constant",
    domain={"metal_mass": NON_NEGATIVE, "molar_mass": POSITIVE, "temperature": POSITIVE, "pressure": POSITIVE},
)
def hydrogen_volume(
    metal_mass: Array,
    molar_mass: Array,
    valence: Array,
    temperature: Array = 273.15,
    pressure: Array = 101325.0,
    gas_constant: Array = 8.314462618,
) -> Array:
    """Most hydrogen that metal dust can set free in the water of a wet collector.

    Parameters
    ----------
    metal_mass : array_like
        Mass of metal M, reacted to the end [kg].
    molar_mass : array_like
        Molar mass of the metal M_mol [kg/mol].
    valence : array_like
        Hydrogen atoms z set free per atom of metal [1].
    temperature : array_like
        Temperature of the gas T [K].
    pressure : array_like
        Pressure of the gas p [Pa].
    gas_constant : array_like
        Molar gas constant R [J/(mol K)].

    Returns
    -------
    array_like
        Volume of hydrogen V [m3].

    Raises
    ------
    ValueError
        A negative mass or a zero elsewhere.
    """
    return metal_mass / molar_mass * valence / 2 * gas_constant * temperature / pressure
