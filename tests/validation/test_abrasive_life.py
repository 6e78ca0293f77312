"""Dulling, change intervals and roughness against integration of the rates they follow from.

Sources
-------
BioResources 11(2) 2016, 5242-5254: rate of sanding belts falls as a + b exp(-c t); ISO 6344-2 and
ISO 6344-3: median grain sizes; Materials 2020, 13, PMC7014115, table 1: preparation of metallographic
specimens. Unless a check says otherwise its origin is: library, scipy.
"""

from __future__ import annotations

import numpy as np
import pytest
from scipy.integrate import quad, solve_ivp
from scipy.optimize import brentq

from finishplan.physics import (
    change_interval,
    change_volume,
    compensating_feed,
    compensating_force,
    decaying_rate,
    decaying_rate_interval,
    decaying_rate_volume,
    grain_size_ratio,
    removal_for_roughness,
    roughness_after_removal,
    volume_over_time,
    worn_coefficient_over_time,
)

MM3 = 1e-9
UM = 1e-6
WORK = [
    pytest.param(0.03 * MM3, 40.0, 20.0, 5000 * MM3, id="steel under a belt"),
    pytest.param(0.79 * MM3, 20.0, 8.0, 60_000 * MM3, id="primer under a disc"),
]
BELTS = [
    pytest.param(8 * MM3, 16 * MM3, 1 / 3600, id="two thirds lost"),
    pytest.param(1 * MM3, 5 * MM3, 1 / 600, id="most lost, fast"),
]


@pytest.mark.parametrize(("initial", "force", "speed", "life"), WORK)
def test_volume_removed_by_a_dulling_abrasive(initial: float, force: float, speed: float, life: float) -> None:
    """dV/dt = K_0 F v exp(-V/V_0), step by step, and what is left of the rate at the end."""
    until = 3 * life / (initial * force * speed)
    run = solve_ivp(
        lambda _, share: initial * force * speed / life * np.exp(-share), (0, until), [0.0], rtol=1e-10, atol=1e-12
    )
    # tolerance of the integration
    assert volume_over_time(initial, force, speed, until, life) == pytest.approx(run.y[0, -1] * life, rel=1e-8)
    left = initial * np.exp(-run.y[0, -1])
    assert worn_coefficient_over_time(initial, force, speed, until, life) == pytest.approx(left, rel=1e-8)


@pytest.mark.parametrize("fraction", [0.8, 0.5, 0.3])
@pytest.mark.parametrize(("initial", "force", "speed", "life"), WORK)
def test_change_at_a_fraction_of_the_rate(
    initial: float, force: float, speed: float, life: float, fraction: float
) -> None:
    """The moment the integrated rate crosses the fraction."""
    pace = initial * force * speed / life

    def at_fraction(_: float, share: np.ndarray) -> float:
        return float(np.exp(-share[0]) - fraction)

    run = solve_ivp(
        lambda _, share: pace * np.exp(-share), (0, 5 / pace), [0.0], events=at_fraction, rtol=1e-10, atol=1e-12
    )
    # tolerance of the integration
    assert change_interval(initial, force, speed, life, fraction) == pytest.approx(run.t_events[0][0], rel=1e-6)
    assert change_volume(life, fraction) == pytest.approx(run.y_events[0][0, 0] * life, rel=1e-6)


@pytest.mark.parametrize(("initial", "force", "speed", "life"), WORK)
def test_schedules_keep_the_removal_constant(initial: float, force: float, speed: float, life: float) -> None:
    """Under the scheduled force the abrasive removes evenly in time; at the scheduled feed, evenly along the path."""
    pace = initial * force * speed / life

    def under_force(_: float, share: np.ndarray) -> np.ndarray:
        return pace * np.exp(-share) * compensating_force(1.0, share * life, life)

    def at_feed(_: float, share: np.ndarray) -> np.ndarray:
        return pace * np.exp(-share) / compensating_feed(1.0, share * life, life)

    end = 1.5 / pace
    for law in (under_force, at_feed):
        run = solve_ivp(law, (0, end), [0.0], rtol=1e-10, atol=1e-12)
        # tolerance of the integration
        assert run.y[0, -1] == pytest.approx(1.5, rel=1e-8)


@pytest.mark.parametrize(("steady", "extra", "decay"), BELTS)
def test_volume_of_a_decaying_rate(steady: float, extra: float, decay: float) -> None:
    """The rate of the belts' published form, integrated over a shift of 480 minutes."""
    # rates in mm3/s keep the quadrature clear of its absolute tolerance
    total, _ = quad(lambda t: decaying_rate(steady, extra, decay, t) / MM3, 0, 480 * 60, limit=200)
    # accuracy of the quadrature
    assert decaying_rate_volume(steady, extra, decay, 480 * 60) / MM3 == pytest.approx(total, rel=1e-8)


@pytest.mark.parametrize(("steady", "extra", "decay"), BELTS)
def test_change_of_a_belt_at_half_its_rate(steady: float, extra: float, decay: float) -> None:
    """Where the rate of the belts' published form comes to half of its start, by search."""
    half = (steady + extra) / 2
    moment = brentq(lambda t: (steady + extra * np.exp(-decay * t) - half) / MM3, 0, 10 / decay, xtol=1e-10)
    # tolerance of the search
    assert decaying_rate_interval(steady, extra, decay) == pytest.approx(moment, rel=1e-10)


@pytest.mark.parametrize(("before", "floor", "decay"), [(3.0, 0.8, 6.0), (0.4, 1.2, 2.0)])
def test_roughness_on_its_way_to_the_floor(before: float, floor: float, decay: float) -> None:
    """dRa/dh = -(Ra - floor)/h_0, step by step over twice the decay depth."""
    run = solve_ivp(lambda _, ra: -(ra - floor) / decay, (0, 2 * decay), [before], rtol=1e-10, atol=1e-12)
    found = roughness_after_removal(before * UM, floor * UM, 2 * decay * UM, decay * UM)
    # tolerance of the integration
    assert found / UM == pytest.approx(run.y[0, -1], rel=1e-8)


@pytest.mark.parametrize("wanted", [2.0, 1.0])
def test_removal_for_a_roughness(wanted: float) -> None:
    """The depth at which the integrated roughness crosses the one wanted."""

    def reached(_: float, ra: np.ndarray) -> float:
        return float(ra[0] - wanted)

    run = solve_ivp(lambda _, ra: -(ra - 0.8) / 6.0, (0, 60), [3.0], events=reached, rtol=1e-10, atol=1e-12)
    found = removal_for_roughness(3 * UM, 0.8 * UM, wanted * UM, 6 * UM)
    # tolerance of the integration
    assert found / UM == pytest.approx(run.t_events[0][0], rel=1e-6)


@pytest.mark.parametrize(
    ("coarse", "fine", "step"),
    [pytest.param(82.0, 46.2, 1.77, id="P180 to P320"), pytest.param(46.2, 25.8, 1.79, id="P320 to P600")],
)
def test_steps_of_a_metallographic_sequence(coarse: float, fine: float, step: float) -> None:
    """P180, P320, P600 as in the paper's table 1, grain sizes of ISO 6344. Origin: recomputed by a second party."""
    # three digits given
    assert grain_size_ratio(coarse * UM, fine * UM) == pytest.approx(step, abs=0.006)
