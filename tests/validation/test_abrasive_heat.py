"""Temperature under an abrasive tool against other solutions of the heat equation, and against Joule.

Sources
-------
Carslaw and Jaeger, Conduction of Heat in Solids, 2nd ed. 1959, sections 10.2 and 10.7; Joule, Phil.
Trans. R. Soc. 140 (1850) 61-82.
"""

from __future__ import annotations

import numpy as np
import pytest
from scipy.integrate import quad, solve_ivp
from scipy.optimize import minimize_scalar
from scipy.special import erf, k0

from finishplan.physics import (
    bulk_temperature_rise,
    flux_temperature_rise,
    jaeger_band_temperature_rise,
)

STEEL = (50.0, 50.0 / (7850 * 480))
FLUX, LENGTH = 5e6, 5e-3
FOOT_POUND = 1.3558179483314004
POUND = 0.45359237


@pytest.mark.parametrize(
    ("flux", "time", "conductivity", "spread"),
    [
        pytest.param(1e6, 0.1, 50.0, 1.4e-5, id="steel"),
        pytest.param(1e6, 0.1, 7.0, 2.9e-6, id="titanium"),
        pytest.param(2e4, 1.0, 0.2, 1.1e-7, id="coating"),
        pytest.param(2e4, 0.5, 0.17, 1.5e-7, id="wood"),
    ],
)
def test_surface_under_a_flux(flux: float, time: float, conductivity: float, spread: float) -> None:
    """The heat equation on 800 layers, six diffusion lengths deep. Origin: library, scipy.integrate.solve_ivp."""
    layers = 800
    thick = 6 * np.sqrt(spread * time) / layers

    def warming(_: float, rise: np.ndarray) -> np.ndarray:
        inflow = np.concatenate(([flux], conductivity * (rise[:-1] - rise[1:]) / thick, [0.0]))
        return -np.diff(inflow) * spread / (conductivity * thick)

    run = solve_ivp(
        warming, (0, time), np.zeros(layers), method="LSODA", rtol=1e-7, atol=1e-6, lband=1, uband=1, t_eval=[time]
    )
    surface = run.y[0, -1] + flux * thick / 2 / conductivity
    # second order in the layers' thickness, 1/130 of a diffusion length
    assert flux_temperature_rise(flux, time, conductivity, spread) == pytest.approx(surface, rel=1e-3)


def feed_at(peclet: float) -> float:
    return 4 * STEEL[1] * peclet / LENGTH


class TestMovingBand:
    @pytest.mark.parametrize("peclet", [0.05, 0.5, 2.0, 10.0, 50.0])
    def test_jaegers_integral(self, peclet: float) -> None:
        """Carslaw and Jaeger, 10.7: the integral of exp(-u) K0(|u|), by quadrature, at its warmest place.
        Origin: library, scipy."""
        feed = feed_at(peclet)

        def rise(place: float) -> float:
            total, _ = quad(lambda u: np.exp(-u) * k0(abs(u)), place - peclet, place + peclet, points=[0.0], limit=200)
            return 2 * FLUX * STEEL[1] / (np.pi * STEEL[0] * feed) * total

        warmest = minimize_scalar(lambda place: -rise(place), bounds=(-peclet, 0))
        # accuracy of the quadrature at its logarithmic point
        assert jaeger_band_temperature_rise(FLUX, LENGTH, feed, *STEEL) == pytest.approx(-warmest.fun, rel=1e-5)

    @pytest.mark.parametrize("peclet", [0.1, 1.0, 5.0, 20.0])
    def test_sources_released_one_after_another(self, peclet: float) -> None:
        """Carslaw and Jaeger, 10.2: bands of heat released at each past moment, where the band was then,
        have spread since; their sum over all time, at its warmest place. Origin: library, scipy."""
        feed = feed_at(peclet)
        conductivity, spread = STEEL

        def rise(place: float) -> float:
            def still_felt(root: float) -> float:
                reach = 2 * np.sqrt(spread) * root
                ahead = (place + feed * root**2 + LENGTH / 2) / reach
                behind = (place + feed * root**2 - LENGTH / 2) / reach
                return float(erf(ahead) - erf(behind))

            last = np.sqrt(LENGTH / feed * (2 + 40 / peclet))
            total, _ = quad(still_felt, 1e-9, last, limit=400)
            return FLUX / conductivity * np.sqrt(spread / np.pi) * total

        warmest = minimize_scalar(lambda place: -rise(place), bounds=(-LENGTH / 2, 0), options={"xatol": 1e-9})
        # the oldest sources are cut off, where exp(-20) of them is left
        assert jaeger_band_temperature_rise(FLUX, LENGTH, feed, *STEEL) == pytest.approx(-warmest.fun, rel=1e-4)


def test_joules_paddle_wheel() -> None:
    """Joule 1850: 772 foot-pounds of friction warm a pound of water by one degree Fahrenheit. Origin: printed."""
    seconds = 60.0
    rise = bulk_temperature_rise(1.0, 772 * FOOT_POUND / seconds, seconds, POUND, 4185.5)
    # Joule's equivalent is 0.8 % below that of today
    assert rise == pytest.approx(5 / 9, rel=0.01)
