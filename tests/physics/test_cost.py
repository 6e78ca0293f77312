"""Cost of a part, by what it is made of, and payback of the cell."""

from __future__ import annotations

import re
from collections.abc import Callable

import numpy as np
import pytest

from finishplan.physics import (
    abrasive_cost,
    cost_rate,
    energy_cost,
    energy_per_part,
    labour_cost,
    machine_cost,
    machine_rate,
    part_cost,
    part_rate,
    payback_time,
    tool_cost,
)

HOUR = 3600.0
YEAR = 8760 * HOUR


def test_machine_rate_from_investment_and_running_cost() -> None:
    # 87 600 over 5 years is 2 per hour; 8760 a year is 1 per hour; a quarter of the time in use
    assert machine_rate(87_600.0, 5 * YEAR, 0.25, 8760 / YEAR) * HOUR == pytest.approx(12.0, rel=1e-12)


def test_pieces_of_the_cost() -> None:
    assert machine_cost(90.0, 40 / HOUR) == pytest.approx(1.0, rel=1e-14)
    assert labour_cost(90.0, 0.2, 50 / HOUR) == pytest.approx(0.25, rel=1e-14)
    assert tool_cost(30.0, 60.0, 2 * HOUR) == pytest.approx(0.25, rel=1e-14)
    assert tool_cost(30.0, 60.0, 2 * HOUR, 360.0, 60 / HOUR) == pytest.approx(0.30, rel=1e-14)
    assert abrasive_cost(2.0, 20.0) == pytest.approx(0.1, rel=1e-14)
    assert abrasive_cost(2.0, 20.0, 60.0, 60 / HOUR) == pytest.approx(0.15, rel=1e-14)
    assert energy_cost(3.6e6, 0.25 / 3.6e6) == pytest.approx(0.25, rel=1e-14)


def test_energy_of_base_load_and_cut() -> None:
    assert energy_per_part(500.0, 90.0, 300.0, 60.0) == pytest.approx(63_000.0, rel=1e-15)
    assert energy_per_part(500.0, 90.0, 300.0, 60.0, 0.6) == pytest.approx(75_000.0, rel=1e-15)


def test_cost_is_the_sum_of_its_pieces() -> None:
    assert part_cost(1.0, 0.25, 0.3, 0.15, 0.05) == pytest.approx(1.75, rel=1e-15)
    assert part_cost(np.array([1.0, 2.0])) == pytest.approx([1.0, 2.0])


def test_output_and_what_it_costs_in_a_year() -> None:
    rate = part_rate(0.25, 90.0)
    assert rate * YEAR == pytest.approx(8760 * 10, rel=1e-14)
    assert cost_rate(2.5, rate) * YEAR == pytest.approx(219_000, rel=1e-14)


def test_payback() -> None:
    times = payback_time(100_000.0, np.array([60_000, 30_000, 10_000]) / YEAR, 10_000 / YEAR) / YEAR
    assert times == pytest.approx([2.0, 5.0, np.inf], rel=1e-12)


@pytest.mark.parametrize(
    ("call", "message"),
    [
        (
            lambda: machine_rate(1e5, YEAR, 0.0),
            "machine_rate: utilisation must be between 1e-06 and 1 [1], given 0",
        ),
        (lambda: tool_cost(1.0, 1.0, 0.0), "tool_cost: life must be at least 1e-12 [s], given 0"),
        (lambda: abrasive_cost(1.0, 0.0), "abrasive_cost: parts must be at least 1e-12 [1], given 0"),
        (lambda: part_cost(1.0, labour=-1.0), "part_cost: labour must be at least 0 [1], given -1"),
        (lambda: payback_time(0.0, 1.0), "payback_time: investment must be at least 1e-12 [1], given 0"),
    ],
)
def test_refuses_what_has_no_meaning(call: Callable[[], object], message: str) -> None:
    with pytest.raises(ValueError, match=f"^{re.escape(message)}$"):
        call()
