"""Suction against the standard atmosphere and the constants of physics."""

from __future__ import annotations

import numpy as np
import pytest
from scipy import constants
from scipy.integrate import solve_ivp

from finishplan.physics import ambient_pressure, required_vacuum, vacuum_force


@pytest.mark.parametrize(
    ("altitude", "pressure"),
    [
        pytest.param(0.0, 101325.0, id="sea level"),
        pytest.param(500.0, 95460.84, id="500 m"),
        pytest.param(1000.0, 89874.57, id="1000 m"),
        pytest.param(2000.0, 79495.22, id="2000 m"),
        pytest.param(3000.0, 70108.54, id="3000 m"),
        pytest.param(5000.0, 54019.91, id="5000 m"),
    ],
)
def test_standard_atmosphere(altitude: float, pressure: float) -> None:
    """ISO 2533:1975, the same as the U.S. Standard Atmosphere 1976 below 11 km, geopotential altitude.

    Origin: recomputed by a second party, a general-purpose library of fluid mechanics.
    """
    # the exponent is rounded to six digits
    assert ambient_pressure(altitude) == pytest.approx(pressure, rel=1e-6)


def test_column_of_air() -> None:
    """dp/dh = -p g/(R T) integrated by scipy, with T falling 6.5 K/km from 15 degrees C. Origin: law.

    g, R and the standard pressure are scipy.constants'; 287.05287 J/(kg K) is the gas constant of dry air.
    """

    def fall(altitude: float, pressure: np.ndarray) -> np.ndarray:
        return -pressure * constants.g / (287.05287 * (288.15 - 0.0065 * altitude))

    heights = np.array([400.0, 1600.0, 4200.0])
    run = solve_ivp(fall, (0, 5000), [constants.atm], t_eval=heights, rtol=1e-10, atol=1e-6)
    assert ambient_pressure(heights) == pytest.approx(run.y[0], rel=1e-6)


def test_full_vacuum_on_a_square_inch() -> None:
    """scipy.constants: one atmosphere is 14.696 pounds per square inch. Origin: library."""
    force = vacuum_force(ambient_pressure(0.0), constants.inch**2, 1.0)
    assert force / constants.lbf == pytest.approx(constants.atm / constants.psi, rel=1e-12)


def test_column_of_water_a_vacuum_holds() -> None:
    """A tenth of a bar holds the weight of 10.2 kg on each square decimetre. Origin: library, constants."""
    mass = vacuum_force(0.1 * constants.bar, 1e-2, 1.0) / constants.g
    assert required_vacuum(mass * constants.g, 0.0, 1.0, 0.5, 1e-2, 1.0) == pytest.approx(0.1 * constants.bar)
    assert mass == pytest.approx(10.2, abs=0.005)


def test_a_pump_gives_less_on_a_mountain() -> None:
    """The share of the sea-level force left at 2000 m is that of the pressures. Origin: recomputed, as above."""
    area, share = 20e-4, 0.8
    forces = vacuum_force(0.6 * ambient_pressure(np.array([0.0, 2000.0])), area, share)
    assert forces[1] / forces[0] == pytest.approx(79495.22 / 101325.0, rel=1e-6)
