"""Cost of a part against worked examples of textbooks and against cash flows.

Sources
-------
Ghosh and Mallik, Manufacturing Science, chapter 4; P. C. Sharma, A Textbook of Production
Engineering. Origin: recomputed by a second party from the book's inputs; the printed figure was not
seen.
"""

from __future__ import annotations

import numpy as np
import pytest
from scipy.optimize import brentq, minimize_scalar

from finishplan.physics import (
    energy_per_part,
    machine_cost,
    machine_rate,
    part_cost,
    payback_time,
    tool_cost,
    tool_life,
)

MINUTE = 60.0
HOUR = 3600.0
YEAR = 365 * 24 * HOUR
M_PER_MIN = 1 / 60


@pytest.mark.parametrize(
    ("price", "wanted"),
    [
        pytest.param(2.50, 27.42, id="problem 4.26, least cost"),
        pytest.param(0.0, 47.92, id="problem 4.28, highest output: only time counts"),
    ],
)
def test_speed_of_least_cost(price: float, wanted: float) -> None:
    """Ghosh and Mallik: C 75, n 0.25, 0.15 $/min, a change takes 2 min and a tool of 2.50 $.

    The cost of the part is minimised by scipy over the speed; the length of the cut is of no account.
    """
    rate = 0.15 / MINUTE

    def cost(speed: float) -> float:
        cutting = 100.0 / (speed * M_PER_MIN)
        life = tool_life(speed * M_PER_MIN, 75 * M_PER_MIN, 0.25, reference_life=MINUTE)
        return float(part_cost(machine_cost(cutting, rate), tool=tool_cost(price, cutting, life, 2 * MINUTE, rate)))

    best = minimize_scalar(cost, bounds=(5, 100), method="bounded", options={"xatol": 1e-6})
    # given with two decimals
    assert best.x == pytest.approx(wanted, abs=0.005)


def test_energy_of_a_milled_slab() -> None:
    """Sharma, example 15.2, p. 603: 300 x 100 x 3.2 mm at 6 W s/mm3, 16 kW, 500 mm/min."""
    cutting = 300 / 500 * MINUTE
    work = 6 * 300 * 100 * 3.2
    assert energy_per_part(0.0, 37.5, 16_000.0, cutting) == pytest.approx(work, rel=1e-9)


def test_idle_energy_of_the_same_slab() -> None:
    """Sharma, example 15.2: 37.5 s per stroke; the drive at efficiency 0.6 and 1 kW of base load come on top.

    Origin: library, numpy.trapezoid over the power drawn through the cycle.
    """
    times = np.linspace(0, 37.5, 37_501)
    drawn = 1_000 + np.where(times < 36, 16_000 / 0.6, 0.0)
    # one step of the integration
    assert energy_per_part(1_000.0, 37.5, 16_000.0, 36.0, 0.6) == pytest.approx(np.trapezoid(drawn, times), rel=1e-4)


@pytest.mark.parametrize(
    ("investment", "saving", "running"),
    [
        # a robot for two workers of 2080 h a year at 20 an hour; invented figures
        pytest.param(100_000.0, 2 * 2080 * 20.0, 20_000.0, id="robot for two workers"),
        pytest.param(250_000.0, 90_000.0, 12_500.0, id="larger cell"),
    ],
)
def test_payback_where_the_cash_flow_crosses_zero(investment: float, saving: float, running: float) -> None:
    """Cash summed day by day, its zero by scipy.optimize.brentq. Origin: library."""
    days = np.arange(0, 20 * 365 + 1)
    cash = np.concatenate(([-investment], -investment + np.cumsum(np.full(days.size - 1, (saving - running) / 365))))
    crossing = brentq(lambda day: np.interp(day, days, cash), 0, days[-1])
    assert payback_time(investment, saving / YEAR, running / YEAR) / YEAR == pytest.approx(crossing / 365, rel=1e-9)


def test_machine_rate_earns_the_cell_back_over_its_hours() -> None:
    """The rate times all hours in use pays depreciation and running costs to the last cent. Origin: law."""
    years, shift_hours = 8, 2 * 7.5 * 250
    utilisation = shift_hours / (YEAR / HOUR)
    rate = machine_rate(320_000.0, years * YEAR, utilisation, 24_000.0 / YEAR)
    income = sum(rate * shift_hours * HOUR for _ in range(years))
    assert income == pytest.approx(320_000 + years * 24_000, rel=1e-9)
