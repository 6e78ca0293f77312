"""Ducts: diameter for a flow, velocities that keep the dust moving, pressures."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Final

import numpy as np

from finishplan.formula import Array, formula
from finishplan.physics.arguments import NON_NEGATIVE, POSITIVE
from finishplan.physics.sourced import FOOT_PER_MINUTE, Governed, Grade, Sourced

CONTINUITY: Final = "continuity in a round duct"
RECOMMENDED: Final = "29 CFR 1910.94(b)(3)"


@dataclass(frozen=True)
class DuctVelocity:
    """Air speed that carries a kind of dust along a duct without settling [m/s]."""

    dust: str
    low: float
    high: float
    source: str = "ACGIH, Industrial Ventilation, table of minimum duct design velocities"
    grade: Grade = "published"


DUCT_VELOCITIES: Final[Mapping[str, DuctVelocity]] = {
    name: DuctVelocity(dust, low * FOOT_PER_MINUTE, high * FOOT_PER_MINUTE)
    for name, dust, low, high in (
        ("fume", "fumes", 2000, 2500),
        ("very fine", "very fine light dust: wood flour", 2500, 3000),
        ("dry", "dry dusts and powders", 3000, 4000),
        ("average", "average industrial dust: grinding dust, dry buffing lint", 3500, 4000),
        ("heavy", "heavy dust: metal turnings, wet sawdust, lead, brass", 4000, 4500),
        ("heavy moist", "heavy or moist dust: sticky buffing lint", 4500, 4500),
    )
}
"""Transport velocities by kind of dust; the lower figure is the least."""

BRANCH_VELOCITY: Final = Sourced(4500 * FOOT_PER_MINUTE, RECOMMENDED + ", recommended velocity in branch pipes")
MAIN_VELOCITY: Final = Sourced(3500 * FOOT_PER_MINUTE, RECOMMENDED + ", recommended velocity in mains")

LIGHT_METAL_VELOCITY: Final = Governed(
    "air speed in ducts for aluminium dust [m/s]",
    "highest",
    (BRANCH_VELOCITY, Sourced(20.0, "DGUV Regel 109-001, February 2008, 4.3.3.2")),
)

HOOD_ENTRY_LOSSES: Final[Mapping[str, Sourced]] = {
    "straight": Sourced(0.65, RECOMMENDED + ", straight take-off"),
    "tapered": Sourced(0.45, RECOMMENDED + ", tapered take-off"),
}
"""Entry loss of a wheel hood in velocity pressures [1], by its take-off."""


@formula(
    "d = sqrt(4 Q/(pi V))",
    units={"flow": "m^3/s", "velocity": "m/s"},
    returns="m",
    source=CONTINUITY,
    domain={"flow": NON_NEGATIVE, "velocity": POSITIVE},
)
def duct_diameter(flow: Array, velocity: Array) -> Array:
    """Diameter at which a flow runs at a velocity; the next smaller duct keeps the dust moving.

    Parameters
    ----------
    flow : array_like
        Flow Q [m3/s].
    velocity : array_like
        Air speed V [m/s].

    Returns
    -------
    array_like
        Inner diameter d [m].

    Raises
    ------
    ValueError
        A negative flow or a velocity of zero.
    """
    return np.sqrt(4 * flow / (np.pi * velocity))


@formula(
    "V = 4 Q/(pi d^2)",
    units={"flow": "m^3/s", "diameter": "m"},
    returns="m/s",
    source=CONTINUITY,
    domain={"flow": NON_NEGATIVE, "diameter": POSITIVE},
)
def duct_velocity(flow: Array, diameter: Array) -> Array:
    """Air speed in a duct that is there.

    Parameters
    ----------
    flow : array_like
        Flow Q [m3/s].
    diameter : array_like
        Inner diameter d [m].

    Returns
    -------
    array_like
        Air speed V [m/s].

    Raises
    ------
    ValueError
        A negative flow or a diameter of zero.
    """
    return 4 * flow / (np.pi * diameter**2)


@formula(
    "p_v = rho V^2/2",
    units={"velocity": "m/s", "density": "kg/m^3"},
    returns="Pa",
    source="Bernoulli's equation; dry air of 20 degC at 101 325 Pa",
    domain={"velocity": NON_NEGATIVE, "density": POSITIVE},
)
def velocity_pressure(velocity: Array, density: Array = 1.204) -> Array:
    """Dynamic pressure of the air in a duct.

    Parameters
    ----------
    velocity : array_like
        Air speed V [m/s].
    density : array_like
        Density of the air rho [kg/m3].

    Returns
    -------
    array_like
        Velocity pressure p_v [Pa].

    Raises
    ------
    ValueError
        A negative velocity or a density of zero.
    """
    return density * velocity**2 / 2


@formula(
    "p_h = p_v (1 + F)",
    units={"velocity_pressure": "Pa", "entry_loss": "1"},
    returns="Pa",
    source="Bernoulli's equation with the loss of the entry: ACGIH, Industrial Ventilation, chapter on hoods",
    domain={"velocity_pressure": NON_NEGATIVE, "entry_loss": NON_NEGATIVE},
)
def hood_static_pressure(velocity_pressure: Array, entry_loss: Array) -> Array:
    """Suction behind a hood: what a gauge at the take-off should show.

    Parameters
    ----------
    velocity_pressure : array_like
        Velocity pressure p_v in the branch [Pa].
    entry_loss : array_like
        Loss of the entry F, in velocity pressures [1].

    Returns
    -------
    array_like
        Static pressure below ambient p_h [Pa].

    Raises
    ------
    ValueError
        A negative value.
    """
    return velocity_pressure * (1 + entry_loss)
